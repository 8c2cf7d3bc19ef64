//! Prototype: the same holder re-made in foam board or cardboard for a knife.
//!
//! A request becomes another request: its sheets become board of its own thickness that *stands for*
//! them, so outer sizes, pitches and patterns stay; the knife takes nothing away; slots are squeezed.
//! Rules about the strength and weight of wood say nothing about board, and are softened with the reason.
//!
//! May import: every room above.

mod cells;
mod note;
mod soften;
mod spec;
mod twin;

pub use cells::part_of;
pub use note::{CellNote, Note, OutsideNote, note};
pub use soften::{Softened, soften};
pub use spec::{BoardSpec, CellsSpec, DESIGN_AT, PrototypeSpec};
pub use twin::{place_in, twin};

#[cfg(test)]
mod tests;
