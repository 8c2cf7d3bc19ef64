//! How long the head takes along a path: it gains and loses speed at a constant rate, slows down at
//! corners and in tight arcs, and stands still at both ends.
//!
//! From v² = v₀² + 2·a·s (uniform acceleration) and a = v²/r (motion in a circle), as in any handbook of
//! mechanics.

use crate::geom::{DVec2, Segment};

/// How far the head may leave the drawn line at a corner, mm: a fifth of a narrow kerf, which nobody sees
/// on the edge (common practice, no source).
const CORNER_MM: f64 = 0.02;

/// The square of the speed at which a corner is passed, mm²/s²: from one unit direction into the other.
///
/// An arc that touches both legs and leaves the corner by δ has r = δ·cos(α/2)/(1 − cos(α/2)), α being
/// the angle by which the way turns; on it v² = a·r. Straight on is unlimited, a turn back is a stop.
fn corner_v2(from: DVec2, to: DVec2, accel_mm_s2: f64) -> f64 {
    let half_cos = ((1.0 + from.dot(to)) / 2.0).clamp(0.0, 1.0).sqrt();
    // straight on divides by 0: unlimited
    accel_mm_s2 * CORNER_MM * half_cos / (1.0 - half_cos)
}

/// Time along a length from one speed to another when no more than `most` may be reached between them.
fn piece_s(length: f64, v0: f64, v1: f64, most: f64, accel: f64) -> f64 {
    let peak = ((v0 * v0 + v1 * v1) / 2.0 + accel * length).sqrt();
    if peak <= most {
        return (2.0 * peak - v0 - v1) / accel;
    }
    let ramps = (2.0 * most * most - v0 * v0 - v1 * v1) / (2.0 * accel);
    (2.0 * most - v0 - v1) / accel + (length - ramps).max(0.0) / most
}

/// Seconds along a path, standing still before and after it.
pub fn path_s(path: &[Segment], feed_mm_s: f64, accel_mm_s2: f64) -> f64 {
    let (feed, accel) = (feed_mm_s.max(LEAST), accel_mm_s2.max(LEAST));
    let most2: Vec<f64> = path.iter().map(|s| (feed * feed).min(accel * s.radius())).collect();
    let lengths: Vec<f64> = path.iter().map(Segment::length).collect();
    let n = path.len();
    // squares of the speeds at the joints: limits first, then what can be braked to, then what can be reached
    let mut v2 = vec![0.0; n + 1];
    for i in 1..n {
        let corner = corner_v2(path[i - 1].end_dir(), path[i].start_dir(), accel);
        v2[i] = corner.min(most2[i - 1]).min(most2[i]);
    }
    for i in (1..n).rev() {
        v2[i] = f64::min(v2[i], v2[i + 1] + 2.0 * accel * lengths[i]);
    }
    for i in 1..n {
        v2[i] = f64::min(v2[i], v2[i - 1] + 2.0 * accel * lengths[i - 1]);
    }
    (0..n).map(|i| piece_s(lengths[i], v2[i].sqrt(), v2[i + 1].sqrt(), most2[i].sqrt(), accel)).sum()
}

/// Seconds for a straight way from one stop to the next.
pub fn hop_s(length_mm: f64, feed_mm_s: f64, accel_mm_s2: f64) -> f64 {
    piece_s(length_mm, 0.0, 0.0, feed_mm_s.max(LEAST), accel_mm_s2.max(LEAST))
}

/// Speeds and accelerations below this are taken for it, so that no time is without end.
const LEAST: f64 = 1e-3;

#[cfg(test)]
mod tests {
    use super::*;

    fn line(points: &[(f64, f64)]) -> Vec<Segment> {
        points.windows(2).map(|w| Segment::line(w[0].into(), w[1].into())).collect()
    }

    // worked by hand: at 2000 mm/s² 250 mm/s are reached in 0.125 s over 15.625 mm
    #[test]
    fn a_long_hop_is_a_trapezoid_and_a_short_one_a_triangle() {
        assert!((hop_s(281.25, 250.0, 2000.0) - (0.125 + 1.0 + 0.125)).abs() < 1e-12);
        assert!((hop_s(8.0, 250.0, 2000.0) - 2.0 * (8.0_f64 / 2000.0).sqrt()).abs() < 1e-12);
        assert_eq!(hop_s(0.0, 250.0, 2000.0), 0.0);
    }

    #[test]
    fn a_corner_in_a_straight_line_costs_nothing() {
        let one = path_s(&line(&[(0.0, 0.0), (100.0, 0.0)]), 12.0, 2000.0);
        let two = path_s(&line(&[(0.0, 0.0), (30.0, 0.0), (100.0, 0.0)]), 12.0, 2000.0);
        assert!((one - two).abs() < 1e-12);
        assert!((one - (100.0 / 12.0 + 12.0 / 2000.0)).abs() < 1e-12);
    }

    #[test]
    fn a_turn_back_is_a_stop() {
        let there = path_s(&line(&[(0.0, 0.0), (50.0, 0.0)]), 100.0, 1000.0);
        let back = path_s(&line(&[(0.0, 0.0), (50.0, 0.0), (0.0, 0.0)]), 100.0, 1000.0);
        assert!((back - 2.0 * there).abs() < 1e-12);
    }

    // worked by hand: α = 90°, r = 0.02·0.70711/0.29289 = 0.048284 mm, v = √(2000·0.048284) = 9.8270 mm/s
    #[test]
    fn a_right_angle_is_passed_slowly() {
        let v = corner_v2(DVec2::X, DVec2::Y, 2000.0).sqrt();
        assert!((v - 9.8270).abs() < 1e-3, "{v}");
        let legs = path_s(&line(&[(0.0, 0.0), (40.0, 0.0), (40.0, 40.0)]), 100.0, 2000.0);
        let leg = piece_s(40.0, 0.0, v, 100.0, 2000.0);
        assert!((legs - 2.0 * leg).abs() < 1e-12);
    }

    // worked by hand: a circle of radius 0.5 mm at 2000 mm/s² is no faster than √1000 = 31.623 mm/s
    #[test]
    fn a_tight_arc_limits_the_speed() {
        let r = 0.5;
        let half = Segment::new(DVec2::new(r, 0.0), DVec2::new(-r, 0.0), 1.0);
        let path = [half, Segment::new(half.b, half.a, 1.0)];
        let v = (2000.0_f64 * r).sqrt();
        let way = 2.0 * std::f64::consts::PI * r;
        let expected = 2.0 * v / 2000.0 + (way - v * v / 2000.0) / v;
        assert!((path_s(&path, 100.0, 2000.0) - expected).abs() < 1e-12);
    }

    #[test]
    fn more_speed_or_more_acceleration_never_takes_longer() {
        let zigzag: Vec<(f64, f64)> = (0..20).map(|i| (f64::from(i) * 3.0, f64::from(i % 2) * 5.0)).collect();
        let mut last = f64::INFINITY;
        for feed in [5.0, 12.0, 40.0, 100.0, 400.0] {
            let now = path_s(&line(&zigzag), feed, 2000.0);
            assert!(now <= last, "{feed}: {now} after {last}");
            assert!(path_s(&line(&zigzag), feed, 4000.0) <= now);
            last = now;
        }
    }
}
