//! Measures of outlines against handbook values and against each other.

use super::testing::{Seeded, mirrored, retold, rounded, v};
use super::*;
use core::f64::consts::{PI, TAU};

fn close(have: f64, want: f64, tol: f64) {
    assert!((have - want).abs() <= tol, "{have} for {want} ± {tol}");
}

#[test]
fn bulges_as_in_dxf() {
    // DXF reference, LWPOLYLINE group 42: tan of a quarter of the included angle; the numbers were read
    // off another DXF library
    for (deg, bulge) in [(90.0, 0.414213562), (60.0, 0.267949192), (45.0, 0.198912367), (180.0, 1.0)] {
        close(libm::tan(f64::to_radians(deg) / 4.0), bulge, 1e-9);
        close(Segment::new(v(0.0, 0.0), v(3.0, 1.0), bulge).sweep_rad(), f64::to_radians(deg), 1e-8);
    }
    let k = libm::tan(f64::to_radians(22.5));
    let arc = Segment::new(v(0.0, 0.0), v(10.0, 0.0), k).arc().unwrap();
    close(arc.center.distance(v(5.0, 5.0)), 0.0, 1e-12);
    close(arc.radius, 7.0710678, 1e-7);
    let arc = Segment::new(v(0.0, 0.0), v(10.0, 0.0), -k).arc().unwrap();
    close(arc.center.distance(v(5.0, -5.0)), 0.0, 1e-12);
    // exact length of that arc, from the same source
    close(Segment::new(v(0.0, 0.0), v(10.0, 0.0), k).length(), 11.10721, 1e-5);
}

#[test]
fn svg_arc_is_the_same_arc() {
    // SVG 2, appendix B.2: A 10,10 0 0 1 from (0,0) to (10,10) has length 15.70796 and centre (0,10)
    let s = Segment::new(v(0.0, 0.0), v(10.0, 10.0), libm::tan(PI / 8.0));
    close(s.length(), 15.70796, 1e-5);
    close(s.center().unwrap().distance(v(0.0, 10.0)), 0.0, 1e-12);
}

#[test]
fn segments_of_circles_as_in_the_handbook() {
    // Machinery's Handbook, 31st ed., p. 50, examples 3-4: R 12, depth 2: chord 13.27, area 18.01
    let chord = 2.0 * (2.0_f64 * 2.0 * 12.0 - 4.0).sqrt();
    close(chord, 13.27, 0.005);
    let cap = Segment::new(v(0.0, 0.0), v(chord, 0.0), 2.0 / (chord / 2.0));
    close(cap.radius(), 12.0, 1e-9);
    close(cap.cap_area(), 18.01, 0.005);
    // p. 79: r 60, h 8: chord 59.86; c 16, h 6: r 8 1/3
    close(2.0 * (2.0_f64 * 8.0 * 60.0 - 64.0).sqrt(), 59.86, 0.01);
    close(Segment::new(v(0.0, 0.0), v(16.0, 0.0), 6.0 / 8.0).radius(), 25.0 / 3.0, 1e-12);
}

#[test]
fn circle_and_rounded_rectangle() {
    let c = Contour::circle(v(3.0, -2.0), 7.0);
    close(c.area(), 49.0 * PI, 1e-12);
    close(c.length(), 14.0 * PI, 1e-12);
    close(c.centroid().distance(v(3.0, -2.0)), 0.0, 1e-12);
    let (lo, hi) = c.turned(0.7).bounds();
    close(((hi - lo) - v(14.0, 14.0)).length(), 0.0, 1e-12);
    let r = rounded(v(0.0, 0.0), v(60.0, 40.0), 5.0);
    close(r.area(), 2400.0 - (4.0 - PI) * 25.0, 1e-9);
    close(r.length(), 2.0 * 100.0 - 8.0 * 5.0 + TAU * 5.0, 1e-9);
}

#[test]
fn facts_do_not_depend_on_the_telling() {
    let mut g = Seeded::new(11);
    for _ in 0..300 {
        let n = 3 + g.below(9);
        let at = v(g.range(-500.0, 500.0), 70.0);
        let c = g.star(at, 20.0, 60.0, n, true);
        let (lo, hi) = c.bounds();
        for (i, d) in retold(&c).iter().enumerate() {
            let sign = if i % 2 == 1 { -1.0 } else { 1.0 };
            close(d.area(), sign * c.area(), 1e-8);
            close(d.length(), c.length(), 1e-9);
            assert!(d.bounds().0.distance(lo) < 1e-9 && d.bounds().1.distance(hi) < 1e-9);
            assert!(d.centroid().distance(c.centroid()) < 1e-8);
        }
        close(mirrored(&c).area(), -c.area(), 1e-8);
        close(c.turned(1.0).area(), c.area(), 1e-8);
        assert!(c.turned(1.0).centroid().distance(v(0.0, 0.0)) - c.centroid().length() < 1e-8);
    }
}

