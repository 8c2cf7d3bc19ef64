//! Seeded shapes for tests, and the ways in which each case is told differently without changing it.

use super::meet::carrier_points;
use super::{Contour, DVec2, Region, Segment, Vertex};

/// splitmix64 (Steele, Lea, Flood, OOPSLA 2014).
pub(crate) struct Seeded(u64);

impl Seeded {
    pub(crate) fn new(seed: u64) -> Self {
        Self(seed)
    }
    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
    pub(crate) fn unit(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1u64 << 53) as f64
    }
    pub(crate) fn range(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * self.unit()
    }
    pub(crate) fn below(&mut self, n: usize) -> usize {
        (self.next() % n as u64) as usize
    }
    pub(crate) fn chance(&mut self, p: f64) -> bool {
        self.unit() < p
    }
    pub(crate) fn point(&mut self, lo: DVec2, hi: DVec2) -> DVec2 {
        DVec2::new(self.range(lo.x, hi.x), self.range(lo.y, hi.y))
    }
    /// A simple outline, star-shaped about `at` but for its arcs; with `arcs`, about half of its edges are.
    pub(crate) fn star(&mut self, at: DVec2, inner: f64, outer: f64, n: usize, arcs: bool) -> Contour {
        loop {
            let c = self.any_star(at, inner, outer, n, arcs);
            if is_simple(&c) {
                return c;
            }
        }
    }
    fn any_star(&mut self, at: DVec2, inner: f64, outer: f64, n: usize, arcs: bool) -> Contour {
        let mut vertices = Vec::new();
        for i in 0..n {
            let a = (i as f64 + self.range(0.1, 0.9)) / n as f64 * core::f64::consts::TAU;
            let p = at + DVec2::new(libm::cos(a), libm::sin(a)) * self.range(inner, outer);
            let bulge = if arcs && self.chance(0.5) { self.range(-0.25, 0.25) } else { 0.0 };
            vertices.push(Vertex { p, bulge });
        }
        Contour { vertices }
    }
}

/// No two edges meet but at shared corners (edges that lie on one another are not looked for).
fn is_simple(c: &Contour) -> bool {
    let all: Vec<Segment> = c.segments().collect();
    let n = all.len();
    (0..n).all(|i| {
        (i + 1..n).all(|j| {
            let (s, t) = (&all[i], &all[j]);
            let corner = |p: DVec2| (p == s.b && p == t.a) || (p == s.a && p == t.b);
            let common = carrier_points(s, t, 0.0).into_iter().flatten();
            common
                .filter(|&p| s.distance_to_point(p) < 1e-6 && t.distance_to_point(p) < 1e-6)
                .all(|p| [s.a, s.b].into_iter().any(|q| corner(q) && q.distance(p) < 1e-3))
        })
    })
}

/// The same outline told in four ways: as is, reversed, from another corner, both.
pub(crate) fn retold(c: &Contour) -> Vec<Contour> {
    let shifted = |c: &Contour, by: usize| {
        let mut c = c.clone();
        let n = c.vertices.len();
        c.vertices.rotate_left(by % n);
        c
    };
    vec![c.clone(), c.reversed(), shifted(c, 1), shifted(&c.reversed(), 2)]
}

pub(crate) fn mirrored(c: &Contour) -> Contour {
    c.mapped(DVec2::ZERO, DVec2::NEG_X, DVec2::Y)
}

pub(crate) fn v(x: f64, y: f64) -> DVec2 {
    DVec2::new(x, y)
}

/// Rounded rectangle, counter-clockwise.
pub(crate) fn rounded(lo: DVec2, hi: DVec2, r: f64) -> Contour {
    let k = libm::tan(core::f64::consts::PI / 8.0);
    let at = |x: f64, y: f64, bulge: f64| Vertex { p: v(x, y), bulge };
    Contour {
        vertices: vec![
            at(lo.x + r, lo.y, 0.0),
            at(hi.x - r, lo.y, k),
            at(hi.x, lo.y + r, 0.0),
            at(hi.x, hi.y - r, k),
            at(hi.x - r, hi.y, 0.0),
            at(lo.x + r, hi.y, k),
            at(lo.x, hi.y - r, 0.0),
            at(lo.x, lo.y + r, k),
        ],
    }
}

pub(crate) fn total_area(parts: &[Region]) -> f64 {
    parts.iter().map(Region::area).sum()
}
