//! The chance that joints close as asked, from how thickness and kerf scatter.
//!
//! A slot is drawn for the thickness and kerf that are expected; the next ones differ. How much is
//! known from readings (Student's t), or given, or usual in the trade, and then said so. Every place where
//! something enters something is one clearance: its fit, and a sum of deviations. For a whole holder the
//! truth lies between joints that are independent (the product) and joints that all move together (the
//! least).
//!
//! May import: `statistics`, `material`, `joints`, `assembly`, `job`, `finish`.

mod again;
mod clearance;
mod holder;
#[cfg(test)]
mod tests;

pub use again::Again;
pub use holder::{HolderChance, JointChance, of};
