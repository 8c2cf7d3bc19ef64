//! Growing and shrinking against exact formulas, there and back, and everything that must be refused.

use super::*;
use crate::geom::testing::{Seeded, mirrored, retold, rounded, v};
use core::f64::consts::PI;

fn solid(c: Contour) -> Region {
    Region::new(c, vec![])
}
fn close(have: f64, want: f64, tol: f64) {
    assert!((have - want).abs() <= tol, "{have} for {want} ± {tol}");
}

#[test]
fn rectangles_circles_and_smooth_outlines() {
    let r = Region::new(Contour::rect(v(0.0, 0.0), v(60.0, 40.0)), vec![Contour::circle(v(20.0, 20.0), 5.0)]);
    let g = grow(&r, 0.1).unwrap();
    close(g.outer.area(), 60.2 * 40.2, 1e-9);
    close(g.holes[0].area(), -PI * 4.9 * 4.9, 1e-9);
    // Steiner's formula for a smooth convex outline: A + L·d + π·d²
    let s = rounded(v(0.0, 0.0), v(60.0, 40.0), 5.0);
    for d in [0.1, 3.0, -0.1, -4.9] {
        let g = grow(&solid(s.clone()), d).unwrap();
        close(g.area(), s.area() + s.length() * d + PI * d * d, 1e-9);
        assert_eq!(g.outer.vertices.len(), 8);
    }
}

#[test]
fn mitres_meet_at_the_formula() {
    // a 60° corner: the mitre is 1/sin(30°) = 2 distances beyond it
    let t = Contour::polygon(&[v(0.0, 0.0), v(30.0, 0.0), v(15.0, 15.0 * 3.0_f64.sqrt())]);
    let g = grow(&solid(t.clone()), 0.5).unwrap();
    for (a, b) in g.outer.vertices.iter().zip(&t.vertices) {
        close(a.p.distance(b.p), 1.0, 1e-12);
    }
}

#[test]
fn sharp_tips_are_squared_at_the_distance_and_come_back() {
    let sharp = Contour::polygon(&[v(0.0, 0.0), v(50.0, 5.0), v(0.0, 10.0), v(20.0, 5.0)]);
    for c in [sharp.clone(), mirrored(&sharp).reversed()] {
        let r = solid(c);
        let g = grow(&r, 0.2).unwrap();
        assert_eq!(g.outer.vertices.len(), 7, "three corners sharper than 29° have two ends now");
        let tip = r.outer.vertices.iter().map(|v| v.p).find(|p| p.x.abs() == 50.0).unwrap();
        let reach = g.segments().map(|s| s.distance_to_point(tip)).fold(f64::INFINITY, f64::min);
        close(reach, 0.2, 1e-9);
        let back = grow(&g, -0.2).unwrap();
        close(back.area(), r.area(), 1e-6);
        close(back.length(), r.length(), 1e-6);
        assert_eq!(back.outer.vertices.len(), 4);
    }
}

#[test]
fn there_and_back_again() {
    let mut g = Seeded::new(21);
    let (mut done, mut refused) = (0, 0);
    for case in 0..1500 {
        let n = 3 + g.below(10);
        let outer = g.star(v(3.0, -4.0), 30.0, 60.0, n, case % 4 != 0);
        let hole = match g.below(3) {
            0 => Contour::circle(v(3.0, -4.0), 6.0),
            1 => g.star(v(3.0, -4.0), 4.0, 8.0, 5, true),
            _ => Contour::rect(v(0.0, -9.0), v(7.0, 2.0)).turned(0.1),
        };
        let r = Region::new(outer, vec![hole]);
        let d = g.range(-0.5, 0.5);
        let clear = r.outer.segments().all(|s| r.holes[0].segments().all(|t| s.distance_to(&t) > 0.1));
        if !clear || !r.outer.contains(r.holes[0].vertices[0].p) {
            continue;
        }
        if d < 0.0 && r.contours().any(has_sharp_tip) {
            continue;
        }
        let Ok(out) = grow(&r, d) else {
            refused += 1;
            continue;
        };
        let back = grow(&out, -d).unwrap_or_else(|e| panic!("case {case}: {e} {r:?}"));
        assert_eq!(back.outer.vertices.len(), n);
        for (a, b) in back.contours().flat_map(|c| &c.vertices).zip(r.contours().flat_map(|c| &c.vertices)) {
            assert!(a.p.distance(b.p) < 1e-6 && (a.bulge - b.bulge).abs() < 1e-6, "case {case}: {a:?} {b:?}");
        }
        boundary_is_at(&r, &out, d);
        done += 1;
    }
    assert!(done > 1200, "{done} done, {refused} refused");
}

