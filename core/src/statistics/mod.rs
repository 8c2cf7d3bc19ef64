//! What few readings say of the next one: normal and Student's t distributions, samples, predictions.
//!
//! All functions come from published formulae and from the `libm` crate, so that all machines agree.
//! Nothing here knows what a number measures.
//!
//! May import: nothing of this crate.

mod chance;
mod distribution;
mod prediction;
mod sample;
mod special;
#[cfg(test)]
mod tests;

pub use chance::{Term, chance_between};
pub use distribution::Distribution;
pub use prediction::Prediction;
pub use sample::Sample;
