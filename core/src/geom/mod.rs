//! Outlines of lines and true arcs in a plane; frames and half-spaces in space.
//!
//! May import: `units`, `finding`.

pub mod arcs;
pub mod boolean;
pub mod clean;
pub mod contour;
pub mod convex;
pub mod distance;
pub mod frame;
mod measure;
mod meet;
pub mod offset;
mod pairs;
pub mod segment;
#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;
pub mod valid;

pub use arcs::{CORNER_DEG, fit_closed};
pub use boolean::{SLIVER_MM2, intersect, subtract, unite, unite_regions};
pub use clean::clean;
pub use contour::{Contour, Region, Vertex};
pub use convex::{clip_convex, hull};
pub use distance::{between, narrowest_neck, to_boundary};
pub use frame::{Frame, HalfSpace, Slab};
pub use glam::{DVec2, DVec3};
pub use offset::{OffsetError, OffsetFault, grow};
pub use segment::{Arc, Segment};
pub use valid::{Fault, FaultKind, faults};
