//! Convex polygons: the hull of points, and what a half-plane leaves of one.

use super::DVec2;

/// Convex hull, counter-clockwise from the leftmost (then lowest) point, without collinear points.
/// Andrew's monotone chain (Information Processing Letters 9, 1979). Points that are not finite are left out.
#[must_use]
pub fn hull(points: &[DVec2]) -> Vec<DVec2> {
    let mut sorted: Vec<DVec2> = points.iter().copied().filter(|p| p.is_finite()).collect();
    sorted.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    sorted.dedup();
    if sorted.len() < 3 {
        return sorted;
    }
    let mut lower = chain(sorted.iter());
    let upper = chain(sorted.iter().rev());
    lower.pop();
    lower.extend_from_slice(&upper[..upper.len() - 1]);
    lower
}

fn chain<'a>(points: impl Iterator<Item = &'a DVec2>) -> Vec<DVec2> {
    let mut kept: Vec<DVec2> = Vec::new();
    for &p in points {
        while let [.., a, b] = kept[..]
            && (b - a).perp_dot(p - a) <= 0.0
        {
            kept.pop();
        }
        kept.push(p);
    }
    kept
}

/// The part of a convex polygon with `normal · p ≤ limit`; empty when nothing is left.
#[must_use]
pub fn clip_convex(poly: &[DVec2], normal: DVec2, limit: f64) -> Vec<DVec2> {
    let mut kept: Vec<DVec2> = Vec::with_capacity(poly.len() + 1);
    for (i, &a) in poly.iter().enumerate() {
        let b = poly[(i + 1) % poly.len()];
        let (from, to) = (normal.dot(a) - limit, normal.dot(b) - limit);
        if from <= 0.0 {
            kept.push(a);
        }
        if (from < 0.0 && to > 0.0) || (from > 0.0 && to < 0.0) {
            kept.push(a + (b - a) * (from / (from - to)));
        }
    }
    // a corner or an edge that only touches is not a polygon
    if kept.len() < 3 { Vec::new() } else { kept }
}
