//! What is wrong with a region: all of it, each fault with its place.
//!
//! The rules are those of OGC Simple Feature Access, part 1 (ISO 19125-1), clause 6.1.11.1, for a polygon:
//! rings are simple and closed, they do not cross and touch at points at most, holes lie inside the outer
//! ring, and the interior is one connected piece. Winding is ours (and that clause's): the outer boundary runs
//! counter-clockwise, holes run clockwise. The letters a to f are those of that clause's assertions; the rule
//! for simple curves (6.1.6.1) is cited from memory. Arcs follow the same rules as the lines of that standard.

mod meets;
mod rings;
#[cfg(test)]
mod tests;

use super::{Contour, DVec2, Region};
use core::fmt;

/// What is wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FaultKind {
    /// A ring encloses nothing: no corners, one, or two with straight edges between them.
    TooFewVertices,
    /// A coordinate or bulge is not a finite number.
    NotFinite,
    /// Two corners in a row are one point.
    ZeroLengthEdge,
    /// Two edges run along each other.
    DoubledEdge,
    /// A ring crosses itself.
    SelfCrosses,
    /// A ring touches itself at a point: it should be two rings.
    SelfTouches,
    /// The outer boundary runs clockwise, or a hole counter-clockwise.
    WrongWinding,
    /// A hole lies outside the outer boundary.
    HoleOutside,
    /// A hole crosses the outer boundary.
    HoleCrossesOuter,
    /// Two holes cross, or one lies in the other.
    HolesOverlap,
    /// Rings touch so often that the material falls apart.
    InteriorSplit,
}

/// One fault of a region.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fault {
    /// What is wrong.
    pub kind: FaultKind,
    /// Which ring: 0 the outer boundary, then the holes from 1.
    pub contour: usize,
    /// Which corner, or the corner whose edge.
    pub index: usize,
    /// Where, mm; not finite itself where a coordinate is not.
    pub at: DVec2,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let what = match self.kind {
            FaultKind::TooFewVertices => "encloses nothing (too few corners)",
            FaultKind::NotFinite => "has a number that is not finite",
            FaultKind::ZeroLengthEdge => "has an edge without length",
            FaultKind::DoubledEdge => "has an edge that runs along another",
            FaultKind::SelfCrosses => "crosses itself",
            FaultKind::SelfTouches => "touches itself",
            FaultKind::WrongWinding => "runs the wrong way round",
            FaultKind::HoleOutside => "lies outside the outer boundary",
            FaultKind::HoleCrossesOuter => "crosses the outer boundary",
            FaultKind::HolesOverlap => "overlaps another hole",
            FaultKind::InteriorSplit => "touches other rings so that the material falls apart",
        };
        match self.contour {
            0 => write!(f, "the outer boundary {what}")?,
            k => write!(f, "hole {k} {what}")?,
        }
        write!(f, " at corner {}, x {:.4} y {:.4} mm", self.index, self.at.x, self.at.y)
    }
}

/// Points nearer than this are one point: a hundredth of what the booleans snap, so that what they make is clean.
const SAME_POINT_MM: f64 = 1e-8;

/// All faults, sorted by ring, corner and kind; none means that the region can be cut. Rings with numbers that
/// are not finite, or too few corners, are not asked further.
#[must_use]
pub fn faults(region: &Region) -> Vec<Fault> {
    let rings: Vec<&Contour> = region.contours().collect();
    let mut found = Vec::new();
    let mut sound = Vec::new();
    for (k, ring) in rings.iter().enumerate() {
        let before = found.len();
        rings::corners(k, ring, &mut found);
        if found.len() == before {
            sound.push(k);
        }
        rings::zero_edges(k, ring, &mut found);
    }
    for &k in &sound {
        rings::winding(k, rings[k], &mut found);
    }
    let joins = meets::meets(&rings, &sound, &mut found);
    rings::nesting(&rings, &sound, &joins, &mut found);
    rings::connected(&rings, &joins, &mut found);
    let key = |f: &Fault| (f.contour, f.index, f.kind);
    found.sort_by_key(key);
    found.dedup_by(|a, b| key(a) == key(b));
    found
}
