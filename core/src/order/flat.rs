//! A finished outline as straight-edged rings, a hair smaller than it is.

use crate::geom::{Contour, DVec2, Region, Segment};

/// How closely arcs are followed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Detail {
    /// Round openings are filled up and hollow arcs cut short: a plate is larger than it is, so that a
    /// push that is free of it is free indeed.
    Filled,
    /// Every arc within [`FINE_MM`].
    Fine,
}

/// Chords leave a true arc by less than this, mm: half of what judges two parts as touching.
const FINE_MM: f64 = 0.01;
/// … and where that only makes a plate larger, by less than this, mm: a sixth of the thinnest sheet.
const COARSE_MM: f64 = 0.5;
/// Corners nearer than this are one corner, mm.
const SAME_MM: f64 = 1e-6;
/// A knife-sharp corner moves at most this many times as far as its edges do.
const LONGEST_MITRE: f64 = 4.0;

/// The material of a region, drawn in by `shrink_mm` everywhere: rings with the material on their left.
pub fn rings(region: &Region, shrink_mm: f64, detail: Detail) -> Vec<Vec<DVec2>> {
    let filled = |c: &&Contour| detail == Detail::Fine || c.vertices.iter().all(|v| v.bulge == 0.0);
    let outer = std::iter::once(region.outer.ccw());
    let holes = region.holes.iter().filter(filled).map(Contour::cw);
    outer.chain(holes).map(|c| drawn_in(&flattened(&c, detail), shrink_mm)).filter(|ring| ring.len() >= 3).collect()
}

/// Corners of a straight-edged ring in place of the outline.
fn flattened(contour: &Contour, detail: Detail) -> Vec<DVec2> {
    let mut ring: Vec<DVec2> = vec![];
    for s in contour.segments() {
        // the material is on the left, so chords of a clockwise arc add to it
        let adds = s.bulge < 0.0;
        let tolerance = if adds && detail == Detail::Filled { COARSE_MM } else { FINE_MM };
        let n = chords(&s, tolerance);
        ring.extend((0..n).map(|k| s.at(k as f64 / n as f64)));
    }
    ring.dedup_by(|p, q| p.distance(*q) < SAME_MM);
    while ring.len() > 1 && ring[0].distance(ring[ring.len() - 1]) < SAME_MM {
        ring.pop();
    }
    ring
}

/// How many chords stand for an edge: each rises r(1 − cos(step/2)).
fn chords(s: &Segment, tolerance_mm: f64) -> usize {
    if s.is_line() {
        return 1;
    }
    let half_step = libm::acos((1.0 - tolerance_mm / s.radius()).clamp(0.0, 1.0));
    let steps = s.sweep_rad().abs() / (2.0 * half_step).max(1e-3);
    steps.ceil().max(1.0) as usize
}

/// Every edge moved to its left by `by`, corners where the moved edges meet.
fn drawn_in(ring: &[DVec2], by: f64) -> Vec<DVec2> {
    let n = ring.len();
    let left = |i: usize| (ring[(i + 1) % n] - ring[i]).normalize_or_zero().perp();
    (0..n)
        .map(|i| {
            let (before, after) = (left((i + n - 1) % n), left(i));
            let along = before + after;
            // where both moved edges meet: |along|² = 2(1 + cos of the turn)
            let reach = (2.0 / along.length_squared().max(1e-12)).min(LONGEST_MITRE / along.length().max(1e-6));
            ring[i] + along * (reach * by)
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(ring: &[DVec2]) -> f64 {
        (0..ring.len()).map(|i| ring[i].perp_dot(ring[(i + 1) % ring.len()])).sum::<f64>() / 2.0
    }

    #[test]
    fn a_plate_with_a_slot_shrinks_outside_and_its_slot_grows() {
        let p = |x, y| DVec2::new(x, y);
        let slot = Contour::rect(p(10.0, 10.0), p(20.0, 13.0));
        let region = Region::new(Contour::rect(p(0.0, 0.0), p(100.0, 50.0)), vec![slot]);
        let rings = rings(&region, 0.01, Detail::Fine);
        assert!((area(&rings[0]) - 99.98 * 49.98).abs() < 1e-9);
        assert!((area(&rings[1]) + 10.02 * 3.02).abs() < 1e-9);
    }

    #[test]
    fn round_openings_are_followed_within_a_hundredth_or_filled() {
        let hole = Contour::circle(DVec2::new(50.0, 25.0), 18.0);
        let region = Region::new(Contour::rect(DVec2::ZERO, DVec2::new(100.0, 50.0)), vec![hole]);
        assert_eq!(rings(&region, 0.01, Detail::Filled).len(), 1);
        let fine = rings(&region, 0.01, Detail::Fine);
        for (i, p) in fine[1].iter().enumerate() {
            let mid = (*p + fine[1][(i + 1) % fine[1].len()]) / 2.0;
            let r = mid.distance(DVec2::new(50.0, 25.0));
            assert!((17.99..=18.011).contains(&r), "{r}");
        }
    }

    #[test]
    fn a_sharp_corner_does_not_run_away() {
        let thin = [DVec2::ZERO, DVec2::new(100.0, 0.1), DVec2::new(0.0, 0.2)];
        let moved = drawn_in(&thin, 0.01);
        assert!(moved[1].distance(thin[1]) < 0.05);
    }
}
