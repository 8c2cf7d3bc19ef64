//! What a solid needs cut away in a slab so that it can pass: every slot and every opening is one.
//! Slots (a slab through a slab) stand in [`slab`]; openings (a body of revolution or a prism) in
//! [`body`].
//!
//! May import: `units`, `finding`, `geom`.

pub mod body;
pub mod slab;

pub use body::{Body, opening};
