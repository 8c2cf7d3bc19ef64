//! Outlines of lines and true arcs in a plane; frames and half-spaces in space.
//!
//! May import: `units`, `finding`.

pub mod contour;
pub mod frame;

pub use contour::{Contour, Region, Vertex};
pub use frame::{Frame, HalfSpace, Slab};
pub use glam::{DVec2, DVec3};
