//! Finished panels in space: do they clash, do they meet, how wide is what stays open.
//!
//! Everything here is measured on finished outlines; no joint's own formula is used again.
//!
//! May import: every room above; of `finish` only its results.

mod fit;
mod overlap;
mod strip;
mod thing;

pub use fit::{Contact, Kind, Meet, contacts};
pub use overlap::{Overlap, overlap};
pub use strip::Pair;
pub use thing::{SLIM_MM, Slim, swept, thing_in_panel, travel_mm};

use crate::geom::{DVec3, Region, Slab};

/// A finished panel as a solid: an outline between two faces.
#[derive(Clone, Copy, Debug)]
pub struct Plate<'a> {
    /// Where it stands, and its thickness.
    pub slab: &'a Slab,
    /// Its outline, in its own plane.
    pub region: &'a Region,
}

impl Plate<'_> {
    /// The box around the solid, in the frame in which the slab is given.
    #[must_use]
    pub fn bounds(&self) -> (DVec3, DVec3) {
        let (lo, hi) = self.region.bounds();
        let mut around = (DVec3::INFINITY, DVec3::NEG_INFINITY);
        for x in [lo.x, hi.x] {
            for y in [lo.y, hi.y] {
                for z in [0.0, self.slab.thickness] {
                    let p = self.slab.frame.out(DVec3::new(x, y, z));
                    around = (around.0.min(p), around.1.max(p));
                }
            }
        }
        around
    }
}
