//! The fewest arcs along an open row of points, taking the longest that fits each time.

use super::CORNER_DEG;
use crate::geom::{DVec2, Segment, Vertex};

/// Pushes the start and bulge of every arc or line along `span`; its last point belongs to what follows.
pub(super) fn fit_open(span: &[DVec2], tol: f64, vertices: &mut Vec<Vertex>) {
    let last = span.len() - 1;
    let mut from = 0;
    while from < last {
        let (to, bulge) = longest(span, from, tol);
        vertices.push(Vertex { p: span[from], bulge });
        from = to;
    }
}

/// The farthest end that one piece from `from` can reach: doubling steps, then halving them. Two points are
/// always within reach of a line.
fn longest(span: &[DVec2], from: usize, tol: f64) -> (usize, f64) {
    let last = span.len() - 1;
    let mut best = (from + 1, 0.0);
    let mut step = 1;
    let mut growing = true;
    while step > 0 {
        let to = (best.0 + step).min(last);
        match one_piece(&span[from..=to], tol) {
            Some(bulge) if to > best.0 => {
                best = (to, bulge);
                step = if growing { step * 2 } else { step / 2 };
            }
            _ => {
                growing = false;
                step /= 2;
            }
        }
    }
    best
}

/// Arcs a little beyond a half-circle are let through, so that a circle of an odd number of points takes two.
const BULGE_MOST: f64 = 1.1;

/// The bulge of the one line or arc from the first to the last point that keeps within `tol` of all of them.
fn one_piece(points: &[DVec2], tol: f64) -> Option<f64> {
    let (a, b) = (points[0], points[points.len() - 1]);
    let chord = a.distance(b);
    let inner = &points[1..points.len() - 1];
    // the bulges that bring the arc near enough to each point, as an interval; the middle of what they share
    let (mut lo, mut hi) = (f64::NEG_INFINITY, f64::INFINITY);
    for &p in inner {
        let (k, slope) = bulge_through(a, p, b, chord)?;
        lo = lo.max(k - tol / slope);
        hi = hi.min(k + tol / slope);
    }
    // the intervals are linear estimates: the true distances decide below
    let bulge = (lo + hi) / 2.0;
    if !bulge.is_finite() || bulge.abs() > BULGE_MOST {
        return None;
    }
    let flat = bulge.abs() * chord / 2.0 <= tol / 4.0;
    let fits = |k: f64| keeps(points, &Segment::new(a, b, k), tol).then_some(k);
    if flat { fits(0.0).or_else(|| fits(bulge)) } else { fits(bulge) }
}

/// Bulge of the circle through the three points, and how fast the arc moves at `p` with the bulge.
fn bulge_through(a: DVec2, p: DVec2, b: DVec2, chord: f64) -> Option<(f64, f64)> {
    if chord <= 0.0 {
        return None;
    }
    // the angle at p over the chord is half of what the arc leaves open: sweep/2 = π − ∠apb, with the turn's sign
    let turn = libm::atan2((p - a).perp_dot(b - p), (p - a).dot(b - p));
    let along = ((p - a).dot(b - a) / (chord * chord)).clamp(0.0, 1.0);
    // a parabola's rise at that place over its rise in the middle, c/2 a unit of bulge
    let slope = (2.0 * chord * along * (1.0 - along)).max(1e-9 * chord);
    Some((libm::tan(turn / 2.0), slope))
}

/// Whether the piece keeps within `tol` of every point, runs past them in order, and does not bow away from
/// the edges between them.
fn keeps(points: &[DVec2], piece: &Segment, tol: f64) -> bool {
    let most_turn = CORNER_DEG.to_radians();
    let mut before = 0.0;
    for w in points.windows(2) {
        let f = piece.fraction(w[1]);
        if f < before || f > 1.0 + 1e-9 || piece.distance_to_point(w[1]) > tol {
            return false;
        }
        before = f;
        let edge = w[0].distance(w[1]);
        let turn = edge / piece.radius();
        // the edge is itself a chord: an arc may stand off its middle by the sagitta L²/8r
        let off = piece.distance_to_point((w[0] + w[1]) / 2.0);
        if turn > most_turn || off > tol + edge * turn / 8.0 {
            return false;
        }
    }
    true
}