/// A material corner that growing would square off.
fn has_sharp_tip(c: &Contour) -> bool {
    let all: Vec<_> = c.segments().collect();
    (0..all.len()).any(|i| {
        let (s, t) = (&all[i], &all[(i + 1) % all.len()]);
        let (into, out) = (s.end_dir(), t.start_dir());
        into.perp_dot(out) > 0.0 && into.dot(out) < -0.87
    })
}

/// The middle of every moved edge stands exactly `d` off its old line or circle, on the right side; no point of
/// the new boundary is nearer than `d` to the old one.
fn boundary_is_at(old: &Region, new: &Region, d: f64) {
    for s in new.segments() {
        for f in [0.05, 0.5, 0.95] {
            let p = s.at(f);
            let near = old.segments().map(|t| t.distance_to_point(p)).fold(f64::INFINITY, f64::min);
            assert!(near > d.abs() - 1e-6, "{near} for {d}");
            assert_eq!(old.contains(p), d < 0.0);
        }
    }
}

#[test]
fn the_telling_does_not_matter() {
    let mut g = Seeded::new(22);
    for _ in 0..150 {
        let c = g.star(v(0.0, 0.0), 30.0, 60.0, 7, true);
        let Ok(first) = grow(&solid(c.clone()), 0.3) else { continue };
        for d in retold(&c).into_iter().chain([mirrored(&c)]) {
            let again = grow(&solid(d), 0.3).unwrap();
            close(again.area(), first.area(), 1e-7);
            close(again.length(), first.length(), 1e-7);
        }
    }
}

#[test]
fn what_does_not_fit_is_refused_with_place_and_amount() {
    let panel = Contour::rect(v(0.0, 0.0), v(60.0, 40.0));
    let with = |hole: Contour| Region::new(panel.clone(), vec![hole]);
    let fault = |r: &Region, d: f64| {
        let e = grow(r, d).unwrap_err();
        assert!(e.to_string().contains("short by"), "{e}");
        (e.fault, e.contour, (e.by_mm * 1e6).round() / 1e6)
    };
    // a hole narrower than the two moves together
    assert_eq!(fault(&with(Contour::circle(v(9.0, 9.0), 0.08)), 0.1), (OffsetFault::OutlineCloses, 1, 0.04));
    assert_eq!(fault(&with(Contour::rect(v(9.0, 9.0), v(9.1, 20.0))), 0.1), (OffsetFault::OutlineCloses, 1, 0.1));
    // a fillet smaller than the move
    let fillet = rounded(v(0.0, 0.0), v(60.0, 40.0), 0.5);
    assert_eq!(fault(&solid(fillet), -0.7), (OffsetFault::ArcVanishes, 0, 0.2));
    // a slot of 0.15 between two fingers takes 0.2
    let slot = Contour::polygon(&[
        v(0.0, 0.0),
        v(60.0, 0.0),
        v(60.0, 40.0),
        v(30.15, 40.0),
        v(30.15, 20.0),
        v(30.0, 20.0),
        v(30.0, 40.0),
        v(0.0, 40.0),
    ]);
    let e = grow(&solid(slot), 0.1).unwrap_err();
    assert_eq!((e.fault, e.contour), (OffsetFault::EdgeVanishes, 0));
    close(e.by_mm, 0.05, 1e-9);
    assert!(e.at.distance(v(30.075, 20.0)) < 1e-9);
    // the same mouth over a wide chamber: all edges stay, but the lips run into each other
    let flask = Contour::polygon(&[
        v(0.0, 0.0),
        v(60.0, 0.0),
        v(60.0, 40.0),
        v(30.15, 40.0),
        v(35.0, 20.0),
        v(25.0, 20.0),
        v(30.0, 40.0),
        v(0.0, 40.0),
    ]);
    let e = grow(&solid(flask), 0.1).unwrap_err();
    assert_eq!(e.fault, OffsetFault::Crosses);
    close(e.by_mm, 0.05, 1e-9);
    // two holes shrink apart when growing, and run together when shrinking
    let two =
        Region::new(panel.clone(), vec![Contour::circle(v(20.0, 20.0), 5.0), Contour::circle(v(31.0, 20.0), 5.0)]);
    assert!(grow(&two, 0.6).is_ok());
    let e = grow(&two, -0.6).unwrap_err();
    assert_eq!(e.fault, OffsetFault::Crosses);
    close(e.by_mm, 0.2, 1e-9);
    assert!(e.at.distance(v(25.5, 20.0)) < 1e-6);
    // a hole that outgrows its panel without ever crossing it
    let e =
        grow(&Region::new(Contour::rect(v(0.0, 0.0), v(10.0, 10.0)), vec![Contour::circle(v(5.0, 5.0), 1.0)]), -4.9);
    assert_eq!(e.unwrap_err().fault, OffsetFault::OutlineCloses);
    // nothing panics on numbers that are none
    assert_eq!(grow(&solid(panel.clone()), f64::NAN).unwrap_err().fault, OffsetFault::NotFinite);
    assert!(grow(&Region::default(), 0.1).is_err());
    assert!(grow(&solid(Contour::polygon(&[v(0.0, 0.0), v(5.0, 0.0)])), 0.1).is_err());
}

