//! Plans: square corners in round ones.

use super::near;
use crate::spaces::{Plan, square_corner_mm};

#[test]
fn a_square_corner_stays_off_by_0_293_of_the_radius() {
    // common practice: 0.293·R for each side
    near(square_corner_mm(1.0), 0.293, 0.0005);
    for r in [0.0, 3.0, 25.0] {
        let plan = Plan { width_mm: 200.0, depth_mm: 120.0, corner_radius_mm: r };
        let [w, d] = plan.square_mm();
        assert!(plan.admits(w, d, 0.0), "{r}");
        assert!(!plan.admits(w + 0.01, d + 0.01, 0.0), "{r}");
        // the corner stands on the arc: as far from the arc's centre as the radius
        let off = (200.0 - w) / 2.0;
        near((r - off).hypot(r - off), r, 1e-9);
    }
}

/// Points along the inner rectangle's rim are held against the outer one: no formula of the room is used.
#[test]
fn admitting_agrees_with_points_along_the_rim() {
    let outer = Plan { width_mm: 100.0, depth_mm: 60.0, corner_radius_mm: 20.0 };
    let inside = |x: f64, y: f64| {
        let (a, b) = (x - 30.0, y - 10.0);
        x <= 50.0 + 1e-9 && y <= 30.0 + 1e-9 && (a <= 0.0 || b <= 0.0 || a.hypot(b) <= 20.0 + 1e-9)
    };
    let mut fitting = 0;
    for w in [84.0, 88.2, 90.0, 96.0, 100.0, 101.0] {
        for d in [40.0, 48.3, 52.0, 59.0, 60.0] {
            for r in [0.0, 4.0, 12.0, 19.0, 25.0_f64] {
                let r = r.min(d / 2.0);
                let all = (0..=2000).all(|i| {
                    let turn = f64::from(i) / 2000.0 * std::f64::consts::FRAC_PI_2;
                    inside(w / 2.0 - r + r * turn.cos(), d / 2.0 - r + r * turn.sin())
                });
                assert_eq!(outer.admits(w, d, r), all, "{w} × {d}, {r}");
                fitting += usize::from(all);
            }
        }
    }
    assert!((20..130).contains(&fitting), "both answers occur: {fitting} of 150");
}

#[test]
fn shrinking_keeps_the_distance_to_the_arc() {
    let plan = Plan { width_mm: 200.0, depth_mm: 120.0, corner_radius_mm: 10.0 };
    assert_eq!(plan.shrunk(1.5), Plan { width_mm: 197.0, depth_mm: 117.0, corner_radius_mm: 8.5 });
    assert_eq!(plan.shrunk(70.0), Plan { width_mm: 60.0, depth_mm: 0.0, corner_radius_mm: 0.0 });
    // a square corner in the shrunk plan is the clearance away from the arc
    let [w, _] = plan.shrunk(1.5).square_mm();
    let corner = 10.0 - (200.0 - w) / 2.0;
    near(10.0 - corner.hypot(corner), 1.5, 1e-9);
}
