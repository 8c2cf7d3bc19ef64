//! Finds what must be kept: corners and straight runs.

use super::CORNER_DEG;
use crate::geom::{DVec2, Segment};

/// From point `from` to point `to` (which may count on past the last point), straight or to be fitted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stretch {
    pub from: usize,
    pub to: usize,
    pub straight: bool,
}

/// The outline in stretches, in order, once round.
pub(super) struct Kept {
    pub stretches: Vec<Stretch>,
}

/// Points are on one line if they stand off it less than this share of the tolerance: far less than what an arc
/// is allowed, so that a gentle curve is not taken for a row of straight runs.
const STRAIGHT_SHARE: f64 = 0.05;
/// A run between curved neighbours is straight if it is this many times as long as either: points on a curve are
/// spaced evenly or by curvature, and a side that was straight has no points in between.
const LONG_RUN: f64 = 3.0;

pub(super) fn kept(points: &[DVec2], tol: f64) -> Kept {
    let n = points.len();
    let corner: Vec<bool> = (0..n).map(|i| is_corner(points, i)).collect();
    let start = first_break(points, &corner, tol * STRAIGHT_SHARE);
    let runs = collinear_runs(points, &corner, start, tol * STRAIGHT_SHARE);
    let length = |r: &(usize, usize)| points[r.0 % n].distance(points[r.1 % n]);
    let m = runs.len();
    let straight = |k: usize| {
        let (before, run, after) = (&runs[(k + m - 1) % m], &runs[k], &runs[(k + 1) % m]);
        // beyond a corner nothing says how densely this side's curve would be given
        let free = |at: usize, other: &(usize, usize)| corner[at % n] || length(run) >= LONG_RUN * length(other);
        free(run.0, before) && free(run.1, after)
    };
    let mut stretches: Vec<Stretch> = Vec::new();
    for (k, &(from, to)) in runs.iter().enumerate() {
        let straight = straight(k);
        match stretches.last_mut() {
            Some(last) if !last.straight && !straight && !corner[from % n] => last.to = to,
            _ => stretches.push(Stretch { from, to, straight }),
        }
    }
    Kept { stretches }
}

fn is_corner(points: &[DVec2], i: usize) -> bool {
    let n = points.len();
    let (a, p, b) = (points[(i + n - 1) % n], points[i], points[(i + 1) % n]);
    let (into, out) = (p - a, b - p);
    libm::atan2(into.perp_dot(out), into.dot(out)).abs() > CORNER_DEG.to_radians()
}

/// Where to begin: at a corner, else where the longest straight run ends, so that no run is cut in two.
fn first_break(points: &[DVec2], corner: &[bool], tol: f64) -> usize {
    let n = points.len();
    if let Some(i) = corner.iter().position(|&c| c) {
        return i;
    }
    let length = |r: &(usize, usize)| points[r.0 % n].distance(points[r.1 % n]);
    let longest = |r: &(usize, usize), q: &(usize, usize)| length(r).total_cmp(&length(q)).then(q.0.cmp(&r.0));
    collinear_runs(points, corner, 0, tol).into_iter().max_by(longest).map_or(0, |r| r.1 % n)
}

/// Longest runs of points on one line, once round from `start`; never across a corner.
fn collinear_runs(points: &[DVec2], corner: &[bool], start: usize, tol: f64) -> Vec<(usize, usize)> {
    let n = points.len();
    let at = |i: usize| points[i % n];
    let mut runs = Vec::new();
    let mut from = start;
    while from < start + n {
        let mut to = from + 1;
        while to < start + n && !corner[to % n] {
            let line = Segment::line(at(from), at(to + 1));
            let off = (from + 1..=to).any(|i| line.distance_to_point(at(i)) > tol);
            if off {
                break;
            }
            to += 1;
        }
        runs.push((from, to));
        from = to;
    }
    runs
}
