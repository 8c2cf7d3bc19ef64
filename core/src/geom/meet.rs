//! Where two edges cross, and where they come nearest.

use super::{DVec2, Segment};

/// Up to two points.
pub(crate) type Points = [Option<DVec2>; 2];

/// Points common to the lines or circles of `s` and `t`, also where they only come within `tol` of
/// touching; the caller asks whether a point lies on the edges. Coincident carriers give none.
pub(crate) fn carrier_points(s: &Segment, t: &Segment, tol: f64) -> Points {
    match (s.center(), t.center()) {
        (None, None) => [line_line(s, t), None],
        (None, Some(c)) => line_circle(s, c, t.radius(), tol),
        (Some(c), None) => line_circle(t, c, s.radius(), tol),
        (Some(c), Some(d)) => circle_circle(c, s.radius(), d, t.radius(), tol),
    }
}

/// Relative: edges that turn less than this in their whole length are parallel to rounding.
const PARALLEL: f64 = 1e-14;

fn line_line(s: &Segment, t: &Segment) -> Option<DVec2> {
    let (d, e) = (s.chord(), t.chord());
    let det = d.perp_dot(e);
    if det.abs() <= PARALLEL * d.length() * e.length() {
        return None;
    }
    Some(s.a + d * ((t.a - s.a).perp_dot(e) / det))
}

fn line_circle(s: &Segment, center: DVec2, radius: f64, tol: f64) -> Points {
    let Some(d) = s.chord().try_normalize() else { return [None, None] };
    let foot = s.a + d * (center - s.a).dot(d);
    let h = foot.distance(center);
    let half2 = radius * radius - h * h;
    if half2 <= 0.0 {
        return [(h - radius <= tol).then_some(foot), None];
    }
    let half = half2.sqrt();
    [Some(foot - d * half), Some(foot + d * half)]
}

fn circle_circle(c: DVec2, r: f64, e: DVec2, q: f64, tol: f64) -> Points {
    let between = e - c;
    let dist = between.length();
    if dist < tol && (r - q).abs() < tol {
        return [None, None];
    }
    let Some(u) = between.try_normalize() else { return [None, None] };
    // distance from c to the common chord
    let along = (dist + (r - q) * (r + q) / dist) / 2.0;
    let half2 = (r - along) * (r + along);
    if half2 <= 0.0 {
        let apart = (dist - r - q).max((r - q).abs() - dist);
        let side = if along < 0.0 { -r } else { r };
        return [(apart <= tol).then_some(c + u * side), None];
    }
    let half = half2.sqrt();
    [Some(c + u * along - u.perp() * half), Some(c + u * along + u.perp() * half)]
}

impl Segment {
    /// Least distance to another edge, and the nearest points: on this edge, on the other.
    #[must_use]
    pub fn nearest_to(&self, other: &Segment) -> (f64, DVec2, DVec2) {
        let mut best = (f64::INFINITY, self.a, other.a);
        let mut offer = |p: DVec2, q: DVec2| {
            let d = p.distance(q);
            if d < best.0 {
                best = (d, p, q);
            }
        };
        for p in [self.a, self.b] {
            offer(p, other.nearest_point(p));
        }
        for q in [other.a, other.b] {
            offer(self.nearest_point(q), q);
        }
        for p in carrier_points(self, other, 0.0).into_iter().flatten() {
            offer(self.nearest_point(p), other.nearest_point(p));
        }
        // where the common normal runs inside both edges
        for p in self.towards(other).into_iter().flatten() {
            offer(p, other.nearest_point(p));
        }
        for q in other.towards(self).into_iter().flatten() {
            offer(self.nearest_point(q), q);
        }
        best
    }
    /// Least distance to another edge, mm.
    #[must_use]
    pub fn distance_to(&self, other: &Segment) -> f64 {
        self.nearest_to(other).0
    }
    /// Points of this edge whose normal goes through the other arc's centre.
    pub(crate) fn towards(&self, other: &Segment) -> Points {
        let Some(e) = other.center() else { return [None, None] };
        match self.center() {
            None => [Some(self.nearest_point(e)), None],
            Some(c) => {
                let u = (e - c).normalize_or_zero() * self.radius();
                [Some(self.nearest_point(c + u)), Some(self.nearest_point(c - u))]
            }
        }
    }
}
