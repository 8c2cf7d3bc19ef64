//! Holders as solids in space, from measures to cut-ready outlines.
//!
//! The rooms below stand in the order in which data flows; a room imports only rooms above it.
//! Nothing here knows a network, a file, a clock, or randomness without a seed: the same spec gives
//! the same bytes on any machine. Lengths are millimetres, angles degrees at the seams and radians
//! inside a function, masses grams. `x` runs along the width, `y` from the front to the back, `z` up.

pub mod arrange;
pub mod assembly;
pub mod checks;
pub mod families;
pub mod finding;
pub mod finish;
pub mod formats;
pub mod geom;
pub mod job;
pub mod joints;
pub mod kerf;
pub mod made;
pub mod make;
pub mod marks;
pub mod material;
pub mod nest;
pub mod route;
pub mod shadow;
pub mod solid;
pub mod spaces;
pub mod things;
pub mod units;
