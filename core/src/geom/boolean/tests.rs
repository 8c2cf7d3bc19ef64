//! Booleans against area identities and point sampling, on thousands of seeded cases.

use super::*;
use crate::geom::DVec2;
use crate::geom::testing::{Seeded, mirrored, retold, rounded, total_area, v};

const PANEL: (f64, f64) = (400.0, 100.0);

fn panel() -> Region {
    Region::new(Contour::rect(v(0.0, 0.0), v(PANEL.0, PANEL.1)), vec![])
}

/// Result and whether every boundary piece closed up at the first snap distance.
fn subtract_strictly(r: &Region, cuts: &[Contour]) -> Vec<Region> {
    let mut input = of_region(r, 0);
    input.extend(cuts.iter().map(|c| (c.ccw(), 1)));
    let (parts, loose) = combine_at(&input, |w| w[0] > 0 && w[1] <= 0, &[SNAP_MM]);
    assert_eq!(loose, 0, "pieces that close no ring: {r:?} {cuts:?}");
    parts
}

/// Checks a result by points: each random point is in exactly what the operands say.
fn check_points(g: &mut Seeded, r: &Region, cuts: &[Contour], parts: &[Region], n: usize) {
    let (lo, hi) = r.bounds();
    for _ in 0..n {
        let p = g.point(lo - 5.0, hi + 5.0);
        let near = r.segments().chain(cuts.iter().flat_map(Contour::segments));
        if near.map(|s| s.distance_to_point(p)).fold(f64::INFINITY, f64::min) < 1e-5 {
            continue;
        }
        let want = r.contains(p) && !cuts.iter().any(|c| c.contains(p));
        let have = parts.iter().filter(|q| q.contains(p)).count();
        assert_eq!(have, usize::from(want), "at {p} {cuts:?}");
    }
}

/// A rectangle as the joints make them: on a coarse grid, so that edges and corners coincide all the time.
fn grid_rect(g: &mut Seeded, far: bool) -> Contour {
    let step = [5.0, 10.0, 20.0][g.below(3)];
    let on = |g: &mut Seeded, most: f64| (g.below((most / step) as usize + 3) as f64 - 1.0) * step;
    let (mut lo, mut hi) = (v(on(g, 400.0), on(g, 100.0)), v(on(g, 400.0), on(g, 100.0)));
    if lo.x == hi.x {
        hi.x += step;
    }
    if lo.y == hi.y {
        hi.y += step;
    }
    if far && g.chance(0.5) {
        (lo, hi) = (lo.min(hi), lo.max(hi));
        match g.below(4) {
            0 => lo.x = -1e4,
            1 => hi.x = 1e4,
            2 => lo.y = -1e4,
            _ => hi.y = 1e4,
        }
    }
    Contour::rect(lo, hi)
}

fn any_cut(g: &mut Seeded) -> Contour {
    let at = g.point(v(-20.0, -20.0), v(420.0, 120.0));
    let made = match g.below(6) {
        0 => Contour::circle(at, g.range(1.0, 40.0)),
        1 => Contour::circle(v(g.below(20) as f64 * 20.0, g.below(5) as f64 * 25.0), 10.0),
        2 => {
            let d = v(g.range(2.0, 60.0), g.range(2.0, 60.0));
            rounded(at, at + d, d.min_element() * g.range(0.1, 0.45))
        }
        3 => {
            let n = 3 + g.below(9);
            let inner = g.range(4.0, 20.0);
            g.star(at, inner, inner * 1.8, n, true)
        }
        4 => Contour::rect(v(-50.0, -3.0), v(50.0, 3.0)).turned(g.range(0.0, 6.3)).moved(at),
        _ => grid_rect(g, true),
    };
    if g.chance(0.5) { made.reversed() } else { made }
}

