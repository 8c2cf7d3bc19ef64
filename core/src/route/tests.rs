//! Whole routes: what comes first, nothing twice, and how short the way is.

use super::*;
use crate::geom::Contour;
use crate::units::dice::Dice;

pub(super) const MOTION: Motion =
    Motion { feed_mm_s: 12.0, passes: 1, travel_mm_s: 250.0, accel_mm_s2: 2000.0, pierce_s: 0.2, mark_mm_s: 100.0 };

fn at(x: f64, y: f64) -> DVec2 {
    DVec2::new(x, y)
}

fn add(all: &mut Vec<RouteContour>, role: Role, part: usize, contour: Contour) {
    all.push(RouteContour { contour, role, part });
}

/// A part in a box, with marks and openings in it, and parts in those, down to a depth.
fn part(all: &mut Vec<RouteContour>, dice: &mut Dice, low: DVec2, size: DVec2, depth: usize, parts: &mut usize) {
    let me = *parts;
    *parts += 1;
    let inset = size * (0.02 + 0.08 * dice.share());
    let (low, size) = (low + inset, size - 2.0 * inset);
    let shape = |dice: &mut Dice, low: DVec2, size: DVec2| match dice.below(3) {
        0 => Contour::circle(low + size / 2.0, size.min_element() / 2.0),
        _ => Contour::rect(low, low + size),
    };
    add(all, Role::Edge, me, shape(dice, low, size));
    if dice.below(2) == 0 {
        let from = low + size * 0.5;
        add(all, Role::Mark, me, Contour::polygon(&[from, from + at(2.0, 1.0), from + at(4.0, 0.0)]));
    }
    // within the circle that the part may be
    let square = at(size.min_element(), size.min_element());
    let (low, size) = (low + (size - square * 0.6) / 2.0, square * 0.6);
    let side = dice.below(3);
    for k in 0..side {
        let wide = size.x / side as f64;
        let (low, size) = (low + at(wide * k as f64, 0.0), at(wide * 0.9, size.y));
        let hole = shape(dice, low, size);
        add(all, Role::Opening, me, hole.cw());
        if depth > 0 && dice.below(3) > 0 {
            let inner = at(size.min_element(), size.min_element()) * 0.6;
            part(all, dice, low + (size - inner) / 2.0, inner, depth - 1, parts);
        }
    }
}

/// A sheet of parts in rows, in an order of no meaning.
fn sheet(seed: u64, columns: usize, rows: usize) -> Vec<RouteContour> {
    let mut dice = Dice::new(seed);
    let (mut all, mut parts) = (vec![], 0);
    let size = at(600.0 / columns as f64, 400.0 / rows as f64);
    for c in 0..columns {
        for r in 0..rows {
            part(&mut all, &mut dice, size * at(c as f64, r as f64), size, 2, &mut parts);
        }
    }
    for k in (1..all.len()).rev() {
        all.swap(k, dice.below(k + 1));
    }
    all
}

fn surrounds(outer: &RouteContour, inner: &RouteContour) -> bool {
    let ((a, b), (c, d)) = (outer.contour.bounds(), inner.contour.bounds());
    a.cmplt(c).all() && b.cmpgt(d).all() && outer.contour.contains(inner.contour.vertices[0].p)
}

/// What is cut too late: pairs that stand the wrong way round.
fn too_late(all: &[RouteContour], r: &Route) -> Vec<(usize, usize)> {
    let mut place = vec![usize::MAX; all.len()];
    r.order.iter().enumerate().for_each(|(k, (i, _))| place[*i] = k);
    let first = |a: &RouteContour, b: &RouteContour| match (a.role, b.role) {
        (Role::Mark, Role::Opening | Role::Edge) => true,
        // whatever part they belong to: an edge drops all that lies in it
        (Role::Opening, Role::Edge) | (Role::Edge, Role::Opening) => surrounds(b, a),
        _ => false,
    };
    let pairs = (0..all.len()).flat_map(|i| (0..all.len()).map(move |k| (i, k)));
    pairs.filter(|(i, k)| first(&all[*i], &all[*k]) && place[*i] > place[*k]).collect()
}

