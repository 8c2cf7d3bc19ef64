//! Cases: what is enough, what contradicts, how much room there is at each height.

use super::{case_json, check, codes, cures_work, good, near, number};
use crate::finding::Verdict;
use crate::spaces::{Entry, Kind};
use crate::things::Attitude;
use serde_json::json;

#[test]
fn the_lowest_edge_rules_where_walls_lean_out() {
    let s = good(case_json(json!({})));
    assert_eq!(s.kind, Kind::Case);
    let floor = s.usable(0.0);
    near(floor.width_mm, 369.0, 0.05);
    near(floor.depth_mm, 259.0, 0.05);
    let carried = s.usable(60.0);
    near(carried.width_mm, 379.5, 0.05);
    near(carried.depth_mm, 269.5, 0.05);
    assert_eq!(s.usable_between(60.0, 90.0), carried);
    near(s.sinks_before_wedging_mm().unwrap(), 17.15, 0.05);
    near(s.wedges_at_mm(60.0).unwrap(), 42.85, 0.05);
    // made for less than it would sink, it stands on the floor
    assert_eq!(s.wedges_at_mm(17.0), None);
    near(s.slope_x_rad().to_degrees(), 5.0, 1e-9);
}

/// Where the tray wedges, its width and the bare inside are the same: checked on the walls, not by the formula.
#[test]
fn a_wedged_tray_touches_both_walls() {
    for (slope, clearance) in [(5.0, 1.5), (2.0, 1.0), (12.0, 2.5)] {
        let s = good(case_json(json!({"slope_deg": slope, "side_clearance_mm": clearance, "height_mm": 200})));
        let tray = s.usable(150.0);
        let z = s.wedges_at_mm(150.0).unwrap();
        near(s.walls.at(z).width_mm, tray.width_mm, 1e-9);
    }
}

#[test]
fn each_set_of_measures_that_is_enough_gives_the_same_case() {
    let (w, d) = (372.0 + 2.0 * 98.0 * 5f64.to_radians().tan(), 262.0 + 2.0 * 98.0 * 5f64.to_radians().tan());
    let whole = good(case_json(json!({})));
    for changes in [
        json!({"rim_mm": [w, d]}),
        json!({"rim_mm": [w, d], "slope_deg": null}),
        json!({"rim_mm": [w, d], "height_mm": null}),
    ] {
        let s = good(case_json(changes.clone()));
        for z in [0.0, 40.0, 98.0, 120.0] {
            near(s.usable(z).width_mm, whole.usable(z).width_mm, 1e-6);
            near(s.usable(z).depth_mm, whole.usable(z).depth_mm, 1e-6);
        }
        near(s.usable_height_mm, 95.0, 1e-6);
    }
    let upright = good(case_json(json!({"slope_deg": null})));
    assert_eq!((upright.usable(0.0), upright.sinks_before_wedging_mm()), (upright.usable(98.0), None));
}

#[test]
fn both_pairs_of_walls_have_their_own_slope() {
    let s = good(case_json(json!({"slope_deg": null, "rim_mm": [392, 268]})));
    near(s.slope_x_rad().to_degrees(), 5.826, 0.001);
    near(s.slope_y_rad().to_degrees(), 1.754, 0.001);
    // the steeper pair wedges first
    near(s.sinks_before_wedging_mm().unwrap(), 1.5 * 98.0 / 10.0, 1e-9);
}

#[test]
fn too_little_is_refused() {
    for changes in [
        json!({"height_mm": null}),
        json!({"height_mm": null, "slope_deg": null}),
        json!({"height_mm": null, "slope_deg": null, "rim_mm": [389, 279]}),
        json!({"height_mm": null, "slope_deg": 0, "rim_mm": [372, 262]}),
    ] {
        let (space, out) = check(case_json(changes.clone()));
        assert!(space.is_none());
        assert_eq!(codes(&out), [("case-incomplete", Verdict::Refuse)], "{changes}");
    }
}

