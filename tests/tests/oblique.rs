//! Joints at an angle, from solids, against their closed forms (calculated; scenario numbers written anew).

#![allow(clippy::unwrap_used)] // a test that cannot go on stops here

use berth_core::assembly::{Assembly, Grain, Joint, Panel, Reach, Role};
use berth_core::finish::{Finished, Why, finish};
use berth_core::geom::{DVec3, Frame, HalfSpace, Slab};
use berth_core::kerf::drawn;
use berth_core::shadow::slab::{flush_slot, flush_tab, full_slot, shoulder_wedge};
use berth_core::solid::{Kind, contacts};

fn panel(name: &str, slab: Slab, seed: DVec3, bounds: Vec<HalfSpace>) -> Panel {
    Panel {
        name: name.into(),
        role: Role::Plate,
        stock: 0,
        slab,
        seed,
        bounds,
        rank: 1,
        tools: vec![],
        grain: Grain::Free,
    }
}

fn around(lo: DVec3, hi: DVec3) -> Vec<HalfSpace> {
    [DVec3::X, DVec3::Y, DVec3::Z]
        .iter()
        .flat_map(|n| [HalfSpace::beyond(hi, *n), HalfSpace::beyond(lo, -*n)])
        .collect()
}

/// A plate of thickness `t` that leans at `phi_deg` to a level floor of thickness `host` and is tabbed into it.
fn leaning(t: f64, host: f64, phi_deg: f64, reach: Reach, fit: f64) -> (Assembly, Finished) {
    let mut a = Assembly::default();
    let floor = Slab { frame: Frame::WORLD, thickness: host };
    let floor = a.add(panel(
        "floor",
        floor,
        DVec3::new(0.0, 0.0, host / 2.0),
        around(DVec3::new(-80.0, -80.0, -1.0), DVec3::new(80.0, 80.0, 9.0)),
    ));
    let (sin, cos) = phi_deg.to_radians().sin_cos();
    // the plate's own plane holds x and the line of steepest ascent
    let up = DVec3::new(0.0, cos, sin);
    let normal = DVec3::X.cross(up);
    let foot = DVec3::new(0.0, -20.0, host);
    let slab = Slab { frame: Frame::new(foot, normal, DVec3::X).unwrap(), thickness: t };
    let seed = foot + up * 40.0 + normal * t / 2.0;
    let plate =
        a.add(panel("plate", slab, seed, around(DVec3::new(-60.0, -300.0, -50.0), DVec3::new(60.0, 300.0, 70.0))));
    a.meet(plate, floor, Joint::Tab { reach }, fit);
    let mut out = vec![];
    let finished = finish(&a, &[], "/holders/0", &mut out).unwrap_or_else(|| panic!("{out:#?}"));
    assert!(out.is_empty(), "{out:#?}");
    (a, finished)
}

/// Width of the slots in the floor: they run along x, so it is their size along y.
fn slot_width(f: &Finished) -> f64 {
    let slot = f.panels[0].cuts.iter().find(|c| matches!(c.why, Why::Slot(_))).unwrap();
    let (lo, hi) = slot.contour.bounds();
    hi.y - lo.y
}

// Calculated, t = T = 1: full w/t, flush w/t, flush tab/t, shoulder wedge/t, as printed to three decimals.
const TABLE: [(f64, f64, f64, f64, f64); 9] = [
    (86.0, 1.072, 1.067, 1.002, 0.070),
    (80.0, 1.192, 1.161, 1.015, 0.174),
    (75.0, 1.303, 1.234, 1.035, 0.259),
    (70.0, 1.428, 1.304, 1.064, 0.342),
    (60.0, 1.732, 1.443, 1.155, 0.500),
    (50.0, 2.145, 1.605, 1.305, 0.643),
    (45.0, 2.414, 1.707, 1.414, 0.707),
    (40.0, 2.747, 1.835, 1.556, 0.766),
    (30.0, 3.732, 2.232, 2.000, 0.866),
];

#[test]
fn slots_from_solids_are_as_wide_as_the_closed_forms_say() {
    let mut worst: f64 = 0.0;
    for (phi, full, flush, tab, wedge) in TABLE {
        let rad = phi.to_radians();
        for (t, host) in [(3.1, 3.1), (3.1, 6.2), (4.0, 3.1), (6.1, 6.1)] {
            if t * rad.cos() > host {
                continue;
            }
            let (_, f) = leaning(t, host, phi, Reach::Flush, 0.1);
            worst = worst.max((slot_width(&f) - 0.1 - flush_slot(t, host, rad)).abs());
            let (_, f) = leaning(t, host, phi, Reach::Proud(40.0), 0.1);
            worst = worst.max((slot_width(&f) - 0.1 - full_slot(t, host, rad)).abs());
        }
        for (have, printed) in [
            (full_slot(1.0, 1.0, rad), full),
            (flush_slot(1.0, 1.0, rad), flush),
            (flush_tab(1.0, rad), tab),
            (shoulder_wedge(1.0, rad), wedge),
        ] {
            assert!((have - printed).abs() < 0.0006, "{phi}°: {have} is not {printed}");
        }
    }
    assert!(worst < 1e-6, "a slot is {worst} mm off its closed form");
}