/// The nearest beginning next, kind by kind: what was done before there was a search.
fn simple_way(all: &[RouteContour]) -> f64 {
    let (mut way, mut here) = (0.0, DVec2::ZERO);
    for role in [Role::Mark, Role::Opening, Role::Edge] {
        let mut left: Vec<&RouteContour> = all.iter().filter(|c| c.role == role).collect();
        while !left.is_empty() {
            let d = |c: &RouteContour| c.contour.vertices[0].p.distance(here);
            let k = (0..left.len()).min_by(|a, b| d(left[*a]).total_cmp(&d(left[*b]))).unwrap();
            let c = left.swap_remove(k);
            way += d(c);
            let v = &c.contour.vertices;
            here = if role == Role::Mark { v[v.len() - 1].p } else { v[0].p };
        }
    }
    way
}

#[test]
fn inner_before_outer_at_any_depth_and_each_contour_once() {
    let mut nested = 0;
    for seed in 0..60 {
        let all = sheet(seed, 2 + seed as usize % 3, 1 + seed as usize % 4);
        let r = route(&all, &MOTION, Effort::Quick);
        let mut seen: Vec<usize> = r.order.iter().map(|(i, _)| *i).collect();
        seen.sort_unstable();
        assert_eq!(seen, (0..all.len()).collect::<Vec<_>>(), "seed {seed}");
        assert_eq!(too_late(&all, &r), vec![], "seed {seed}");
        assert!(r.order.iter().all(|(i, v)| *v < all[*i].contour.vertices.len()));
        assert!(r.travel_mm <= simple_way(&all) + 1e-6, "seed {seed}: {} {}", r.travel_mm, simple_way(&all));
        nested += all.iter().filter(|c| all.iter().any(|o| o.part != c.part && surrounds(o, c))).count();
    }
    assert!(nested > 100, "the sheets hold parts in parts: {nested}");
}

#[test]
fn a_route_is_the_same_every_time_and_never_longer_for_more_effort() {
    for seed in 100..104 {
        let all = sheet(seed, 3, 2);
        let quick = route(&all, &MOTION, Effort::Quick);
        assert_eq!(quick, route(&all, &MOTION, Effort::Quick));
        let normal = route(&all, &MOTION, Effort::Normal);
        assert!(normal.travel_mm <= quick.travel_mm + 1e-9, "{} {}", normal.travel_mm, quick.travel_mm);
    }
}

#[test]
fn never_longer_than_the_nearest_next() {
    for seed in 200..230 {
        let all: Vec<RouteContour> = sheet(seed, 4, 3).into_iter().filter(|c| c.role != Role::Mark).collect();
        let visits = visit::visits(&all, false);
        let ground = Ground { visits: &visits, start: DVec2::ZERO };
        let nearest = ground.length(&ground.nearest_next());
        assert!(route(&all, &MOTION, Effort::Quick).travel_mm <= nearest + 1e-9);
    }
}

/// The shortest way of all orders and all gates, by trying every order.
fn shortest(visits: &[visit::Visit]) -> f64 {
    fn go(ground: &Ground, tour: &mut Vec<Step>, best: &mut f64) {
        if tour.len() == ground.visits.len() {
            let mut whole = tour.clone();
            ground.all_gates(&mut whole);
            *best = best.min(ground.length(&whole));
        }
        for visit in 0..ground.visits.len() {
            let done = |v: &usize| tour.iter().any(|s| s.visit == *v);
            if !done(&visit) && ground.visits[visit].before.iter().all(done) {
                tour.push(Step { visit, gate: 0 });
                go(ground, tour, best);
                tour.pop();
            }
        }
    }
    let mut best = f64::INFINITY;
    go(&Ground { visits, start: DVec2::ZERO }, &mut vec![], &mut best);
    best
}

