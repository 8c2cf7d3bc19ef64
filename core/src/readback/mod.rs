//! Reads a package back: outlines out of its cut files, the kerf burnt, the parts put together in space.
//!
//! The readers share no code with the writers: what is proven is what stands in the files, also when a file was
//! edited by hand or written by another version. [`read`] takes a package apart and refuses what cannot be
//! read; [`judge`] measures it and names each fault by part and joint, with how much.
//!
//! May import: every room above except `formats`, `families`, `finish`, `job` and `made`: it knows a package only by its files.

mod archive;
mod blame;
mod chain;
mod collide;
mod dxf;
mod fault;
mod joints;
mod judge;
mod limits;
mod line;
mod listed;
mod openings;
mod outline;
mod package;
mod report;
mod svg;

pub use archive::{Files, open};
pub use collide::TOUCH_MM;
pub use joints::{Measure, OFF_MM, Place};
pub use judge::judge;
pub use limits::ReadLimits;
pub use line::Line;
pub use outline::{Outline, lines, of_file};
pub use package::{Package, ReadJoint, ReadPart, ReadSheet, ReadThing, burnt, of_files, read};
pub use report::{Gaps, JointMeasured, Report};

#[cfg(test)]
mod tests;
