//! Drawers: smallest readings, skew, clearances, contradictions.

use super::{check, codes, cures_work, drawer_json, good, near, number};
use crate::finding::Verdict;
use crate::spaces::{Entry, Kind, Skew};
use crate::units::DefaultUsed;
use serde_json::{Value, json};

fn skewed() -> Value {
    drawer_json(json!({"width_mm": [518.4, 517.6, 517.9], "depth_mm": [441.0, 440.2], "diagonals_mm": [681.4, 677.6]}))
}

#[test]
fn two_diagonals_show_what_six_readings_hide() {
    let (space, out) = check(skewed());
    assert_eq!(codes(&out), [("drawer-skewed", Verdict::Warn)]);
    let space = space.unwrap();
    let skew = space.skew.unwrap();
    near(skew.angle_deg, 0.32, 0.05);
    near(skew.width_lost_mm, 2.49, 0.05);
    let plan = space.usable(0.0);
    near(plan.width_mm, 513.11, 0.05);
    near(plan.depth_mm, 438.19, 0.05);
    assert_eq!(space.usable(50.0), plan, "upright walls");
    // a tape's half millimetre on both diagonals: (681.4 + 677.6)·0.5/(2·517.6)
    near(skew.uncertainty_mm, 0.656, 0.001);
    for said in ["0.32° out of square", "2.5 mm", "± 0.7", "513.1 × 438.2"] {
        assert!(out[0].why.contains(said), "{said}: {}", out[0].why);
    }
    // either diagonal may be the long one, and the drawer may be turned by a quarter
    let turned = super::merge(skewed(), json!({"diagonals_mm": [677.6, 681.4]}));
    assert_eq!(check(turned).0.unwrap().usable(0.0), plan);
}

/// The upright rectangle is cut from the parallelogram itself, corner by corner, not by the formula.
#[test]
fn the_holder_lies_within_the_parallelogram() {
    for (w, d, skew_deg) in [(517.6_f64, 440.2_f64, 0.32_f64), (300.0, 600.0, 0.9), (250.0, 250.0, 0.05)] {
        let s = skew_deg.to_radians();
        let (top_x, top_y) = (d * s.sin(), d * s.cos());
        let diagonals = [(w + top_x).hypot(top_y), (w - top_x).hypot(top_y)];
        let skew = Skew::from_diagonals(w, d, diagonals, 0.5);
        near(skew.angle_deg, skew_deg, 1e-9);
        let (hw, hd) = (w - skew.width_lost_mm, d - skew.depth_lost_mm);
        // left wall runs from (0, 0) to (top_x, top_y), right wall w beside it
        near(hd, top_y, 1e-9);
        let x = top_x; // leftmost place where the rectangle touches the left wall at the back
        near(x + hw, w, 1e-9);
    }
}

#[test]
fn skew_is_warned_about_and_refused() {
    let diagonals = |deg: f64| {
        let s = deg.to_radians();
        let (w, d) = (420.0, 380.0);
        let (x, y) = (d * s.sin(), d * s.cos());
        json!({"diagonals_mm": [f64::hypot(w + x, y), f64::hypot(w - x, y)]})
    };
    for (deg, verdict) in
        [(0.19, None), (0.21, Some(Verdict::Warn)), (0.99, Some(Verdict::Warn)), (1.01, Some(Verdict::Refuse))]
    {
        let (space, out) = check(drawer_json(diagonals(deg)));
        assert_eq!(out.first().map(|f| (f.code, f.verdict)), verdict.map(|v| ("drawer-skewed", v)), "{deg}");
        assert_eq!(space.is_none(), verdict == Some(Verdict::Refuse));
    }
}

#[test]
fn a_better_instrument_makes_the_loss_surer() {
    let by = |with: &str| check(super::merge(skewed(), json!({"measured_with": with}))).0.unwrap();
    near(by("rule").skew.unwrap().uncertainty_mm, 0.656, 0.001);
    near(by("caliper").skew.unwrap().uncertainty_mm, 0.0656, 0.0001);
    // a narrow, deep drawer by tape: the loss is as unsure as the clearance is wide
    let deep = drawer_json(json!({"width_mm": 200, "depth_mm": 600, "diagonals_mm": [632.6, 632.4]}));
    let (_, out) = check(deep.clone());
    assert_eq!(codes(&out), [("skew-uncertain", Verdict::Warn)]);
    near(number(&out[0], "uncertainty_mm"), 1.581, 0.001);
    cures_work(&deep);
    assert_eq!(codes(&check(super::merge(deep, json!({"measured_with": "caliper"}))).1), []);
}

