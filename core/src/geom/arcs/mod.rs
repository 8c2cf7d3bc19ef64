//! Turns a dense closed polyline into few lines and true arcs.
//!
//! A shadow or a traced outline comes as hundreds of points; a machine that follows hundreds of tiny lines
//! stutters, and the file says nothing a person can read. Corners and straight runs are found first and kept;
//! between them the longest arc that stays within the tolerance is taken, again and again.

mod fit;
mod runs;
#[cfg(test)]
mod tests;

use super::{Contour, DVec2, Vertex};

/// A turn above this at one point is a corner and is kept. A smooth curve given densely turns far less from
/// point to point (72 points round a circle: 5°), and a corner a person means turns more.
pub const CORNER_DEG: f64 = 20.0;

/// A closed outline of few lines and arcs through some of `points`, nowhere farther than `tolerance_mm` from
/// any of them. The points run round once, densely wherever the outline is curved (turning less than
/// [`CORNER_DEG`] from one to the next); straight runs may be two points far apart. Straight runs stay
/// straight, corners stay where they are, and the winding is kept. Neighbouring arcs meet on a point with a
/// turn too small to see, not always exactly tangent. Points that are not finite are left out; of points nearer to
/// each other than a hundredth of the tolerance one stands for all, as the turns between them mean nothing. Fewer
/// than three points come back as they are.
#[must_use]
pub fn fit_closed(points: &[DVec2], tolerance_mm: f64) -> Contour {
    let tolerance_mm = if tolerance_mm.is_finite() { tolerance_mm.max(0.0) } else { 0.0 };
    let one_point = tolerance_mm * ONE_POINT_SHARE;
    let points = distinct(points, one_point);
    // what stands in for a point left out is that much nearer
    let tol = tolerance_mm - one_point;
    if points.len() < 3 {
        return Contour::polygon(&points);
    }
    let kept = runs::kept(&points, tol);
    let mut vertices = Vec::new();
    for stretch in &kept.stretches {
        let span: Vec<DVec2> = (stretch.from..=stretch.to).map(|i| points[i % points.len()]).collect();
        if stretch.straight {
            vertices.push(Vertex { p: span[0], bulge: 0.0 });
        } else {
            fit::fit_open(&span, tol, &mut vertices);
        }
    }
    Contour { vertices }
}

/// Points nearer than this share of the tolerance are one.
const ONE_POINT_SHARE: f64 = 0.01;

fn distinct(points: &[DVec2], one_point: f64) -> Vec<DVec2> {
    let mut out: Vec<DVec2> = points.iter().copied().filter(|p| p.is_finite()).collect();
    out.dedup_by(|b, a| a.distance(*b) <= one_point);
    while let [first, .., last] = out[..]
        && first.distance(last) <= one_point
    {
        out.pop();
    }
    out
}
