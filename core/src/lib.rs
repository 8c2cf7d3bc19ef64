//! Holders as solids in space, from measures to cut-ready outlines.
//!
//! The rooms below stand in the order in which data flows; a room imports only rooms above it.
//! Nothing here knows a network, a file, a clock, or randomness without a seed: the same spec gives
//! the same bytes on any machine. Lengths are millimetres, angles degrees at the seams and radians
//! inside a function, masses grams. `x` runs along the width, `y` from the front to the back, `z` up.

pub mod finding;
pub mod units;
pub mod statistics;
pub mod geom;
pub mod shadow;
pub mod things;
pub mod spaces;
pub mod material;
pub mod readings;
pub mod joints;
pub mod assembly;
pub mod families;
pub mod job;
pub mod arrange;
pub mod finish;
pub mod solid;
pub mod chance;
pub mod checks;
pub mod order;
pub mod prototype;
pub mod kerf;
pub mod marks;
pub mod nest;
pub mod route;
pub mod coupon;
pub mod made;
pub mod formats;
pub mod readback;
pub mod make;
pub mod changes;
pub mod recut;
