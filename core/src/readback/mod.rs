//! Reads a package back: outlines out of its cut files, the kerf burnt, the parts put together in space.
//!
//! The readers share no code with the writers: what is proven is what stands in the files, also when a file was
//! edited by hand or written by another version. [`read`] takes a package apart and refuses what cannot be
//! read; [`judge`] measures it and names each fault by part and joint, with how much.
//!
//! May import: every room above except `formats`, `families`, `finish`, `job` and `made`: it knows a package only by its files.

mod archive;
mod chain;
mod dxf;
mod fault;
mod limits;
mod line;
mod listed;
mod outline;
mod package;
mod svg;

pub use archive::{Files, open};
pub use limits::ReadLimits;
pub use line::Line;
pub use outline::{Outline, lines, of_file};
pub use package::{Package, ReadJoint, ReadPart, ReadSheet, ReadThing, burnt, of_files, read};

#[cfg(test)]
mod tests;