#[test]
fn walls_cannot_be_negative() {
    let bad = drawer_json(json!({"width_mm": 492, "outside_width_mm": 480}));
    let (space, out) = check(bad.clone());
    assert!(space.is_none());
    assert_eq!(codes(&out), [("walls-negative", Verdict::Refuse)]);
    near(number(&out[0], "wall_mm"), -6.0, 0.05);
    for said in ["480", "492", "-6"] {
        assert!(out[0].why.contains(said), "{said}: {}", out[0].why);
    }
    cures_work(&bad);
    assert!(check(drawer_json(json!({"depth_mm": 380, "outside_depth_mm": 380}))).0.is_none(), "walls of nothing");
    good(drawer_json(json!({"outside_width_mm": 444, "outside_depth_mm": 404})));
}

#[test]
fn diagonals_belong_to_their_drawer() {
    let (space, out) = check(drawer_json(json!({"diagonals_mm": [566.4, 506.4]})));
    assert!(space.is_none());
    assert_eq!(codes(&out), [("diagonals-contradict", Verdict::Refuse)]);
    assert!(out[0].why.contains("420") && out[0].why.contains("506.4"), "{}", out[0].why);
    // hypot(420, 380) = 566.39; round corners of 20 shorten a diagonal by 2·0.414·20 = 16.6
    good(drawer_json(json!({"diagonals_mm": [566.4, 566.4]})));
    let round = json!({"corner_radius_mm": 20, "diagonals_mm": [549.9, 549.9]});
    assert_eq!(codes(&check(drawer_json(round.clone())).1), []);
    assert_eq!(
        check(drawer_json(super::merge(round, json!({"corner_radius_mm": 0})))).1[0].code,
        "diagonals-contradict"
    );
}

#[test]
fn clearances_have_house_values() {
    for (field, value, code, verdict) in [
        ("side_clearance_mm", 0.29, "side-clearance", Verdict::Refuse),
        ("side_clearance_mm", 0.3, "side-clearance", Verdict::Warn),
        ("side_clearance_mm", 0.69, "side-clearance", Verdict::Warn),
        ("side_clearance_mm", 2.1, "side-clearance", Verdict::Warn),
        ("top_clearance_mm", 1.4, "top-clearance", Verdict::Refuse),
        ("top_clearance_mm", 2.9, "top-clearance", Verdict::Warn),
    ] {
        let spec = drawer_json(json!({field: value}));
        assert_eq!(codes(&check(spec.clone()).1), [(code, verdict)], "{field} {value}");
        cures_work(&spec);
    }
    good(drawer_json(json!({"side_clearance_mm": 0.7, "top_clearance_mm": 3})));
    let s = good(drawer_json(json!({"side_clearance_mm": 2.0, "top_clearance_mm": 6})));
    assert_eq!((s.usable(10.0).width_mm, s.usable_height_mm), (416.0, 86.0));
}

#[test]
fn the_smallest_reading_rules_and_slips_are_found() {
    let s = good(drawer_json(json!({"clear_height_mm": [96, 92, 97], "width_mm": [421.0, 420.0, 422.5]})));
    assert_eq!((s.usable_height_mm, s.usable(0.0).width_mm, s.kind), (88.0, 418.0, Kind::Drawer));
    let (space, out) = check(drawer_json(json!({"width_mm": [420, 426]})));
    assert_eq!(codes(&out), [("readings-disagree", Verdict::Warn)]);
    assert_eq!(space.unwrap().usable(0.0).width_mm, 418.0);
    let (space, out) = check(drawer_json(json!({"depth_mm": [380, 38.1]})));
    assert!(space.is_none());
    assert_eq!(codes(&out), [("readings-disagree", Verdict::Refuse)]);
}

#[test]
fn what_the_slides_carry_is_halved_when_slammed() {
    let kg = json!({"slide_capacity_kg": 20});
    assert_eq!(good(drawer_json(kg.clone())).payload_g, Some(10_000.0));
    let gentle = super::merge(kg, json!({"slam": {"speed_m_s": 0.4, "stop_mm": 60}}));
    assert_eq!(good(drawer_json(gentle)).payload_g, Some(20_000.0));
    assert_eq!(good(drawer_json(json!({}))).payload_g, None);
}

