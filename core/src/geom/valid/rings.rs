//! Rules on one ring, and on where rings lie to each other.

use super::meets::Joins;
use super::{Fault, FaultKind, SAME_POINT_MM};
use crate::geom::{Contour, DVec2};

/// ISO 19125-1, 6.1.11.1 a: rings are closed and enclose something; and all numbers are finite.
pub(super) fn corners(contour: usize, ring: &Contour, found: &mut Vec<Fault>) {
    for (index, v) in ring.vertices.iter().enumerate() {
        if !v.p.is_finite() || !v.bulge.is_finite() {
            found.push(Fault { kind: FaultKind::NotFinite, contour, index, at: v.p });
        }
    }
    let n = ring.vertices.len();
    let straight = ring.segments().all(|s| s.is_line());
    if n < 2 || (n == 2 && straight) {
        let at = ring.vertices.first().map_or(DVec2::ZERO, |v| v.p);
        found.push(Fault { kind: FaultKind::TooFewVertices, contour, index: 0, at });
    }
}

/// ISO 19125-1, 6.1.6.1: a simple curve does not pass through the same point twice.
pub(super) fn zero_edges(contour: usize, ring: &Contour, found: &mut Vec<Fault>) {
    if ring.vertices.len() < 2 {
        return;
    }
    for (index, s) in ring.segments().enumerate() {
        if s.chord().length() <= SAME_POINT_MM {
            found.push(Fault { kind: FaultKind::ZeroLengthEdge, contour, index, at: s.a });
        }
    }
}

/// ISO 19125-1, 6.1.11.1: seen from the top the outer ring runs counter-clockwise and inner ones the other way.
pub(super) fn winding(contour: usize, ring: &Contour, found: &mut Vec<Fault>) {
    let area = ring.area();
    if (area < 0.0) == (contour == 0) && area != 0.0 {
        let at = ring.vertices[0].p;
        found.push(Fault { kind: FaultKind::WrongWinding, contour, index: 0, at });
    }
}

/// ISO 19125-1, 6.1.11.1 b, f: each inner ring bounds a hole of its own. Rings that do not cross may still lie outside the outer one or in one another.
pub(super) fn nesting(rings: &[&Contour], sound: &[usize], joins: &Joins, found: &mut Vec<Fault>) {
    let crossed = |a: usize, b: usize| joins.crossed.contains(&(a.min(b), a.max(b)));
    for &k in sound.iter().filter(|&&k| k > 0) {
        let fault = |kind| Fault { kind, contour: k, index: 0, at: rings[k].vertices[0].p };
        if sound.contains(&0) && !crossed(0, k) && !rings[k].lies_in(rings[0]) {
            found.push(fault(FaultKind::HoleOutside));
        }
        for &other in sound.iter().filter(|&&o| o > 0 && o != k) {
            if !crossed(k, other) && rings[k].lies_in(rings[other]) {
                found.push(fault(FaultKind::HolesOverlap));
            }
        }
    }
}

/// ISO 19125-1, 6.1.11.1 e: the interior is connected. Rings that touch at a point are tied there; a tie
/// between what is already tied closes a loop around some of the material.
pub(super) fn connected(rings: &[&Contour], joins: &Joins, found: &mut Vec<Fault>) {
    // each point is a member of its own, so that many rings may share one
    let mut points: Vec<DVec2> = Vec::new();
    let mut ties: Vec<(usize, usize)> = Vec::new();
    let mut group: Vec<usize> = (0..rings.len() + joins.touches.len()).collect();
    for &(a, b, index, at) in &joins.touches {
        let known = points.iter().position(|p| p.distance(at) <= 10.0 * SAME_POINT_MM);
        let point = rings.len() + known.unwrap_or(points.len());
        if known.is_none() {
            points.push(at);
        }
        for ring in [a, b] {
            if ties.contains(&(ring, point)) {
                continue;
            }
            ties.push((ring, point));
            let (p, q) = (group[ring], group[point]);
            if p == q {
                found.push(Fault { kind: FaultKind::InteriorSplit, contour: b, index, at });
            }
            group.iter_mut().filter(|g| **g == q).for_each(|g| *g = p);
        }
    }
}
