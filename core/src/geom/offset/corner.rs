//! Where two moved neighbours meet again.

use super::edge::{Moved, right};
use super::{OffsetError, OffsetFault};
use crate::geom::meet::carrier_points;
use crate::geom::{DVec2, Segment};

/// A growing tip of material reaches at most this many distances beyond its corner: corners down to 29° stay
/// pointed (four is also the initial `stroke-miterlimit` of SVG). A sharper one is squared off at exactly one distance
/// beyond its tip: a beam of that radius on the squared edge just reaches the tip, so the finished corner is still
/// exact, and shrinking again gives the tip back. Shrinking has no limit: the tips that open then are the void's,
/// and they cost no sheet. So a tip sharper than 29° that was shrunk first comes back squared.
pub const MITRE_LIMIT: f64 = 4.0;

/// Where the edge before ends and the edge after starts: one point, or the two ends of a squared-off tip.
pub(super) struct Joint {
    pub start: DVec2,
    pub end: DVec2,
}

impl Joint {
    fn at(p: DVec2) -> Self {
        Self { start: p, end: p }
    }
    /// The short edge across a squared-off tip; its old self is the tip.
    pub(super) fn square_end(&self, tip: DVec2) -> Option<Moved> {
        let new = Segment::line(self.start, self.end);
        (self.start != self.end).then_some(Moved { new, old: Segment::line(tip, tip) })
    }
}

/// A mitre stands in for the crossing of moved arcs while the two differ by less than this.
const MITRE_ERROR_MM: f64 = 1e-10;

/// Joins the moved edges `m` and `n` of the neighbours `s` and `t`.
pub(super) fn joint(s: &Segment, t: &Segment, m: &Segment, n: &Segment, d: f64) -> Result<Joint, OffsetError> {
    let (into, out) = (s.end_dir(), t.start_dir());
    let (n1, n2) = (right(into), right(out));
    let cos = n1.dot(n2);
    // the mitre is 1/cos(turn/2) distances long, and cos²(turn/2) = (1 + cos)/2
    if (1.0 + cos) * MITRE_LIMIT * MITRE_LIMIT >= 2.0 {
        let mitre = s.b + (n1 + n2) * (d / (1.0 + cos));
        return meeting(s, t, m, n, mitre, d).map(Joint::at);
    }
    // away from the tip's body, whether the tip is material's or void's
    let ahead = (into - out).normalize_or_zero() * d.abs();
    let opens = turn(s, t) * d > 0.0;
    if opens && d > 0.0 {
        return squared(s.b, m, n, ahead, d);
    }
    // far out, or far down the body when the tip draws back: its sides meet wherever that is
    let far = ahead * if opens { MITRE_LIMIT } else { -MITRE_LIMIT };
    crossing(s.b, m, n, s.b + far, d).map(Joint::at)
}

/// Which way the boundary turns, left positive; where it turns right back, the curvatures decide.
fn turn(s: &Segment, t: &Segment) -> f64 {
    let sin = s.end_dir().perp_dot(t.start_dir());
    if sin.abs() > 1e-12 {
        return sin;
    }
    let curvature = |e: &Segment| if e.is_line() { 0.0 } else { e.bulge.signum() / e.radius() };
    -(curvature(s) + curvature(t))
}

/// Where the moved edges meet, given the mitre of their tangents.
fn meeting(s: &Segment, t: &Segment, m: &Segment, n: &Segment, mitre: DVec2, d: f64) -> Result<DVec2, OffsetError> {
    let (into, out) = (s.end_dir(), t.start_dir());
    // along its tangent the mitre is d·tan(turn/2) off the foot, where a circle has left its tangent by this
    let off = (d * into.perp_dot(out) / 2.0).powi(2) / (2.0 * m.radius().min(n.radius()));
    if (s.is_line() && t.is_line()) || (into.dot(out) > 0.0 && off <= MITRE_ERROR_MM) {
        return Ok(mitre);
    }
    crossing(s.b, m, n, mitre, d)
}

/// The crossing of the moved edges' lines or circles that is nearest to `guess`.
fn crossing(corner: DVec2, m: &Segment, n: &Segment, guess: DVec2, d: f64) -> Result<DVec2, OffsetError> {
    let points = carrier_points(m, n, 0.0).into_iter().flatten();
    let nearest = points.min_by(|p, q| p.distance(guess).total_cmp(&q.distance(guess)));
    let by_mm = m.distance_to(n);
    nearest.ok_or(OffsetError { fault: OffsetFault::CornerOpens, contour: 0, at: corner, distance_mm: d, by_mm })
}

/// The tip cut off square at `ahead` of the corner.
fn squared(corner: DVec2, m: &Segment, n: &Segment, ahead: DVec2, d: f64) -> Result<Joint, OffsetError> {
    let at = corner + ahead;
    let across = Segment::line(at, at + ahead.perp());
    Ok(Joint { start: crossing(corner, m, &across, at, d)?, end: crossing(corner, n, &across, at, d)? })
}