#[test]
fn measures_that_contradict_are_both_named() {
    let (space, out) = check(case_json(json!({"rim_mm": [400, 279.15]})));
    assert!(space.is_none());
    assert_eq!(codes(&out), [("case-contradicts", Verdict::Refuse)]);
    assert_eq!(out[0].place, "/space/rim_mm/0");
    near(number(&out[0], "rim_from_slope_mm"), 389.148, 0.001);
    near(number(&out[0], "slope_from_rim_deg"), 8.130, 0.001);
    for said in ["400", "389.148", "5°", "8.13"] {
        assert!(out[0].why.contains(said), "{said}: {}", out[0].why);
    }
    let (space, out) = check(case_json(json!({"height_mm": null, "rim_mm": [389.1, 300]})));
    assert!(space.is_none());
    assert_eq!(codes(&out), [("case-contradicts", Verdict::Refuse)]);
    near(number(&out[0], "height_from_depth_mm"), 217.171, 0.001);
    // a tape and a protractor explain a millimetre, a caliper does not explain as much
    good(case_json(json!({"rim_mm": [391.0, 279.0]})));
    let (_, out) = check(case_json(json!({"rim_mm": [391.5, 279.0], "measured_with": "caliper"})));
    assert_eq!(codes(&out), [("case-contradicts", Verdict::Refuse)]);
    // a slope that nobody would give does not come in by the rim either
    let (_, out) = check(case_json(json!({"slope_deg": null, "rim_mm": [500, 262]})));
    assert_eq!((out[0].code, out[0].place.as_str()), ("out-of-range", "/space/rim_mm"));
}

#[test]
fn walls_that_lean_in_let_nothing_through_that_is_wider_than_the_rim() {
    let s = good(case_json(json!({"slope_deg": null, "rim_mm": [366, 256]})));
    assert!(s.slope_x_rad() < 0.0 && s.sinks_before_wedging_mm().is_none());
    assert_eq!(s.usable(0.0).width_mm, 369.0);
    near(s.usable_between(0.0, 98.0).width_mm, 363.0, 1e-9);
    assert_eq!(s.must_pass(363.0, 253.0, 90.0), None);
    near(s.must_pass(369.0, 250.0, 90.0).unwrap().width_over_mm, 6.0, 1e-9);
}

#[test]
fn a_seal_lip_is_passed_on_the_way_in() {
    let s = good(case_json(json!({"opening_mm": [380, 300]})));
    let Entry::Above(way_in) = s.entry else { panic!() };
    near(way_in.width_mm, 377.0, 1e-9);
    near(way_in.depth_mm, 262.0 + 2.0 * 98.0 * 5f64.to_radians().tan() - 3.0, 1e-9);
    let b = s.must_pass(379.5, 269.5, 30.0).unwrap();
    near(b.width_over_mm, 2.5, 1e-9);
    assert_eq!(b.depth_over_mm, 0.0);
    let (space, out) = check(case_json(json!({"opening_mm": [22, 262]})));
    assert!(space.is_none());
    assert_eq!(codes(&out), [("space-too-small", Verdict::Refuse)]);
}

#[test]
fn corners_and_fillets_change_with_height() {
    let s = good(case_json(json!({"corner_radius_floor_mm": 12, "corner_radius_rim_mm": 22, "floor_fillet_mm": 8})));
    near(s.walls.at(49.0).corner_radius_mm, 17.0, 1e-9);
    near(s.usable(49.0).corner_radius_mm, 15.5, 1e-9);
    // the fillet's circle touches the floor 8·tan(42.5°) = 7.331 from the wall's foot, and the wall at
    // 8·(1 − sin 5°) = 7.303 above the floor
    near(s.walls.at(0.0).width_mm, 372.0 - 2.0 * 7.331, 0.001);
    let touch = 8.0 * (1.0 - 5f64.to_radians().sin());
    let bare = good(case_json(json!({})));
    near(s.walls.at(touch).width_mm, bare.walls.at(touch).width_mm, 1e-9);
    near(s.walls.at(touch - 1e-6).width_mm, bare.walls.at(touch).width_mm, 1e-4);
    // every point of the fillet lies 8 from its centre
    let centre_x = 8.0 * 42.5f64.to_radians().tan();
    for z in [0.5, 2.0, 5.0, 7.0] {
        let x = (372.0 - s.walls.at(z).width_mm) / 2.0;
        near((centre_x - x).hypot(8.0 - z), 8.0, 1e-9);
    }
    let widths: Vec<f64> = (0..=98).map(|z| s.usable(f64::from(z)).width_mm).collect();
    assert!(widths.windows(2).all(|p| p[1] > p[0]), "it only gets wider");
}

