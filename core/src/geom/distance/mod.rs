//! How near boundaries come to each other, through the void and through the material.

mod neck;
#[cfg(test)]
mod tests;

pub use neck::narrowest_neck;

use super::pairs::apart;
use super::{Contour, DVec2, Region, Segment};

/// Least distance between two outlines' boundaries, mm, and the nearest points: on `a`, on `b`. One inside the
/// other still counts from boundary to boundary. Infinite when either has no corners.
#[must_use]
pub fn between(a: &Contour, b: &Contour) -> (f64, DVec2, DVec2) {
    let boxed = |c: &Contour| -> Vec<_> { c.segments().map(|s| (s.bounds(), s)).collect() };
    let (all_a, all_b) = (boxed(a), boxed(b));
    let whole_b = b.bounds();
    let mut best = (f64::INFINITY, DVec2::ZERO, DVec2::ZERO);
    for (box_a, s) in &all_a {
        if apart(box_a, &whole_b) >= best.0 {
            continue;
        }
        for (box_b, t) in &all_b {
            if apart(box_a, box_b) < best.0 {
                let found = s.nearest_to(t);
                if found.0 < best.0 {
                    best = found;
                }
            }
        }
    }
    best
}

/// Distance from `p` to the region's nearest boundary, mm, and the nearest point there, whether `p` lies in the
/// material or not. Infinite for a region without corners.
#[must_use]
pub fn to_boundary(region: &Region, p: DVec2) -> (f64, DVec2) {
    let mut best = (f64::INFINITY, p);
    for s in region.segments() {
        let q = s.nearest_point(p);
        let d = q.distance(p);
        if d < best.0 {
            best = (d, q);
        }
    }
    best
}

/// Unit normal of an edge at a point of it, into the material on its left.
fn inward(s: &Segment, at: DVec2) -> DVec2 {
    match s.center() {
        None => s.start_dir().perp(),
        Some(c) => (c - at).normalize_or_zero() * s.bulge.signum(),
    }
}