#[test]
fn grid_rectangles_with_shared_edges_in_turned_frames() {
    let mut g = Seeded::new(1);
    for case in 0..1500 {
        let n = 1 + g.below(12);
        let turn = if case % 3 == 0 { 0.0 } else { g.range(0.0, 6.3) };
        let cuts: Vec<Contour> = (0..n).map(|_| grid_rect(&mut g, true)).collect();
        // counting cells of the 5 mm grid is an answer that knows no geometry
        let mut cells = 0;
        for i in 0..80 {
            for j in 0..20 {
                let c = v(f64::from(i) * 5.0 + 2.5, f64::from(j) * 5.0 + 2.5);
                cells += usize::from(!cuts.iter().any(|r| r.contains(c)));
            }
        }
        let r = panel().turned(turn);
        let cuts: Vec<Contour> = cuts.iter().map(|c| c.turned(turn)).collect();
        let parts = subtract_strictly(&r, &cuts);
        let want = cells as f64 * 25.0;
        assert!((total_area(&parts) - want).abs() < 2e-3, "case {case}: {} for {want}", total_area(&parts));
    }
}

#[test]
fn mixed_cuts_leave_what_points_say() {
    let mut g = Seeded::new(2);
    for _ in 0..1200 {
        let n = 1 + g.below(10);
        let mut cuts: Vec<Contour> = (0..n).map(|_| any_cut(&mut g)).collect();
        if g.chance(0.3) {
            // the same cut twice, told differently
            let again = retold(&cuts[0]).swap_remove(g.below(4));
            cuts.push(again);
        }
        let r = panel();
        let parts = subtract_strictly(&r, &cuts);
        check_points(&mut g, &r, &cuts, &parts, 40);
    }
}

#[test]
fn difference_and_intersection_make_up_the_whole() {
    let mut g = Seeded::new(3);
    for _ in 0..1500 {
        let n = 5 + g.below(8);
        let hole = Contour::circle(v(200.0, 50.0), g.range(5.0, 12.0));
        let a = Region::new(g.star(v(200.0, 50.0), 30.0, 70.0, n, true), vec![hole]);
        let mut b = any_cut(&mut g).moved(v(g.range(-9.0, 9.0), 0.0));
        if g.chance(0.25) {
            // the outline itself moved along nothing: all edges coincide
            b = a.outer.turned(0.7).turned(-0.7);
        }
        let turn = g.range(0.0, 6.3);
        let (a, b) = (a.turned(turn), b.turned(turn));
        let minus = subtract(&a, std::slice::from_ref(&b));
        let both = intersect(&a, &Region::new(b.clone(), vec![]));
        let sum = total_area(&minus) + total_area(&both);
        assert!((sum - a.area()).abs() < 5e-3, "{sum} for {}", a.area());
        let either = unite_regions(&[a.clone(), Region::new(b.clone(), vec![])]);
        let want = total_area(&minus) + b.area().abs();
        assert!((total_area(&either) - want).abs() < 5e-3, "{} for {want}", total_area(&either));
    }
}

#[test]
fn the_way_a_case_is_told_does_not_matter() {
    let mut g = Seeded::new(4);
    for _ in 0..150 {
        let cuts: Vec<Contour> = (0..4).map(|_| any_cut(&mut g)).collect();
        let first = subtract(&panel(), &cuts);
        for outer in retold(&panel().outer) {
            for way in 0..4 {
                let mut again: Vec<Contour> = cuts.iter().map(|c| retold(c).swap_remove(way)).collect();
                again.rotate_left(way);
                let parts = subtract(&Region::new(outer.clone(), vec![]), &again);
                same_facts(&first, &parts);
            }
        }
        let flipped: Vec<Contour> = cuts.iter().map(mirrored).collect();
        let parts = subtract(&Region::new(mirrored(&panel().outer), vec![]), &flipped);
        assert_eq!(first.len(), parts.len());
        assert!((total_area(&first) - total_area(&parts)).abs() < 1e-3);
    }
}

fn same_facts(a: &[Region], b: &[Region]) {
    assert_eq!(a.len(), b.len());
    for (p, q) in a.iter().zip(b) {
        assert_eq!(p.holes.len(), q.holes.len());
        assert!((p.area() - q.area()).abs() < 1e-3, "{} {}", p.area(), q.area());
        assert!((p.length() - q.length()).abs() < 1e-3, "{} {}", p.length(), q.length());
        assert!((p.bounds().0 - q.bounds().0).length() < 1e-4 && (p.bounds().1 - q.bounds().1).length() < 1e-4);
    }
}

