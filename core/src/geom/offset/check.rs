//! Whether moved outlines still keep clear of themselves and of each other.

use super::edge::Moved;
use super::{OffsetError, OffsetFault, Outline};
use crate::geom::meet::carrier_points;
use crate::geom::pairs::near_pairs;
use crate::geom::{DVec2, Region};

/// Boundaries this near touch: nothing is left between them.
const TOUCH_MM: f64 = 1e-9;

/// A crossing of neighbours this near to their corner is the corner: where edges are tangent it is known to
/// √(2r·1e-13) only, 1e-5 mm at a radius of a metre.
const CORNER_MM: f64 = 1e-4;

/// Two rings may touch at a point; grown apart and shrunk again they come back to that, to rounding.
const RINGS_TOUCH_MM: f64 = 1e-6;

/// Finds the pair of edges that runs deepest into each other.
pub(super) fn crossings(outlines: &[Outline], d: f64) -> Result<(), OffsetError> {
    let edges: Vec<(usize, usize, &Moved)> = outlines
        .iter()
        .enumerate()
        .flat_map(|(c, o)| o.edges.iter().enumerate().map(move |(i, e)| (c, i, e)))
        .collect();
    let boxes: Vec<_> = edges.iter().map(|(_, _, e)| e.new.bounds()).collect();
    let mut worst: Option<OffsetError> = None;
    near_pairs(&boxes, TOUCH_MM, |i, j| {
        let ((c, k, e), (o, l, f)) = (edges[i.min(j)], edges[i.max(j)]);
        let n = outlines[c].edges.len();
        let neighbours = c == o && (l == k + 1 || (k == 0 && l == n - 1));
        let meet = if neighbours { cross_again(e, f) } else { e.new.distance_to(&f.new) <= TOUCH_MM };
        if meet {
            let (gap, p, q) = e.old.nearest_to(&f.old);
            // each of the two moves by d: what was between them had to be twice that
            let by_mm = if neighbours { d.abs() } else { (2.0 * d.abs() - gap).max(0.0) };
            let touch = c != o && by_mm <= RINGS_TOUCH_MM;
            if !touch && worst.is_none_or(|w| by_mm > w.by_mm) {
                let at = (p + q) / 2.0;
                worst = Some(OffsetError { fault: OffsetFault::Crosses, contour: o, at, distance_mm: d, by_mm });
            }
        }
    });
    worst.map_or(Ok(()), Err)
}

/// Whether neighbours meet anywhere but at their corners.
fn cross_again(e: &Moved, f: &Moved) -> bool {
    let (s, t) = (&e.new, &f.new);
    let corner = |p: DVec2| [s.a, s.b].iter().any(|&q| q.distance(p) < CORNER_MM && (q == t.a || q == t.b));
    let on_both = |p: &DVec2| s.distance_to_point(*p) <= TOUCH_MM && t.distance_to_point(*p) <= TOUCH_MM;
    carrier_points(s, t, 0.0).into_iter().flatten().filter(on_both).any(|p| !corner(p))
}

/// Without crossing, one outline can still have passed another: a hole that now holds the outer boundary.
pub(super) fn nesting(old: &Region, new: &Region, d: f64) -> Result<(), OffsetError> {
    for (i, hole) in new.holes.iter().enumerate() {
        let mut others = new.holes.iter().enumerate().filter(|(j, _)| *j != i);
        if !hole.lies_in(&new.outer) || others.any(|(_, h)| hole.lies_in(h)) {
            let at = old.holes[i].centroid();
            let (lo, hi) = old.outer.bounds();
            let by_mm = (2.0 * d.abs() - (hi - lo).min_element()).max(0.0);
            return Err(OffsetError { fault: OffsetFault::OutlineCloses, contour: i + 1, at, distance_mm: d, by_mm });
        }
    }
    Ok(())
}