#[test]
fn flattened_outline_agrees_with_the_arcs() {
    let mut g = Seeded::new(12);
    for _ in 0..100 {
        let n = 3 + g.below(9);
        let c = g.star(v(0.0, 0.0), 20.0, 60.0, n, true);
        let flat = Contour::polygon(&c.flattened(1e-5));
        close(flat.area(), c.area(), 1e-5 * c.length());
        assert!(flat.centroid().distance(c.centroid()) < 1e-4);
        let (a, b) = (flat.bounds(), c.bounds());
        assert!(a.0.distance(b.0) < 3e-4 && a.1.distance(b.1) < 3e-4);
        for _ in 0..50 {
            let p = g.point(v(-70.0, -70.0), v(70.0, 70.0));
            let near = c.segments().map(|s| s.distance_to_point(p)).fold(f64::INFINITY, f64::min);
            if near > 1e-3 {
                assert_eq!(flat.contains(p), c.contains(p), "{p}");
            }
        }
    }
}

#[test]
fn crossings_are_even_and_true() {
    let mut g = Seeded::new(13);
    for case in 0..400 {
        let n = 3 + g.below(9);
        let c = g.star(v(0.0, 0.0), 20.0, 60.0, n, case % 2 == 0);
        // half of the lines go through a corner, or through two
        let at = c.vertices[g.below(n)].p;
        let origin = if g.chance(0.5) { at } else { g.point(v(-60.0, -60.0), v(60.0, 60.0)) };
        let to = if g.chance(0.5) { c.vertices[g.below(n)].p } else { g.point(v(-60.0, -60.0), v(60.0, 60.0)) };
        let Some(dir) = (to - origin).try_normalize() else { continue };
        let ts = c.crossings(origin, dir);
        assert_eq!(ts.len() % 2, 0);
        for &t in &ts {
            let p = origin + dir * t;
            let d = c.segments().map(|s| s.distance_to_point(p)).fold(f64::INFINITY, f64::min);
            assert!(d < 1e-6, "{d}");
        }
        // between crossings the line is inside and outside by turns
        for (i, w) in ts.windows(2).enumerate() {
            if w[1] - w[0] > 1e-4 {
                let p = origin + dir * ((w[0] + w[1]) / 2.0) + dir.perp() * 1e-9;
                let d = c.segments().map(|s| s.distance_to_point(p)).fold(f64::INFINITY, f64::min);
                if d > 1e-6 {
                    assert_eq!(c.contains(p), i % 2 == 0);
                }
            }
        }
    }
}

#[test]
fn crossings_at_corners_and_along_edges() {
    let r = Contour::rect(v(0.0, 0.0), v(10.0, 10.0));
    assert_eq!(r.crossings(v(-5.0, 5.0), DVec2::X * 3.0), vec![5.0, 15.0]);
    // what lies on the line counts as left of it: along the lower edge it runs outside, along the upper inside
    assert_eq!(r.crossings(v(0.0, 0.0), DVec2::X), Vec::<f64>::new());
    assert_eq!(r.crossings(v(0.0, 10.0), DVec2::X), vec![0.0, 10.0]);
    assert_eq!(r.crossings(v(0.0, 0.0), v(1.0, 1.0)).len(), 2);
    assert_eq!(r.crossings(v(0.0, 0.0), v(1.0, -1.0)).len() % 2, 0);
    let c = Contour::circle(v(0.0, 0.0), 5.0);
    assert_eq!(c.crossings(v(0.0, 0.0), DVec2::Y), vec![-5.0, 5.0]);
    assert_eq!(c.crossings(v(0.0, 0.0), DVec2::X).len(), 2);
    assert_eq!(c.crossings(v(0.0, 0.0), DVec2::ZERO).len(), 0);
    let ring = Region::new(c, vec![Contour::circle(v(0.0, 0.0), 2.0)]);
    assert_eq!(ring.intervals(v(0.0, 0.0), DVec2::Y), vec![(-5.0, -2.0), (2.0, 5.0)]);
    close(ring.area(), 21.0 * PI, 1e-12);
    assert!(ring.contains(v(3.0, 0.0)) && !ring.contains(v(1.0, 0.0)) && !ring.contains(v(6.0, 0.0)));
}

#[test]
fn region_centroid_with_a_hole() {
    // 10 × 10 less a 2 × 2 whose middle is 3 off: the centroid moves 3·4/96 the other way
    let r = Region::new(Contour::rect(v(0.0, 0.0), v(10.0, 10.0)), vec![Contour::rect(v(7.0, 4.0), v(9.0, 6.0))]);
    close(r.centroid().distance(v(5.0 - 12.0 / 96.0, 5.0)), 0.0, 1e-12);
    let far = r.moved(v(1e5, -1e5));
    close(far.centroid().distance(r.centroid() + v(1e5, -1e5)), 0.0, 1e-8);
    let flipped = r.mapped(DVec2::ZERO, DVec2::X, DVec2::NEG_Y);
    assert!(flipped.outer.area() > 0.0 && flipped.holes[0].area() < 0.0);
}

