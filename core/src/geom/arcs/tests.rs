//! Fitted outlines against the shapes the points were taken from.

use super::*;
use crate::geom::Segment;
use crate::geom::testing::{Seeded, rounded, v};
use core::f64::consts::{PI, TAU};

/// Points along an outline, `step` apart on arcs; lines give their ends, or points too if `dense`.
fn points_of(c: &Contour, step: f64, dense: bool) -> Vec<DVec2> {
    let mut out = Vec::new();
    for s in c.segments() {
        let n = if s.is_line() && !dense { 1 } else { (s.length() / step).ceil().max(1.0) as usize };
        out.extend((0..n).map(|i| s.at(i as f64 / n as f64)));
    }
    out
}

fn farthest(points: &[DVec2], c: &Contour) -> f64 {
    let off = |p: &DVec2| c.segments().map(|s| s.distance_to_point(*p)).fold(f64::INFINITY, f64::min);
    points.iter().map(off).fold(0.0, f64::max)
}

#[test]
fn a_circle_takes_two_arcs() {
    for n in [30, 31, 180, 721] {
        let at = |i: usize| v(3.0, 4.0) + DVec2::from_angle(i as f64 / n as f64 * TAU) * 25.0;
        let points: Vec<DVec2> = (0..n).map(at).collect();
        let c = fit_closed(&points, 0.01);
        assert_eq!(c.vertices.len(), 2, "{n}");
        assert!((c.area() - PI * 625.0).abs() < 0.01 * c.length());
        for s in c.segments() {
            assert!((s.radius() - 25.0).abs() < 0.02);
        }
        let back: Vec<DVec2> = points.into_iter().rev().collect();
        assert!(fit_closed(&back, 0.01).area() < 0.0);
    }
}

#[test]
fn rounded_rectangles_give_their_eight_pieces_back() {
    let mut g = Seeded::new(31);
    for case in 0..60 {
        let r = g.range(1.5, 8.0);
        let turn = g.range(0.0, TAU);
        let c = rounded(v(0.0, 0.0), v(g.range(25.0, 80.0), g.range(25.0, 60.0)), r).turned(turn);
        let mut points = points_of(&c, 0.3, case % 2 == 0);
        let by = g.below(points.len());
        points.rotate_left(by);
        let fit = fit_closed(&points, 0.02);
        assert!(farthest(&points, &fit) <= 0.02 + 1e-9);
        let lines: Vec<Segment> = fit.segments().filter(|s| s.is_line() && s.length() > 5.0).collect();
        assert_eq!(lines.len(), 4, "case {case}: {fit:?}");
        assert!(fit.vertices.len() <= 12, "{}", fit.vertices.len());
        assert!((fit.area() - c.area()).abs() < 0.02 * c.length());
        for s in fit.segments().filter(|s| s.length() > r) {
            let old = c.segments().map(|t| t.distance_to_point(s.mid())).fold(f64::INFINITY, f64::min);
            assert!(old < 0.025, "{old}");
        }
    }
}

#[test]
fn polygons_stay_as_they_are() {
    let hexagon: Vec<DVec2> = (0..6).map(|i| DVec2::from_angle(f64::from(i) * PI / 3.0) * 20.0).collect();
    assert_eq!(fit_closed(&hexagon, 0.05), Contour::polygon(&hexagon));
    // dense points on straight sides fall away, the corners stay
    let square = Contour::rect(v(0.0, 0.0), v(40.0, 30.0));
    let fit = fit_closed(&points_of(&square, 0.5, true), 0.02);
    assert_eq!(fit.vertices.len(), 4);
    assert!((fit.area() - 1200.0).abs() < 1e-9);
}

