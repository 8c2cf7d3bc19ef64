//! Two plates cut square to their common line: the material of each at one place along it.

use super::Plate;
use crate::geom::{DVec2, Region};
use crate::joints::{Section, Side};

/// Both plates in the coordinates of their common line.
pub struct Pair {
    /// The section through both slabs.
    pub x: Section,
    /// A's outline: own x along the line, own y across it.
    a: Region,
    /// B's outline likewise.
    b: Region,
}

impl Pair {
    /// `None` when the plates are parallel.
    pub fn of(a: Plate, b: Plate) -> Option<Self> {
        let x = Section::between(a.slab, b.slab)?;
        let lay = |p: Plate, side: Side| {
            let f = &p.slab.frame;
            let u = x.across(side);
            // a rigid turn within the plane, since e × u is the slab's own normal
            let along = |d: crate::geom::DVec3| DVec2::new(x.e.dot(d), u.dot(d));
            p.region.mapped(along(f.origin), along(f.x), along(f.y))
        };
        Some(Self { a: lay(a, Side::A), b: lay(b, Side::B), x })
    }

    /// The outline of a side: x along the line, y across it.
    pub fn laid(&self, side: Side) -> &Region {
        match side {
            Side::A => &self.a,
            Side::B => &self.b,
        }
    }

    /// The material of a side across the line, at place `s`.
    pub fn across(&self, side: Side, s: f64) -> Vec<(f64, f64)> {
        self.laid(side).intervals(DVec2::new(s, 0.0), DVec2::Y)
    }

    /// The material of a side along the line, at `u` across it.
    pub fn along(&self, side: Side, u: f64) -> Vec<(f64, f64)> {
        self.laid(side).intervals(DVec2::new(0.0, u), DVec2::X)
    }

    /// The shared parallelogram, cut down to one stretch of a side's material.
    pub fn within(&self, piece: &[DVec2], side: Side, stretch: (f64, f64)) -> Vec<DVec2> {
        let upper = self.x.ended(piece, side, 1.0, stretch.1);
        self.x.ended(&upper, side, -1.0, stretch.0)
    }
}

/// Area of a convex polygon, by the shoelace rule; positive whichever way it runs.
pub fn area(poly: &[DVec2]) -> f64 {
    let twice: f64 = (0..poly.len()).map(|i| poly[i].perp_dot(poly[(i + 1) % poly.len()])).sum();
    (twice / 2.0).abs()
}

/// Smallest width of a convex polygon: it is reached square to one of its edges. 0 for a point.
pub fn width(poly: &[DVec2]) -> f64 {
    let least = (0..poly.len())
        .filter_map(|i| {
            let n = (poly[(i + 1) % poly.len()] - poly[i]).perp().try_normalize()?;
            let (lo, hi) = poly
                .iter()
                .map(|p| n.dot(*p))
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
            Some(hi - lo)
        })
        .fold(f64::INFINITY, f64::min);
    if least.is_finite() { least } else { 0.0 }
}
