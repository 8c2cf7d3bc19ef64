//! Readings of a stock (calipers, test strips, answers by feel) → a profile that goes into the next spec.
//!
//! Small samples are treated as such: Student's t, and what is said of the next joint is a prediction,
//! not the mean. Readings that contradict each other are refused with both numbers; old, few or
//! scattered ones are warned about. Nothing is kept: ages are the caller's.
//!
//! May import: `units`, `finding`, `statistics`, `material`.

mod combs;
mod doubts;
mod feel;
mod profile;
mod request;
mod strips;
mod take;
#[cfg(test)]
mod tests;

pub use feel::{Felt, LIMITS_MM, Shift};
pub use profile::{FeelRow, FitEstimate, Quantity, StockProfile};
pub use request::{Answer, CombReading, GrainWay, ReadingsRequest, SlotReading, StripReading};
pub use take::take;
