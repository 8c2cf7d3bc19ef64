//! Own slots of a part of another thickness: what enters at an angle needs another width in it.
//!
//! A slot square to what enters is as wide as that is thick, whatever its own sheet; an oblique one is
//! the shadow of what enters through its own thickness: t/sinφ + T·cotφ.

use crate::assembly::Joint;
use crate::geom::{Contour, DVec2, DVec3, Region, Slab, subtract};
use crate::joints::{Cell, Section, Side};
use crate::readback::{Package, ReadJoint};
use crate::solid::{Pair, Plate};

/// Angles this near to a right one change no slot by a thousandth, for a sheet a millimetre off.
const SQUARE_COS: f64 = 1e-3;

/// The outline with its oblique slots made for the new slab, and how many those are.
#[must_use]
pub fn remade(package: &Package, part: usize, slab: &Slab) -> (Region, usize) {
    let mut outline = package.parts[part].finished.clone();
    let mut count = 0;
    for j in package.joints.iter().filter(|j| j.b == part && matches!(j.joint, Joint::Tab { .. })) {
        let one = Oblique { package, joint: j, slab };
        for cell in j.cells(&package.parts).iter().filter(|c| c.owner == Side::A) {
            if let Some(next) = one.slot(&outline, cell) {
                outline = next;
                count += 1;
            }
        }
    }
    (outline, count)
}

struct Oblique<'a> {
    package: &'a Package,
    joint: &'a ReadJoint,
    slab: &'a Slab,
}

impl Oblique<'_> {
    /// The outline with the slot of one tab made anew; `None` where it is square, open, or not there.
    fn slot(&self, outline: &Region, cell: &Cell) -> Option<Region> {
        let (enters, old) = (&self.package.parts[self.joint.a], &self.package.parts[self.joint.b].slab);
        if Section::between(&enters.slab, old)?.cos < SQUARE_COS {
            return None;
        }
        let before = shadow(enters.plate(), old, outline, cell)?;
        let after = shadow(enters.plate(), self.slab, outline, cell)?;
        // the slab of the section is the old one's: its face moved along the normal, and so does the shadow
        let f = &old.frame;
        let pair = Pair::of(enters.plate(), Plate { slab: old, region: outline })?;
        let (s, u) = ((cell.from + cell.to) / 2.0, (before.0 + before.1) / 2.0);
        let base = f.z * f.z.dot(f.origin);
        let own = |s: f64, u: f64| f.into_own(pair.x.e * s + pair.x.ub * u + base).truncate();
        let hole = outline.holes.iter().position(|h| h.contains(own(s, u)))?;
        let (s0, s1) = extent(&outline.holes[hole], f.x, f.y, pair.x.e, f.origin);
        let (u0, u1) = extent(&outline.holes[hole], f.x, f.y, pair.x.ub, f.origin);
        let (low, high) = (u0 + after.0 - before.0, u1 + after.1 - before.1);
        let corners: Vec<DVec2> = [(s0, low), (s1, low), (s1, high), (s0, high)].map(|(s, u)| own(s, u)).to_vec();
        let mut filled = outline.clone();
        filled.holes.remove(hole);
        let mut pieces = subtract(&filled, &[Contour::polygon(&corners)]);
        (pieces.len() == 1).then(|| pieces.remove(0))
    }
}

/// What of the entering part stands in a slab, seen along the slab's normal: from and to across the line.
fn shadow(enters: Plate, slab: &Slab, outline: &Region, cell: &Cell) -> Option<(f64, f64)> {
    let pair = Pair::of(enters, Plate { slab, region: outline })?;
    let shared = pair.x.crossing();
    pair.across(Side::A, (cell.from + cell.to) / 2.0)
        .into_iter()
        .map(|stretch| pair.within(&shared, Side::A, stretch))
        .filter(|piece| piece.len() >= 3)
        .map(|piece| pair.x.range(Side::B, &piece))
        .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))
}

/// From and to of a contour along a direction of the space.
fn extent(c: &Contour, x: DVec3, y: DVec3, along: DVec3, origin: DVec3) -> (f64, f64) {
    let ends = c.vertices.iter().map(|v| along.dot(origin + x * v.p.x + y * v.p.y));
    ends.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
}
