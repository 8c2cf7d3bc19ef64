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
