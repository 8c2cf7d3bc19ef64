//! The narrowest width of material: teeth, webs, bridges.

use super::inward;
use crate::geom::meet::carrier_points;
use crate::geom::pairs::{apart, near_pairs};
use crate::geom::{DVec2, Region, Segment};

/// Two edges face each other when the line across stands within 15° of square on both: a tooth may taper, but a
/// corner cut off or rounded is no neck.
const FACING_COS: f64 = 0.965_925_826_289_068_3;
/// Nearer than this the boundary touches itself: no direction across, and no width.
const TOUCH_MM: f64 = 1e-9;
/// A direction along an edge is square to the line across to this much.
const SQUARE: f64 = 1e-9;

/// The narrowest width of material between two pieces of the boundary that are not neighbours, and the middle
/// of it, when it is below `below_mm`. A width is measured straight through the material, from an edge it is
/// square to (within 15°) or a corner of the void it is the shortest way from. So a finger's width counts, the
/// web between two openings, the bridge between two notches; the pointed end of an acute corner, a chamfer and a
/// fillet do not.
#[must_use]
pub fn narrowest_neck(region: &Region, below_mm: f64) -> Option<(f64, DVec2)> {
    let edges = Edges::of(region);
    let boxes: Vec<_> = edges.all.iter().map(Segment::bounds).collect();
    let mut pairs = Vec::new();
    near_pairs(&boxes, below_mm, |i, j| {
        let gap = apart(&boxes[i], &boxes[j]);
        if gap < below_mm && !edges.neighbours(i, j) {
            pairs.push((gap, i.min(j), i.max(j)));
        }
    });
    pairs.sort_by(|a, b| a.0.total_cmp(&b.0).then((a.1, a.2).cmp(&(b.1, b.2))));
    let mut best: Option<(f64, DVec2)> = None;
    for (gap, i, j) in pairs {
        let limit = best.map_or(below_mm, |b| b.0);
        if gap >= limit {
            break;
        }
        for (p, q) in crossings_between(&edges.all[i], &edges.all[j]) {
            let width = p.distance(q);
            let better = width < best.map_or(below_mm, |b| b.0);
            if better && edges.is_width(i, p, q) && edges.is_width(j, q, p) && through(region, p, q) {
                best = Some((width, (p + q) / 2.0));
            }
        }
    }
    best
}

/// All edges of a region, and who comes before and after whom.
struct Edges {
    all: Vec<Segment>,
    before: Vec<usize>,
    after: Vec<usize>,
}

impl Edges {
    fn of(region: &Region) -> Self {
        let (mut all, mut before, mut after) = (Vec::new(), Vec::new(), Vec::new());
        for c in region.contours() {
            let (first, n) = (all.len(), c.vertices.len());
            all.extend(c.segments());
            before.extend((0..n).map(|i| first + (i + n - 1) % n));
            after.extend((0..n).map(|i| first + (i + 1) % n));
        }
        Self { all, before, after }
    }
    fn neighbours(&self, i: usize, j: usize) -> bool {
        i == j || self.after[i] == j || self.before[i] == j
    }
    /// Whether the way from `p` on edge `i` to `q` is a width there: into the material, and square to the edge
    /// or the shortest from a corner of the void.
    fn is_width(&self, i: usize, p: DVec2, q: DVec2) -> bool {
        let Some(across) = (q - p).try_normalize().filter(|_| q.distance(p) > TOUCH_MM) else { return true };
        let s = &self.all[i];
        if inward(s, p).dot(across) >= FACING_COS {
            return true;
        }
        let (into, out) = if p.distance(s.a) <= TOUCH_MM {
            (self.all[self.before[i]].end_dir(), s.start_dir())
        } else if p.distance(s.b) <= TOUCH_MM {
            (s.end_dir(), self.all[self.after[i]].start_dir())
        } else {
            return false;
        };
        // neither way along the boundary comes nearer; and the material is ahead, so the corner is the void's
        let reflex = into.perp_dot(out) < 0.0;
        reflex && into.dot(across) >= -SQUARE && out.dot(across) <= SQUARE
    }
}

/// Pairs of points between which the width of material may be least.
fn crossings_between(s: &Segment, t: &Segment) -> Vec<(DVec2, DVec2)> {
    let mut ways = Vec::with_capacity(8);
    ways.extend([s.a, s.b].map(|p| (p, t.nearest_point(p))));
    ways.extend([t.a, t.b].map(|q| (s.nearest_point(q), q)));
    ways.extend(carrier_points(s, t, 0.0).into_iter().flatten().map(|p| (s.nearest_point(p), t.nearest_point(p))));
    ways.extend(s.towards(t).into_iter().flatten().map(|p| (p, t.nearest_point(p))));
    ways.extend(t.towards(s).into_iter().flatten().map(|q| (s.nearest_point(q), q)));
    // of parallel edges every place is as narrow: the middle of what they share is off the corners
    if let [Some(a), Some(b)] = shared(s, t) {
        let p = (a + b) / 2.0;
        ways.insert(0, (p, t.nearest_point(p)));
    }
    ways
}

/// The stretch of `s` that lies square across from `t`, when both are straight.
fn shared(s: &Segment, t: &Segment) -> [Option<DVec2>; 2] {
    if !s.is_line() || !t.is_line() {
        return [None, None];
    }
    let (f, g) = (s.fraction(t.a).clamp(0.0, 1.0), s.fraction(t.b).clamp(0.0, 1.0));
    [Some(s.at(f)), Some(s.at(g))]
}

/// Whether the way lies in material. It may run along an edge (across a finger's very tip): then one side does.
fn through(region: &Region, p: DVec2, q: DVec2) -> bool {
    let middle = (p + q) / 2.0;
    let aside = (q - p).perp() * 1e-4;
    p.distance(q) <= TOUCH_MM || [middle, middle + aside, middle - aside].into_iter().any(|m| region.contains(m))
}
