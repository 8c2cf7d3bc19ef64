//! Lengths and times of an order.

use super::speed::{hop_s, path_s};
use super::types::{Motion, Role, Route, RouteContour};
use crate::geom::{DVec2, Segment};

/// Adds up an order; see [`Route::order`].
pub fn added_up(contours: &[RouteContour], order: Vec<(usize, usize)>, motion: &Motion) -> Route {
    let mut r = Route::default();
    let mut here = DVec2::ZERO;
    for (i, entry) in &order {
        let c = &contours[*i];
        let path = path(c, *entry);
        let (Some(first), Some(last)) = (path.first(), path.last()) else { continue };
        let hop = here.distance(first.a);
        r.travel_mm += hop;
        r.travel_s += hop_s(hop, motion.travel_mm_s, motion.accel_mm_s2);
        here = last.b;
        let length: f64 = path.iter().map(Segment::length).sum();
        if c.role == Role::Mark {
            r.mark_mm += length;
            r.mark_s += path_s(&path, motion.mark_mm_s, motion.accel_mm_s2);
        } else {
            let passes = f64::from(motion.passes);
            r.cut_mm += length;
            r.cut_s += path_s(&path, motion.feed_mm_s, motion.accel_mm_s2) * passes;
            r.pierces += 1;
            r.pierce_s += motion.pierce_s * passes;
        }
    }
    r.minutes = (r.cut_s + r.mark_s + r.travel_s + r.pierce_s) / 60.0;
    r.order = order;
    r
}

/// The edges of a contour as the head follows them.
fn path(c: &RouteContour, entry: usize) -> Vec<Segment> {
    let mut path: Vec<Segment> = c.contour.segments().collect();
    if c.role != Role::Mark {
        let n = path.len();
        path.rotate_left(if n == 0 { 0 } else { entry % n });
        return path;
    }
    // an open line has no edge back to its start
    path.pop();
    if entry > 0 {
        path.reverse();
        path.iter_mut().for_each(|s| *s = s.reversed());
    }
    path
}