#[test]
fn a_flush_tab_stands_nowhere_proud_and_its_shoulder_touches() {
    for phi in [90.0, 85.0, 75.0, 60.0, 45.0] {
        let (a, f) = leaning(3.1, 3.1, phi, Reach::Flush, 0.1);
        let lowest = f.panels[1]
            .region
            .contours()
            .flat_map(|c| c.vertices.iter())
            .flat_map(|v| [0.0, 3.1].map(|z| a.panels[1].slab.frame.out(v.p.extend(z)).z))
            .fold(f64::INFINITY, f64::min);
        assert!(lowest > -1e-9, "{phi}°: {lowest} below the floor");
        for c in contacts(&a, &f) {
            assert!((c.gap_mm - c.want_mm).abs() < 1e-6 && c.filled, "{phi}°: {c:?}");
            if c.kind == Kind::Shoulder {
                // across the host's plane the open wedge is t·cosφ/sinφ
                let wedge = shoulder_wedge(3.1, f64::to_radians(phi)) / f64::to_radians(phi).sin();
                assert!((c.wedge_mm - wedge).abs() < 1e-6, "{phi}°: {c:?} {wedge}");
            }
        }
    }
}

// A plate t 3.10 at 60° in a floor T 3.10, fit +0.10, kerf 0.18; tabs of 14 (calculated).
#[test]
fn a_rack_plate_at_sixty_degrees() {
    let (_, full) = leaning(3.1, 3.1, 60.0, Reach::Proud(60.0), 0.0);
    assert!((slot_width(&full) - 5.369).abs() < 0.01);
    let (_, f) = leaning(3.1, 3.1, 60.0, Reach::Flush, 0.1);
    assert!((slot_width(&f) - 0.1 - 4.474).abs() < 0.01);
    assert!((flush_tab(3.1, 60f64.to_radians()) - 3.58).abs() < 0.01);
    assert!((shoulder_wedge(3.1, 60f64.to_radians()) - 1.55).abs() < 0.05);
    let outline = drawn(&f.panels[0].region, 0.18).unwrap();
    let (lo, hi) = outline.holes[0].bounds();
    assert!((hi.y - lo.y - 4.394).abs() < 0.01, "drawn {}", hi.y - lo.y);
}

// A floor tabbed through walls that slope 5°, t = 3.10 (calculated): the slot lies in the wall.
#[test]
fn a_floor_tab_in_a_wall_that_slopes_five_degrees() {
    let phi = 85f64.to_radians();
    assert!((full_slot(3.1, 3.1, phi) - 3.383).abs() < 0.01);
    assert!((flush_slot(3.1, 3.1, phi) - 3.359).abs() < 0.01);
    let (_, f) = leaning(3.1, 3.1, 85.0, Reach::Flush, 0.0);
    assert!((slot_width(&f) - 3.359).abs() < 0.01);
}

// Foam board of 4.90, knife-cut, pressed 0.30 under its thickness (calculated).
#[test]
fn the_same_joint_in_foam_board() {
    let (_, square) = leaning(4.9, 4.9, 90.0, Reach::Flush, -0.3);
    assert!((slot_width(&square) - 4.60).abs() < 0.05);
    assert!((full_slot(4.9, 4.9, 60f64.to_radians()) - 8.49).abs() < 0.05);
}

/// Common practice, no source: 6.1 mm ply with a kerf of 0.1 and no fit is drawn as a 6.00 slot.
#[test]
fn six_point_one_ply_is_drawn_as_a_six_millimetre_slot() {
    let (_, f) = leaning(6.1, 6.1, 90.0, Reach::Flush, 0.0);
    let outline = drawn(&f.panels[0].region, 0.1).unwrap();
    let (lo, hi) = outline.holes[0].bounds();
    assert!((hi.y - lo.y - 6.0).abs() < 1e-6, "drawn {}", hi.y - lo.y);
}

/// Drawn from finished, kerf 0.18 applied once (calculated): slot 3.13 × 12.20, tab 12, part 513.10.
#[test]
fn kerf_is_applied_once_and_steps_do_not_change() {
    let (_, f) = leaning(3.095, 3.095, 90.0, Reach::Flush, 0.035);
    assert!((slot_width(&f) - 3.13).abs() < 0.005);
    let k = 0.18;
    let (floor, plate) = (drawn(&f.panels[0].region, k).unwrap(), drawn(&f.panels[1].region, k).unwrap());
    let size = |c: &berth_core::geom::Contour| {
        let (lo, hi) = c.bounds();
        hi - lo
    };
    let (slot, slot_drawn) = (size(&f.panels[0].region.holes[0]), size(&floor.holes[0]));
    assert!((slot_drawn.y - 2.95).abs() < 0.005 && (slot.x - slot_drawn.x - k).abs() < 1e-9);
    assert!((size(&floor.outer).x - size(&f.panels[0].region.outer).x - k).abs() < 1e-9);
    // the tab's length off its shoulder: two edges that face the same way
    let steps = |r: &berth_core::geom::Region| {
        let mut ys: Vec<f64> = r.outer.vertices.iter().map(|v| v.p.y).collect();
        ys.sort_by(f64::total_cmp);
        ys.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
        ys[1] - ys[0]
    };
    assert!((steps(&f.panels[1].region) - 3.095).abs() < 1e-6);
    assert!((steps(&plate) - steps(&f.panels[1].region)).abs() < 1e-9);
}