#[test]
fn ellipses_take_few_arcs_within_the_tolerance() {
    for (a, b) in [(40.0, 30.0), (60.0, 12.0), (33.0, 32.9)] {
        let at = |i: i32| {
            let (s, c) = (f64::from(i) / 400.0 * TAU).sin_cos();
            v(a * c, b * s)
        };
        let points: Vec<DVec2> = (0..400).map(at).collect();
        for tol in [0.05, 0.01] {
            let fit = fit_closed(&points, tol);
            assert!(farthest(&points, &fit) <= tol + 1e-9);
            assert!(fit.vertices.len() <= 60, "{a} {b} {tol}: {}", fit.vertices.len());
            // area of an ellipse: π·a·b
            assert!((fit.area() - PI * a * b).abs() < tol * fit.length());
            // nothing bows out between the points: the whole fit stays near the curve
            for s in fit.segments() {
                for f in [0.1, 0.3, 0.5, 0.7, 0.9] {
                    let p = s.at(f);
                    let off = points.iter().map(|q| q.distance(p)).fold(f64::INFINITY, f64::min);
                    assert!(off < 0.6, "{off}");
                }
            }
        }
    }
}

#[test]
fn corners_between_curves_are_kept() {
    // two arcs that meet in points: a lens
    let lens =
        Contour { vertices: vec![Vertex { p: v(-20.0, 0.0), bulge: 0.5 }, Vertex { p: v(20.0, 0.0), bulge: 0.3 }] };
    let mut points = points_of(&lens, 0.4, true);
    points.rotate_left(17);
    let fit = fit_closed(&points, 0.02);
    for tip in [v(-20.0, 0.0), v(20.0, 0.0)] {
        assert!(fit.vertices.iter().any(|w| w.p.distance(tip) < 1e-9));
    }
    assert_eq!(fit.vertices.len(), 2);
    assert!((fit.area() - lens.area()).abs() < 0.02 * lens.length());
}

#[test]
fn random_smooth_outlines_keep_within_the_tolerance() {
    let mut g = Seeded::new(32);
    for _ in 0..80 {
        let waves: Vec<(f64, f64)> = (2..6).map(|k| (g.range(0.0, 2.5) / f64::from(k), g.range(0.0, TAU))).collect();
        let noise = if g.chance(0.5) { 0.0 } else { 0.002 };
        let n = 300 + g.below(200);
        let mut at = |i: usize| {
            let t = i as f64 / n as f64 * TAU;
            let r = 30.0 + waves.iter().enumerate().map(|(k, (a, f))| a * ((k + 2) as f64 * t + f).cos()).sum::<f64>();
            DVec2::from_angle(t) * (r + g.range(-noise, noise))
        };
        let points: Vec<DVec2> = (0..n).map(&mut at).collect();
        let fit = fit_closed(&points, 0.03);
        assert!(farthest(&points, &fit) <= 0.03 + 1e-9);
        assert!(fit.vertices.len() < 60, "{}", fit.vertices.len());
        let want = Contour::polygon(&points).area();
        assert!((fit.area() - want).abs() < 0.04 * fit.length());
    }
}

#[test]
fn points_that_nearly_coincide_make_no_corners() {
    let mut g = Seeded::new(34);
    let mut points = Vec::new();
    for i in 0..180 {
        let p = DVec2::from_angle(f64::from(i) / 180.0 * TAU) * 25.0;
        points.extend([p, p + g.point(v(-1e-7, -1e-7), v(1e-7, 1e-7)), p]);
    }
    let fit = fit_closed(&points, 0.01);
    assert_eq!(fit.vertices.len(), 2);
    assert!(farthest(&points, &fit) <= 0.01);
}

#[test]
fn odd_input_gives_no_trouble() {
    assert_eq!(fit_closed(&[], 0.1), Contour::default());
    assert_eq!(fit_closed(&[v(1.0, 1.0); 9], 0.1).vertices.len(), 1);
    let bad = [v(0.0, 0.0), v(f64::NAN, 0.0), v(9.0, 0.0), v(9.0, 0.0), v(0.0, 9.0), v(0.0, 0.0)];
    assert_eq!(fit_closed(&bad, f64::NAN).vertices.len(), 3);
    let mut g = Seeded::new(33);
    for _ in 0..100 {
        let n = 3 + g.below(40);
        let points: Vec<DVec2> = (0..n).map(|_| g.point(v(0.0, 0.0), v(9.0, 9.0))).collect();
        assert!(farthest(&points, &fit_closed(&points, 0.02)) <= 0.02 + 1e-9);
    }
}