#[test]
fn small_sheets_get_the_shortest_way_there_is() {
    let (mut tried, mut seed) = (0, 1000);
    while tried < 12 {
        seed += 1;
        let all: Vec<RouteContour> = sheet(seed, 2, 1).into_iter().filter(|c| c.role != Role::Mark).collect();
        if !(4..=7).contains(&all.len()) {
            continue;
        }
        tried += 1;
        let (ours, least) = (route(&all, &MOTION, Effort::Quick).travel_mm, shortest(&visit::visits(&all, false)));
        assert!((ours - least).abs() < 1e-6, "seed {seed}: {ours}, the shortest is {least}");
    }
}

// worked by hand: to (10, 0) 10, past three squares of 10 a side with 10 between them along their lower
// edges 10 + 10, and the marks' line of 5 is followed to its far end on the way
#[test]
fn a_row_of_squares_is_entered_along_one_line() {
    let mut all = vec![];
    for k in 0..3 {
        let low = at(10.0 + 20.0 * f64::from(k), 0.0);
        add(&mut all, Role::Edge, k as usize, Contour::rect(low, low + at(10.0, 10.0)));
    }
    let r = route(&all, &MOTION, Effort::Quick);
    assert!((r.travel_mm - 50.0).abs() < 1e-9, "{}", r.travel_mm);
    add(&mut all, Role::Mark, 0, Contour::polygon(&[at(9.0, 0.0), at(4.0, 0.0)]));
    let r = route(&all, &MOTION, Effort::Quick);
    assert_eq!(r.order[0], (3, 1), "the mark is followed from its near end");
    assert!((r.travel_mm - 45.0).abs() < 1e-9 && (r.mark_mm - 5.0).abs() < 1e-9);
    assert_eq!(r.pierces, 3);
}

#[test]
fn nothing_and_oddities_do_no_harm() {
    assert_eq!(route(&[], &MOTION, Effort::Thorough), Route::default());
    let mut all = vec![];
    add(&mut all, Role::Edge, 0, Contour::default());
    add(&mut all, Role::Edge, 1, Contour::polygon(&[at(f64::NAN, 1.0), at(2.0, 3.0)]));
    add(&mut all, Role::Mark, 1, Contour::polygon(&[at(5.0, 5.0)]));
    add(&mut all, Role::Opening, 7, Contour::rect(at(1.0, 1.0), at(2.0, 2.0)));
    let still = Motion { feed_mm_s: 0.0, accel_mm_s2: 0.0, travel_mm_s: 0.0, mark_mm_s: 0.0, ..MOTION };
    assert_eq!(route(&all, &still, Effort::Quick).order.len(), 3, "what has no vertex is not cut");
}

// a job worked through by hand: 13.66 m of outline at 12 mm/s are 19.0 min of cutting, without pierces or
// travel; here as ten rectangles of a box with dividers, whose laps and fingers add what is missing to 13.66 m
#[test]
fn cutting_minutes_of_a_box_with_dividers() {
    let sizes = [(513.1, 438.1, 1), (513.1, 70.0, 2), (438.1, 70.0, 2), (513.1, 60.0, 2), (438.1, 60.0, 3)];
    let mut all = vec![];
    for (w, h, count) in sizes {
        for _ in 0..count {
            let k = all.len();
            add(&mut all, Role::Edge, k, Contour::rect(DVec2::ZERO, at(w, h)));
        }
    }
    // six crossings of half-laps, two slots each, 30 deep: the outline without fingers
    let laps = 6.0 * 2.0 * 2.0 * 30.0;
    let rects = route(&all, &MOTION, Effort::Quick);
    assert!((rects.cut_mm + laps - 12_270.0).abs() < 100.0, "{}", rects.cut_mm);
    // slots of 13.66 m less the rectangles
    let rest = 13_660.0 - rects.cut_mm;
    add(&mut all, Role::Opening, 0, Contour::rect(at(100.0, 20.0), at(103.0, 20.0 + rest / 2.0 - 3.0)));
    let r = route(&all, &MOTION, Effort::Quick);
    assert!((r.cut_mm - 13_660.0).abs() < 1e-6);
    assert!((r.cut_s / 60.0 - 19.0).abs() < 0.5, "{}", r.cut_s / 60.0);
    assert!(r.minutes > r.cut_s / 60.0 && r.minutes < 20.5, "{}", r.minutes);
}