#[test]
fn lines_meet_arcs_where_both_moved_to() {
    // half a disc: the straight side moves 1 out, the arc's radius grows by 1; they meet where the new circle
    // has y = −1
    let c = Contour { vertices: vec![Vertex { p: v(10.0, 0.0), bulge: 1.0 }, Vertex { p: v(-10.0, 0.0), bulge: 0.0 }] };
    let g = grow(&solid(c), 1.0).unwrap();
    close(g.outer.vertices[0].p.distance(v(120.0_f64.sqrt(), -1.0)), 0.0, 1e-12);
    close(g.segments().next().unwrap().radius(), 11.0, 1e-9);
    // two discs that overlap: the waist between the arcs moves up the common chord
    let both = crate::geom::unite(&[Contour::circle(v(-6.0, 0.0), 10.0), Contour::circle(v(6.0, 0.0), 10.0)]);
    let g = grow(&both[0], 1.0).unwrap();
    let waist = g.outer.vertices.iter().map(|v| v.p.x.abs()).fold(f64::INFINITY, f64::min);
    close(waist, 0.0, 1e-6);
    assert!(g.outer.vertices.iter().any(|w| w.p.distance(v(0.0, (121.0_f64 - 36.0).sqrt())) < 1e-6));
}

#[test]
fn cut_panels_grow_soundly_or_say_why_not() {
    let mut g = Seeded::new(23);
    let (mut done, mut refused) = (0, 0);
    for case in 0..400 {
        let turn = g.range(0.0, 6.3);
        let cuts: Vec<Contour> = (0..1 + g.below(10))
            .map(|_| {
                let at = v(g.below(21) as f64 * 10.0, g.below(9) as f64 * 10.0);
                match g.below(4) {
                    0 => Contour::circle(at, g.range(3.0, 12.0)),
                    1 => Contour::rect(at, at + v(10.0, 20.0)),
                    2 => Contour::rect(v(-20.0, -2.0), v(20.0, 2.0)).turned(g.range(0.0, 6.3)).moved(at),
                    _ => rounded(at, at + v(20.0, 14.0), 3.0),
                }
            })
            .map(|c| c.turned(turn))
            .collect();
        let panel = solid(Contour::rect(v(0.0, 0.0), v(200.0, 80.0)).turned(turn));
        for part in crate::geom::subtract(&panel, &cuts) {
            match grow(&part, 0.09) {
                Err(e) => {
                    assert!(e.by_mm >= 0.0 && e.at.is_finite(), "{e}");
                    refused += 1;
                }
                Ok(out) => {
                    assert_eq!(crate::geom::faults(&out), vec![], "case {case}");
                    boundary_is_at(&part, &out, 0.09);
                    let back = grow(&out, -0.09).unwrap();
                    close(back.area(), part.area(), 1e-6);
                    close(back.length(), part.length(), 1e-6);
                    done += 1;
                }
            }
        }
    }
    assert!(done > 10 * refused, "{done} done, {refused} refused");
}
