//! Recut: single parts of an old package, cut again so that they fit their old neighbours.
//!
//! Everything is read from the package's own files and never made anew, so an old package stays valid.
//! Without readings a part's file is sent as it is, byte for byte. With readings of today's sheet the
//! finished outline stays (fingers and tongues follow the neighbours' slots, own slots the neighbours'
//! thickness), only the kerf comes from the new sheet; the part is put between its old neighbours as a
//! solid, each fit is measured there, and a sheet that is too thin or too thick is refused with its numbers.
//!
//! May import: every room above.

mod judged;
mod report;
mod seat;
mod slots;
mod spec;
mod ticket;

pub use report::{JointLine, PartLine, Recut, SheetLine};
pub use spec::RecutSpec;
pub use ticket::{Answer, recut};

#[cfg(test)]
mod tests;