#[test]
fn a_hundred_slots_far_past_the_edge() {
    let mut cuts = Vec::new();
    for i in 0..50 {
        let x = f64::from(i) * 8.0;
        cuts.push(Contour::rect(v(x, 90.0), v(x + 4.0, 1e4)));
        cuts.push(Contour::rect(v(x + 4.0, -1e4), v(x + 8.0, 10.0)));
    }
    for turn in [0.0, 0.3, 1.0, 2.0] {
        let cuts: Vec<Contour> = cuts.iter().map(|c| c.turned(turn)).collect();
        let parts = subtract_strictly(&panel().turned(turn), &cuts);
        assert_eq!(parts.len(), 1);
        assert!((parts[0].area() - (40_000.0 - 100.0 * 40.0)).abs() < 1e-3);
        assert!(parts[0].holes.is_empty());
        // 50 notches of 4 corners each a side; at each end of a side one notch runs out at the corner
        assert_eq!(parts[0].outer.vertices.len(), 404 - 4 + 4 - 4, "{:?}", parts[0].outer.vertices.len());
    }
}

#[test]
fn crossed_strips_make_a_grid_of_equal_parts() {
    // ten strips each way, 30 mm every 40 mm: 11 × 3 parts of 10 mm, and the order is by place
    let mut cuts: Vec<Contour> =
        (0..10).map(|i| f64::from(i) * 40.0 + 10.0).map(|x| Contour::rect(v(x, -9.0), v(x + 30.0, 109.0))).collect();
    cuts.extend([10.0, 60.0].map(|y| Contour::rect(v(-9.0, y), v(409.0, y + 30.0))));
    let parts = subtract_strictly(&panel(), &cuts);
    assert_eq!(parts.len(), 10 * 3);
    // columns stand at 0, 40, ..: 10 of them 10 wide; rows 0-10, 40-60, 90-100
    assert!((total_area(&parts) - 10.0 * 10.0 * 40.0).abs() < 1e-9);
    assert!(parts.windows(2).all(|w| w[0].area() > w[1].area() - 1e-9));
    assert_eq!(parts[0].bounds().0, v(0.0, 40.0));
    assert_eq!(parts[10].bounds().0, v(0.0, 0.0));
    assert_eq!(parts[11].bounds().0, v(0.0, 90.0));
}

#[test]
fn holes_swallowed_split_touched_and_nested() {
    let ring = Region::new(
        Contour::rect(v(0.0, 0.0), v(100.0, 100.0)),
        vec![Contour::circle(v(50.0, 50.0), 20.0), Contour::rect(v(5.0, 5.0), v(15.0, 15.0))],
    );
    // swallows both holes
    let parts = subtract_strictly(&ring, &[Contour::rect(v(2.0, 2.0), v(98.0, 98.0))]);
    assert_eq!((parts.len(), parts[0].holes.len()), (1, 1));
    assert!((parts[0].area() - (10_000.0 - 96.0 * 96.0)).abs() < 1e-9);
    // a cut around a post leaves the post as a part of its own
    let frame = [
        Contour::rect(v(70.0, 70.0), v(90.0, 74.0)),
        Contour::rect(v(70.0, 86.0), v(90.0, 90.0)),
        Contour::rect(v(70.0, 74.0), v(74.0, 86.0)),
        Contour::rect(v(86.0, 74.0), v(90.0, 86.0)),
    ];
    let parts = subtract_strictly(&ring, &frame);
    assert_eq!((parts.len(), parts[0].holes.len(), parts[1].holes.len()), (2, 3, 0));
    assert!((parts[1].area() - 144.0).abs() < 1e-9);
    // a hole that touches the boundary at one corner stays a hole
    let diamond = Contour::polygon(&[v(0.0, 50.0), v(10.0, 40.0), v(20.0, 50.0), v(10.0, 60.0)]);
    let square = Region::new(Contour::rect(v(0.0, 0.0), v(100.0, 100.0)), vec![]);
    let parts = subtract_strictly(&square, &[diamond]);
    assert_eq!((parts.len(), parts[0].holes.len()), (1, 1));
    assert!((parts[0].area() - 9_800.0).abs() < 1e-9);
    // a circle that touches the edge from inside
    let parts = subtract_strictly(&square, &[Contour::circle(v(10.0, 50.0), 10.0)]);
    assert_eq!((parts.len(), parts[0].holes.len()), (1, 1));
    assert!((parts[0].area() - (1e4 - 100.0 * core::f64::consts::PI)).abs() < 1e-6);
}

