//! Two slabs cut square to their common line: all that a joint needs to know of an angle.

use super::Blank;
use crate::geom::{Contour, DVec2, DVec3, Slab, clip_convex};

/// Which of the two slabs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The first slab.
    A,
    /// The second slab.
    B,
}

impl Side {
    /// The other slab.
    #[must_use]
    pub fn other(self) -> Self {
        match self {
            Self::A => Self::B,
            Self::B => Self::A,
        }
    }
}

/// The section through two slabs, square to the line `e` in which their planes cross.
///
/// Along the line, places are `s = e · p`; in each slab's own plane, square to the line, places are
/// `u · p`. Both are measured from the holder's zero, so they compare between slabs.
#[derive(Clone, Copy, Debug)]
pub struct Section {
    /// Unit vector along the common line: normal of A × normal of B.
    pub e: DVec3,
    /// Unit vector in A's plane, square to `e`.
    pub ua: DVec3,
    /// Unit vector in B's plane, square to `e`.
    pub ub: DVec3,
    /// Sine of the angle between the slabs, 0..1.
    pub sin: f64,
    /// Cosine of the angle between the slabs, taken as at most 90°: 0..1.
    pub cos: f64,
    a: Slab,
    b: Slab,
}

/// A rectangle square to the common line in one slab's plane: `s` along the line, `u` across it.
/// Ends may be infinite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// From and to along the line.
    pub s: (f64, f64),
    /// From and to across the line.
    pub u: (f64, f64),
}

/// Below this sine two slabs count as parallel: they have no common line to speak of.
const PARALLEL_SIN: f64 = 1e-6;

/// A third slab within 20° of the common line (sin 20°) makes cells longer than the panels.
const NEARLY_ALONG_SIN: f64 = 0.342;

impl Section {
    /// The section through two slabs; `None` when they are parallel.
    #[must_use]
    pub fn between(a: &Slab, b: &Slab) -> Option<Self> {
        let (na, nb) = (a.frame.z, b.frame.z);
        let cross = na.cross(nb);
        let sin = cross.length();
        if sin < PARALLEL_SIN {
            return None;
        }
        let e = cross / sin;
        Some(Self { e, ua: na.cross(e), ub: nb.cross(e), sin, cos: na.dot(nb).abs(), a: *a, b: *b })
    }

    /// The slab of a side.
    #[must_use]
    pub fn slab(&self, side: Side) -> &Slab {
        match side {
            Side::A => &self.a,
            Side::B => &self.b,
        }
    }

    /// The direction across the line in a side's plane.
    #[must_use]
    pub fn across(&self, side: Side) -> DVec3 {
        match side {
            Side::A => self.ua,
            Side::B => self.ub,
        }
    }

    /// +1 or −1: the way across the line, in a side's own plane, from `seed` to the other slab.
    #[must_use]
    pub fn toward(&self, side: Side, seed: DVec3) -> f64 {
        let (lo, hi) = self.range(side, &self.crossing());
        if (lo + hi) / 2.0 >= self.across(side).dot(seed) { 1.0 } else { -1.0 }
    }

    /// A point of the section plane as a 2D point: across and through slab A.
    #[must_use]
    pub fn flat(&self, p: DVec3) -> DVec2 {
        DVec2::new(self.ua.dot(p), self.a.frame.z.dot(p))
    }

    /// A direction square to `e` in the same 2D coordinates.
    #[must_use]
    pub fn flat_dir(&self, d: DVec3) -> DVec2 {
        DVec2::new(self.ua.dot(d), self.a.frame.z.dot(d))
    }

    /// The parallelogram that both slabs share, in the coordinates of [`Section::flat`].
    #[must_use]
    pub fn crossing(&self) -> Vec<DVec2> {
        let za = self.a.frame.z.dot(self.a.frame.origin);
        let zb = self.b.frame.z.dot(self.b.frame.origin);
        let nb = self.flat_dir(self.b.frame.z);
        // nb.x is ± sin: the slabs are not parallel, so each corner is one division
        let corner = |y: f64, level: f64| DVec2::new((level - nb.y * y) / nb.x, y);
        let (y0, y1) = (za, za + self.a.thickness);
        let (l0, l1) = (zb, zb + self.b.thickness);
        vec![corner(y0, l0), corner(y0, l1), corner(y1, l1), corner(y1, l0)]
    }

    /// From and to along the line of the stretch in which a third slab crosses the shared
    /// parallelogram; `None` when it runs too nearly along the line.
    #[must_use]
    pub fn third(&self, slab: &Slab) -> Option<(f64, f64)> {
        let n = slab.frame.z;
        let along = n.dot(self.e);
        if along.abs() < NEARLY_ALONG_SIN {
            return None;
        }
        let base = n.dot(slab.frame.origin);
        let places = self.crossing().into_iter().flat_map(|p| {
            let here = n.dot(self.ua * p.x + self.a.frame.z * p.y);
            [(base - here) / along, (base + slab.thickness - here) / along]
        });
        Some(places.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), s| (lo.min(s), hi.max(s))))
    }

    /// What is left of a piece of the section once `side`'s slab ends at `reach` across the line,
    /// going the way of `sign`.
    #[must_use]
    pub fn ended(&self, piece: &[DVec2], side: Side, sign: f64, reach: f64) -> Vec<DVec2> {
        let n = self.flat_dir(self.across(side)) * sign;
        clip_convex(piece, n, reach * sign)
    }

    /// From and to, across the line in a side's own plane, of a piece of the section.
    #[must_use]
    pub fn range(&self, side: Side, piece: &[DVec2]) -> (f64, f64) {
        let n = self.flat_dir(self.across(side));
        piece.iter().map(|p| n.dot(*p)).fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), v| (lo.min(v), hi.max(v)))
    }

    /// The near edge of the other slab in a side's own plane: where a square-cut edge coming from
    /// `seed`'s side first touches it; with the way there (±1).
    #[must_use]
    pub fn near(&self, side: Side, seed: DVec3) -> (f64, f64) {
        let (lo, hi) = self.range(side, &self.crossing());
        let sign = self.toward(side, seed);
        (if sign > 0.0 { lo } else { hi }, sign)
    }

    /// A rectangle as a contour in a side's own plane. Infinite ends are cut off `margin` outside
    /// the blank, so that no two cuts share an edge out there.
    #[must_use]
    pub fn rect_on(&self, side: Side, blank: &Blank, rect: &Rect, margin: f64) -> Contour {
        let (e, u) = (self.e, self.across(side));
        let f = &self.slab(side).frame;
        let (s_all, u_all) = (blank.reach(e), blank.reach(u));
        let bounded = |v: (f64, f64), all: (f64, f64)| (v.0.max(all.0 - margin), v.1.min(all.1 + margin));
        let (s, w) = (bounded(rect.s, s_all), bounded(rect.u, u_all));
        let at = |s: f64, w: f64| {
            // e and u lie in the plane, so the own z falls out
            let p = e * s + u * w - f.origin;
            DVec2::new(f.x.dot(p), f.y.dot(p))
        };
        Contour::polygon(&[at(s.0, w.0), at(s.1, w.0), at(s.1, w.1), at(s.0, w.1)])
    }
}