#[test]
fn lids() {
    assert_eq!(good(case_json(json!({}))).usable_height_mm, 95.0);
    assert_eq!(good(case_json(json!({"open_top": true}))).usable_height_mm, 98.0);
    let deep = json!({"lid": {"depth_mm": 30, "clearance_mm": 4, "side_clearance_mm": 2.5}});
    let s = good(case_json(deep));
    assert_eq!(s.usable_height_mm, 124.0);
    // above the rim the lid's own room counts
    near(s.usable(98.0).width_mm - s.usable(110.0).width_mm, 2.0, 1e-9);
    for (lid, code, verdict) in [
        (json!({"clearance_mm": 0.4}), "lid-clearance", Verdict::Refuse),
        (json!({"clearance_mm": 1.4}), "lid-clearance", Verdict::Warn),
        (json!({"side_clearance_mm": 1.0}), "lid-clearance", Verdict::Warn),
    ] {
        let spec = case_json(json!({"lid": lid}));
        assert_eq!(codes(&check(spec.clone()).1), [(code, verdict)]);
        cures_work(&spec);
    }
    let both = case_json(json!({"lid": {}, "open_top": true}));
    assert_eq!(codes(&check(both.clone()).1), [("lid-contradicts-open-top", Verdict::Refuse)]);
    cures_work(&both);
}

/// The lid is turned in small steps and the point looked at from it: no formula of the room is used.
#[test]
fn a_swinging_lid_hits_what_the_margin_says() {
    let s = good(case_json(json!({"lid": {"depth_mm": 60}})));
    let lid = s.lid.unwrap();
    for (from_hinge, above) in [(250.0, 20.0), (270.0, 55.0), (277.0, 40.0), (279.0, 3.0), (100.0, 50.0)] {
        let mut nearest = f64::INFINITY;
        for i in 0..=9000 {
            let open = f64::from(i) * 0.01_f64.to_radians();
            let (x, z) = (from_hinge * open.cos() + above * open.sin(), above * open.cos() - from_hinge * open.sin());
            if (0.0..=60.0).contains(&z) {
                nearest = nearest.min(lid.span_mm - x);
            }
        }
        near(lid.swing_margin_mm(from_hinge, above), nearest, 0.05);
    }
    assert!(lid.swing_margin_mm(279.0, 0.0).is_infinite());
}

#[test]
fn how_it_is_carried() {
    let all = |v| good(case_json(json!({"attitudes": v}))).attitudes;
    assert_eq!(all(json!(["left-up", "front-up", "left-up"])), [Attitude::Flat, Attitude::FrontUp, Attitude::LeftUp]);
    assert_eq!(all(json!([])), [Attitude::Flat]);
    let (space, out) = check(case_json(json!({"attitudes": null})));
    assert_eq!(codes(&out), [("attitudes-assumed", Verdict::Warn)]);
    assert_eq!(space.unwrap().attitudes, [Attitude::Flat, Attitude::FrontUp]);
}

#[test]
fn clearances_have_house_values() {
    for (value, verdict) in [(0.4, Verdict::Refuse), (0.5, Verdict::Warn), (0.9, Verdict::Warn)] {
        let spec = case_json(json!({"side_clearance_mm": value}));
        assert_eq!(codes(&check(spec.clone()).1), [("side-clearance", verdict)], "{value}");
        cures_work(&spec);
    }
    good(case_json(json!({"side_clearance_mm": 1.0})));
}

#[test]
fn all_faults_are_told_at_once() {
    let (space, out) =
        check(case_json(json!({"floor_mm": [5, 262], "rim_mm": [389, 9000], "side_clearance_mm": 0, "height_mm": -4,
        "lid": {"depth_mm": -1}, "ride": {"down_g": 50}})));
    assert!(space.is_none());
    for place in ["floor_mm/0", "rim_mm/1", "side_clearance_mm", "height_mm", "ride/down_g"] {
        assert!(out.iter().any(|f| f.place == format!("/space/{place}")), "{place}");
    }
    let fault = |v| crate::units::decode::<crate::spaces::SpaceSpec>(case_json(v)).unwrap_err().0;
    assert_eq!(fault(json!({"floor_mm": [1, 2, 3]})), "/floor_mm");
    assert_eq!(fault(json!({"attitudes": ["sideways"]})), "/attitudes/0");
    assert_eq!(fault(json!({"lid": {"hinge": "top"}})), "/lid/hinge");
}