#[test]
fn nothing_left_nothing_cut_and_bad_numbers() {
    assert!(subtract(&panel(), &[Contour::rect(v(-1.0, -1.0), v(401.0, 101.0))]).is_empty());
    assert!(subtract(&panel(), &[panel().outer]).is_empty());
    let same = subtract(&panel(), &[Contour::rect(v(400.0, 0.0), v(500.0, 100.0)), Contour::default()]);
    assert_eq!(same, vec![panel()]);
    let mut bad = Contour::rect(v(1.0, 1.0), v(2.0, 2.0));
    bad.vertices[1].p.x = f64::NAN;
    assert_eq!(subtract(&panel(), &[bad]), vec![panel()]);
    let mut huge = Contour::rect(v(1.0, 1.0), v(2.0, 2.0));
    huge.vertices[2].p = DVec2::splat(1e300);
    huge.vertices[1].bulge = 1e300;
    let _ = subtract(&panel(), &[huge]);
    // a gap of a thousandth of a micron leaves no sliver
    assert!(subtract(&panel(), &[Contour::rect(v(-1.0, -1.0), v(400.0 - 2e-7, 101.0))]).is_empty());
}

#[test]
fn arcs_stay_true_arcs() {
    // two discs of radius 10, centres 10 apart: union 2πr² − lens; lens = r²(2π/3 − √3/2) (segment of a
    // circle with θ = 120° twice, Machinery's Handbook, 31st ed., p. 79)
    let (a, b) = (Contour::circle(v(0.0, 0.0), 10.0), Contour::circle(v(10.0, 0.0), 10.0));
    let lens = 100.0 * (2.0 * core::f64::consts::PI / 3.0 - 3.0_f64.sqrt() / 2.0);
    let both = unite(&[a.clone(), b.clone()]);
    assert_eq!(both.len(), 1);
    assert!((both[0].area() - (200.0 * core::f64::consts::PI - lens)).abs() < 1e-6);
    let cut = intersect(&Region::new(a, vec![]), &Region::new(b, vec![]));
    assert!((cut[0].area() - lens).abs() < 1e-6);
    assert_eq!(cut[0].outer.vertices.len(), 2);
    for s in both[0].segments() {
        assert!((s.radius() - 10.0).abs() < 1e-6);
    }
}

/// The same outline for the outside library.
fn foreign(c: &Contour) -> cavalier_contours::polyline::Polyline<f64> {
    use cavalier_contours::polyline::{PlineSourceMut, Polyline};
    let mut p = Polyline::new_closed();
    c.vertices.iter().for_each(|w| p.add(w.p.x, w.p.y, w.bulge));
    p
}

#[test]
fn an_outside_library_finds_the_same_areas() {
    // cavalier_contours, itself held against shapely: two outlines at a time, nothing coincident
    use cavalier_contours::polyline::{BooleanOp, BooleanResultPline, PlineSource, Polyline};
    let mut g = Seeded::new(5);
    for _ in 0..1000 {
        let n = 4 + g.below(8);
        let a = g.star(v(200.0, 50.0), 30.0, 60.0, n, true).ccw();
        let at = g.point(v(140.0, -10.0), v(260.0, 110.0));
        let b = g.star(at, 10.0, 50.0, 7, true).ccw();
        let (r, s) = (Region::new(a.clone(), vec![]), Region::new(b.clone(), vec![]));
        let outside = |op| {
            let found = foreign(&a).boolean(&foreign(&b), op);
            let sum = |p: &[BooleanResultPline<Polyline<f64>>]| p.iter().map(|p| p.pline.area().abs()).sum::<f64>();
            sum(&found.pos_plines) - sum(&found.neg_plines)
        };
        for (op, parts) in [
            (BooleanOp::Not, subtract(&r, std::slice::from_ref(&b))),
            (BooleanOp::And, intersect(&r, &s)),
            (BooleanOp::Or, unite(&[a.clone(), b.clone()])),
        ] {
            let (have, want) = (total_area(&parts), outside(op));
            assert!((have - want).abs() < 1e-3, "{have} for {want}");
        }
    }
}
