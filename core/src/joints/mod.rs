//! Joints between two slabs at any angle; one file a joint.
//!
//! A joint says, along the line common to both slabs, who owns which stretch (cells), and what the
//! other one gives up there. It never sees a panel's name, family or purpose.
//!
//! May import: `units`, `finding`, `geom`, `shadow`.

mod blank;
pub mod cells;
mod ends;
pub mod finger;
pub mod hook;
pub mod lap;
pub mod section;
pub mod tab;

pub use blank::Blank;
pub use cells::{Cell, Cuts};
pub use ends::Ends;
pub use section::{Rect, Section, Side};

/// Sheets are up to a tenth thicker than their label says (common practice, no source).
const THICKER: f64 = 1.1;

/// The thickness by which webs and shortest fingers are reckoned, mm: the true one. What is thicker than
/// any sheet of its label is board of a prototype: it keeps the patterns of the sheets that it stands for.
#[must_use]
pub fn proportion(thickness_mm: f64, label_mm: f64) -> f64 {
    if thickness_mm > THICKER * label_mm { label_mm } else { thickness_mm }
}
