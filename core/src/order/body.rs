//! A finished panel as convex pieces in a tree of boxes, and which ways past another one are barred.

use super::flat::{Detail, rings};
use super::prism::{Prism, box_stretch, shared_stretch};
use super::trapezoids::trapezoids;
use crate::geom::{DVec2, DVec3, HalfSpace, Slab, clip_convex};
use crate::solid::Plate;
use std::cell::Cell;

/// A solid made of convex pieces.
#[derive(Clone, Debug, Default)]
pub struct Body {
    pieces: Vec<Prism>,
    nodes: Vec<Node>,
}

/// A box around some pieces.
#[derive(Clone, Debug)]
struct Node {
    lo: DVec3,
    hi: DVec3,
    inside: Inside,
}

#[derive(Clone, Debug)]
enum Inside {
    Piece(usize),
    Both(usize, usize),
}

/// Which ways along a line are barred to the first of two bodies by the second.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Barred {
    /// Along the line.
    pub onward: bool,
    /// Against it.
    pub back: bool,
    /// They stand in one another as they are: nothing can be said of any way.
    pub already: bool,
}

impl Barred {
    /// The same, seen from the second body.
    #[must_use]
    pub fn seen_back(self) -> Self {
        Self { onward: self.back, back: self.onward, already: self.already }
    }
}

/// A way shorter than this is none, mm.
const NO_WAY_MM: f64 = 1e-6;

impl Body {
    /// A plate with `shrink_mm` taken off every face; cut off at each of `ends`, on both faces.
    pub fn of(plate: Plate, shrink_mm: f64, detail: Detail, ends: &[HalfSpace]) -> Self {
        let slab = plate.slab;
        let mut pieces = vec![];
        for mut outline in trapezoids(&rings(plate.region, shrink_mm, detail)) {
            for end in ends {
                outline = ended(slab, &outline, end);
            }
            if outline.len() >= 3 {
                pieces.push(Prism::over(slab, &outline, shrink_mm, slab.thickness - shrink_mm));
            }
        }
        let mut body = Self { pieces, nodes: vec![] };
        let all: Vec<usize> = (0..body.pieces.len()).collect();
        if !all.is_empty() {
            body.grow(all);
        }
        body
    }

    /// Builds the tree over some pieces; says which node it is.
    fn grow(&mut self, mut of: Vec<usize>) -> usize {
        let around = |of: &[usize], pieces: &[Prism]| {
            of.iter().fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(lo, hi), p| {
                (lo.min(pieces[*p].lo), hi.max(pieces[*p].hi))
            })
        };
        let (lo, hi) = around(&of, &self.pieces);
        let at = self.nodes.len();
        self.nodes.push(Node { lo, hi, inside: Inside::Piece(of[0]) });
        if of.len() > 1 {
            let long = (hi - lo).to_array();
            let k = (0..3).max_by(|a, b| long[*a].total_cmp(&long[*b])).unwrap_or(0);
            of.sort_by(|p, q| {
                let mid = |i: usize| self.pieces[i].lo[k] + self.pieces[i].hi[k];
                mid(*p).total_cmp(&mid(*q)).then(p.cmp(q))
            });
            let rest = of.split_off(of.len() / 2);
            let first = self.grow(of);
            let second = self.grow(rest);
            self.nodes[at].inside = Inside::Both(first, second);
        }
        at
    }

    /// From and to along a direction; `None` for a body without pieces.
    pub fn extent(&self, along: DVec3) -> Option<(f64, f64)> {
        self.pieces.iter().map(|p| p.extent(along)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// Which ways along `line` (a unit vector) `other` bars to this body.
    pub fn barred(&self, other: &Self, line: DVec3) -> Barred {
        let mut found = Cell::new(Barred::default());
        let tells_more = |a: (DVec3, DVec3), b: (DVec3, DVec3)| {
            let known = found.get();
            box_stretch(a, b, line)
                .is_some_and(|(from, to)| (to > NO_WAY_MM && !known.onward) || (from < -NO_WAY_MM && !known.back))
        };
        self.walk(other, tells_more, |p, q| {
            let mut now = found.get();
            if let Some((from, to)) = shared_stretch(p, q, line) {
                now.onward |= to > NO_WAY_MM;
                now.back |= from < -NO_WAY_MM;
                found.set(now);
            }
            now.onward && now.back
        });
        let found = found.get_mut();
        // barred both ways may mean that they stand in one another
        found.already = found.onward && found.back && self.touches(other);
        *found
    }

    /// Whether both share room as they stand.
    pub fn touches(&self, other: &Self) -> bool {
        let still = DVec3::ZERO;
        let meet = |a: (DVec3, DVec3), b: (DVec3, DVec3)| box_stretch(a, b, still).is_some();
        self.walk(other, meet, |p, q| shared_stretch(p, q, still).is_some())
    }

    /// Walks through all pairs of pieces whose boxes, and all boxes around them, pass `enter`, until
    /// `leaf` is true of one; says whether it was.
    fn walk(
        &self,
        other: &Self,
        enter: impl Fn((DVec3, DVec3), (DVec3, DVec3)) -> bool,
        mut leaf: impl FnMut(&Prism, &Prism) -> bool,
    ) -> bool {
        let mut todo = if self.nodes.is_empty() || other.nodes.is_empty() { vec![] } else { vec![(0, 0)] };
        while let Some((i, j)) = todo.pop() {
            let (a, b) = (&self.nodes[i], &other.nodes[j]);
            if !enter((a.lo, a.hi), (b.lo, b.hi)) {
                continue;
            }
            match (&a.inside, &b.inside) {
                (Inside::Piece(p), Inside::Piece(q)) => {
                    if leaf(&self.pieces[*p], &other.pieces[*q]) {
                        return true;
                    }
                }
                (Inside::Both(c, d), Inside::Piece(_)) => todo.extend([(*c, j), (*d, j)]),
                (Inside::Piece(_), Inside::Both(c, d)) => todo.extend([(i, *c), (i, *d)]),
                (Inside::Both(c, d), Inside::Both(e, f)) => todo.extend([(*c, *e), (*c, *f), (*d, *e), (*d, *f)]),
            }
        }
        false
    }
}

/// A convex outline in a slab's plane, cut off where the slab would stand out of a half-space.
fn ended(slab: &Slab, outline: &[DVec2], end: &HalfSpace) -> Vec<DVec2> {
    let f = &slab.frame;
    let n = f.dir_own(end.normal);
    if n.truncate().length() < 1e-9 {
        return outline.to_vec();
    }
    let limit = end.limit - end.normal.dot(f.origin) - (n.z * slab.thickness).max(0.0);
    clip_convex(outline, n.truncate(), limit)
}