#[test]
fn a_short_extension_hides_the_back() {
    let s = good(drawer_json(json!({"extension_mm": 310})));
    assert_eq!((s.reach_mm, s.out_of_reach_mm(300.0), s.out_of_reach_mm(379.0)), (310.0, 0.0, 69.0));
    assert_eq!(good(drawer_json(json!({}))).out_of_reach_mm(379.0), 0.0);
    assert_eq!(good(drawer_json(json!({"extension_mm": 500}))).reach_mm, 380.0);
}

#[test]
fn the_way_in_is_from_above() {
    let s = good(drawer_json(json!({"corner_radius_mm": 11})));
    assert!(matches!(s.entry, Entry::Above(p) if p == s.usable(92.0)));
    // 420 − 2 − 2·0.293·(11 − 1)
    near(s.usable(0.0).square_mm()[0], 412.142, 0.001);
    assert_eq!(s.must_pass(412.1, 372.1, 60.0), None);
    let b = s.must_pass(413.0, 373.5, 60.0).unwrap();
    near(b.width_over_mm, 413.0 - 412.142, 0.001);
    near(b.depth_over_mm, 373.5 - 372.142, 0.001);
    assert_eq!(b.height_over_mm, 0.0);
}

#[test]
fn all_faults_are_told_at_once() {
    let bad = drawer_json(
        json!({"width_mm": [420, 5], "outside_depth_mm": 300, "side_clearance_mm": 0.1, "top_clearance_mm": 0,
        "corner_radius_mm": 250, "diagonals_mm": [1, 2], "slam": {"stop_mm": 0.1}, "ride": {"up_g": 99}}),
    );
    let (space, out) = check(bad);
    assert!(space.is_none());
    for place in [
        "width_mm/1",
        "outside_depth_mm",
        "side_clearance_mm",
        "top_clearance_mm",
        "corner_radius_mm",
        "diagonals_mm/0",
        "slam/stop_mm",
        "ride/up_g",
    ] {
        assert!(out.iter().any(|f| f.place == format!("/space/{place}")), "{place}");
    }
    assert!(out.iter().all(|f| !f.why.is_empty()));
}

#[test]
fn nothing_is_left_between_the_clearances() {
    let (space, out) = check(drawer_json(json!({"width_mm": 21, "depth_mm": 21, "clear_height_mm": 8})));
    assert!(space.is_none());
    assert_eq!(codes(&out), [("space-too-small", Verdict::Refuse); 3]);
    assert!(out[0].why.contains("1 mm short"), "{}", out[0].why);
}

#[test]
fn defaults_are_told() {
    let spec: crate::spaces::SpaceSpec = crate::units::decode(drawer_json(json!({"side_clearance_mm": 1.0}))).unwrap();
    let mut list: Vec<DefaultUsed> = vec![];
    spec.note_all_defaults("", &mut list);
    let said: Vec<(&str, f64)> = list.iter().map(|d| (d.at.as_str(), d.value)).collect();
    assert_eq!(
        said,
        [
            ("/top_clearance_mm", 4.0),
            ("/corner_radius_mm", 0.0),
            ("/floor_fillet_mm", 0.0),
            ("/measured_with", 0.5),
            ("/extension_mm", 380.0),
            ("/diagonals_mm", 0.0),
            ("/slam/speed_m_s", 1.0),
            ("/slam/stop_mm", 10.0),
        ]
    );
}

#[test]
fn a_larger_drawer_never_leaves_less() {
    for skew in [0.0, 1.9, 3.8] {
        let spec = |more: f64| {
            let (w, d) = (420.0 + more, 380.0 + more);
            let mean = f64::hypot(w, d);
            drawer_json(json!({"width_mm": w, "depth_mm": d, "diagonals_mm": [mean + skew / 2.0, mean - skew / 2.0]}))
        };
        let sizes: Vec<_> = [0.0, 0.5, 7.0, 60.0].iter().map(|m| check(spec(*m)).0.unwrap().usable(0.0)).collect();
        assert!(sizes.windows(2).all(|p| p[1].width_mm > p[0].width_mm && p[1].depth_mm > p[0].depth_mm));
    }
}
