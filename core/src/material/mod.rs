//! Stock (readings, sheets, strength, dangers), cutter (bed, kerf, feeds) and fits.
//!
//! May import: `units`, `finding`, `statistics`. Knows no files: the data of `shared/` is compiled in.

mod batch;
mod cautions;
mod cutter;
mod cutter_spec;
mod data;
mod fit;
mod fits;
mod identify;
mod kerf;
mod never;
mod profile;
mod received;
mod sheet;
mod sheet_spec;
mod spec;
mod spread;
mod stock;
mod supply;
mod thickness;

pub use batch::{ALIKE_MM, Batch};
pub use cautions::cautions;
pub use cutter::{Cutter, Feed};
pub use cutter_spec::{CutterOwn, CutterSpec, ProcessWord, USUAL_CUTTER};
pub use data::{CUTTERS, Catalogue, MATERIALS, NEVER, catalogue};
pub use fit::{FIT_ROW, Feel, FitSpec, FitsSpec, Role};
pub use fits::{FitRule, Fits, closes};
pub use kerf::kerf_from_strip;
pub use never::forbidden;
pub use profile::{Grain, Kerf, Known, Permit, Process, Profile, Span, Thickness, Treatment};
pub use received::{Caution, Forbidden, When};
pub use sheet_spec::{GrainWord, KeepOutSpec, SheetSpec};
pub use spec::{KerfApplied, StandsFor, StockSpec, StripSpec};
pub use spread::{Spread, SpreadFrom, USUAL_KERF_SD_MM};
pub use stock::Stock;
pub use supply::Supply;

#[cfg(test)]
mod tests;
