//! What changes: two specs in; which parts are cut anew, which stay, and the proof that both go together.
//!
//! A part stays when the old one, as it was cut, has the outline and the thickness that the new one asks for,
//! wherever it stands and whatever its code was. The old parts that stay are then put between the new ones
//! and read back, from the files of both packages.
//!
//! May import: every room above.

mod matching;
mod mix;
mod report;
mod same;
mod spec;

pub use report::{Changes, CutLine, LeftLine, StayLine};
pub use spec::{Answer, ChangesSpec, changes};

#[cfg(test)]
mod tests;