#[test]
fn nearest_points_between_edges_against_samples() {
    let mut g = Seeded::new(14);
    for _ in 0..2000 {
        let mut seg = || {
            let (a, b) = (g.point(v(-10.0, -10.0), v(10.0, 10.0)), g.point(v(-10.0, -10.0), v(10.0, 10.0)));
            Segment::new(a, b, if g.chance(0.4) { 0.0 } else { g.range(-2.0, 2.0) })
        };
        let (s, t) = (seg(), seg());
        let (d, p, q) = s.nearest_to(&t);
        assert!(s.distance_to_point(p) < 1e-9 && t.distance_to_point(q) < 1e-9);
        close(p.distance(q), d, 1e-12);
        let sampled = (0..=200).map(|i| t.distance_to_point(s.at(f64::from(i) / 200.0))).fold(f64::INFINITY, f64::min);
        assert!(d <= sampled + 1e-9 && sampled <= d + s.length() / 200.0, "{d} {sampled}");
        close(t.reversed().nearest_to(&s.reversed()).0, d, 1e-9);
    }
}

#[test]
fn cleaning_keeps_the_shape() {
    let spiked = Contour::polygon(&[
        v(0.0, 0.0),
        v(5.0, 0.0),
        v(5.0, 0.0),
        v(10.0, 0.0),
        v(14.0, 0.0),
        v(10.0, 0.0),
        v(10.0, 10.0),
        v(4.0, 10.0),
        v(4.0, 13.0),
        v(4.0, 10.0),
        v(0.0, 10.0),
        v(0.0, 5.0),
    ]);
    for c in retold(&spiked) {
        let c = clean(&Region::new(c, vec![]));
        assert_eq!(c.outer.vertices.len(), 4);
        close(c.area(), 100.0, 1e-12);
        close(c.length(), 40.0, 1e-12);
    }
    let mut g = Seeded::new(15);
    for _ in 0..300 {
        let n = 4 + g.below(8);
        let c = g.star(v(0.0, 0.0), 20.0, 60.0, n, true);
        let mut cut = Contour::default();
        for s in c.segments() {
            let k = 1 + g.below(4);
            let bulge = libm::tan(libm::atan(s.bulge) / k as f64);
            for i in 0..k {
                cut.vertices.push(Vertex { p: s.at(i as f64 / k as f64), bulge });
            }
        }
        for d in retold(&cut) {
            let d = clean(&Region::new(d, vec![]));
            assert_eq!(d.outer.vertices.len(), n);
            close(d.area(), c.area(), 1e-6);
        }
    }
    // a circle in eight arcs becomes two half-circles
    let eighth = libm::tan(PI / 16.0);
    let at = |i: i32| v(libm::cos(f64::from(i) * PI / 4.0), libm::sin(f64::from(i) * PI / 4.0)) * 9.0;
    let c = Contour { vertices: (0..8).map(|i| Vertex { p: at(i), bulge: eighth }).collect() };
    let c = clean(&Region::new(c, vec![]));
    assert_eq!(c.outer.vertices.len(), 2);
    close(c.area(), 81.0 * PI, 1e-9);
}

#[test]
fn hulls_and_clips() {
    let square = [v(0.0, 0.0), v(10.0, 0.0), v(10.0, 10.0), v(0.0, 10.0)];
    let mut points: Vec<DVec2> = square.to_vec();
    points.extend([v(5.0, 5.0), v(5.0, 0.0), v(0.0, 0.0), v(f64::NAN, 1.0)]);
    assert_eq!(hull(&points), square);
    assert_eq!(clip_convex(&square, v(1.0, 0.0), 4.0), [v(0.0, 0.0), v(4.0, 0.0), v(4.0, 10.0), v(0.0, 10.0)]);
    assert_eq!(clip_convex(&square, v(1.0, 0.0), 20.0), square);
    assert!(clip_convex(&square, v(1.0, 0.0), 0.0).is_empty());
    assert!(clip_convex(&square, v(1.0, 1.0), 0.0).is_empty());
    assert!(clip_convex(&[], v(1.0, 1.0), 0.0).is_empty());
    let mut g = Seeded::new(16);
    for _ in 0..200 {
        let cloud: Vec<DVec2> = (0..30).map(|_| g.point(v(-9.0, -9.0), v(9.0, 9.0))).collect();
        let h = hull(&cloud);
        let c = Contour::polygon(&h);
        for p in &cloud {
            assert!(c.segments().all(|s| s.chord().perp_dot(*p - s.a) >= -1e-12));
        }
        // the two sides of a cut make up the whole
        let n = v(1.0, 0.0).rotate(g.point(v(-1.0, -1.0), v(1.0, 1.0)));
        let limit = g.range(-5.0, 5.0);
        let halves = [clip_convex(&h, n, limit), clip_convex(&h, -n, -limit)];
        close(halves.iter().map(|p| Contour::polygon(p).area()).sum(), c.area(), 1e-9);
    }
}
