//! Scenarios A08, A11 and A16: height, length, liquid and tip of a leaning bottle.

use super::{near, thing};
use crate::things::{Attitude, Thing, nose_direction};
use crate::units::decode;
use serde_json::json;

fn lube_bottle() -> Thing {
    let shape = json!({"kind": "bottle", "diameter_mm": 38, "body_mm": 92, "overall_mm": 138, "tip_diameter_mm": 6, "bore_mm": 2, "wall_mm": 1.1});
    thing(json!({"id": "wet-lube", "shape": shape, "fill": 0.95}))
}

#[test]
fn a08_chain_lube_bottle_leaning_30_degrees() {
    let t = lube_bottle();
    let v = t.liquid().unwrap();
    near(v.level_mm(30.0, 0.95), 48.13, 0.15);
    near(v.worst_margin_mm(30.0), 20.0, 0.2);
    near(t.solid().height_when_leaning(30.0) + 3.1, 91.15, 0.05);
    near(96.0 - 3.1 - t.solid().height_when_leaning(30.0), 4.85, 0.05);
    near(t.solid().length_when_leaning(30.0), 130.51, 0.05);
    // its cross-check: brim-full needs tan θ > r/nozzle = 17.8/46 (the bore's own half is on top of that)
    let brim = thing(json!({"id": "x", "fill": 1, "shape": {"kind": "bottle", "diameter_mm": 38, "body_mm": 92,
        "overall_mm": 138, "tip_diameter_mm": 6, "bore_mm": 0.1, "wall_mm": 1.2}}));
    near(brim.liquid().unwrap().lean_min_for_margin(0.0).unwrap(), (17.85_f64 / 46.0).atan().to_degrees(), 1e-3);
    // half full needs only θ > 0
    near(v.tip(0.0, 0.5).centre_above_mm, 0.0, 1e-9);
    assert!(v.tip(1e-4, 0.5).centre_above_mm > 0.0);
}

#[test]
fn a11_case_carried_on_its_edge() {
    let t = lube_bottle();
    let v = t.liquid().unwrap();
    let carried = |heading| Attitude::FrontUp.nose_elevation_deg(nose_direction(35.0, heading));
    // the handle is on the front, the hinge at the back
    near(carried(90.0), -55.0, 1e-9);
    near(carried(0.0), 0.0, 1e-9);
    near(carried(180.0), 0.0, 1e-9);
    near(carried(270.0), 55.0, 1e-9);
    near(Attitude::Flat.nose_elevation_deg(nose_direction(35.0, 90.0)), 35.0, 1e-9);
    near(v.worst_margin_mm(35.0), 24.61, 0.2);
    near(v.worst_margin_mm(carried(270.0)), 39.85, 0.2);
    near(v.tip(carried(0.0), 0.95).centre_above_mm, -14.34, 0.2);
    assert!(v.worst_margin_mm(carried(90.0)) < -50.0);
}

#[test]
fn a16_long_nozzle_tube_has_a_window() {
    let shape = json!({"kind": "tube", "diameter_mm": 47, "body_mm": 168, "overall_mm": 282, "tip_diameter_mm": 8, "wall_mm": 1.2});
    let t = thing(json!({"id": "assembly-oil", "shape": shape, "fill": 0.9}));
    let clear = 152.0 - 3.1 - 4.0;
    near(t.solid().height_when_leaning(90.0) + 3.1 + 4.0, 289.1, 0.05);
    let w = t.solid().lean_window(t.liquid(), 5.0, clear);
    near(w.liquid_min_deg.unwrap(), 6.53, 0.2);
    near(w.height_max_deg.unwrap(), 25.19, 0.05);
    let (lo, hi) = w.widest_deg().unwrap();
    assert_eq!((lo, hi), (w.liquid_min_deg.unwrap(), w.height_max_deg.unwrap()));
    assert!(w.holds(15.0) && !w.holds(6.0) && !w.holds(26.0));
    near(w.middle_deg().unwrap(), 15.0, 1.0);
    near(t.solid().height_when_leaning(15.0) + 3.1, 102.65, 0.05);
    near(t.solid().length_when_leaning(15.0), 279.51, 0.05);
    near(t.liquid().unwrap().worst_margin_mm(15.0), 28.09, 0.3);
}

#[test]
fn an_empty_window_still_has_both_numbers() {
    let t = lube_bottle();
    let w = t.solid().lean_window(t.liquid(), 5.0, 50.0);
    assert_eq!((w.open_deg.len(), w.widest_deg(), w.middle_deg()), (0, None, None));
    let (need, have) = (w.liquid_min_deg.unwrap(), w.height_max_deg.unwrap());
    assert!(have < need, "{have} {need}");
    near(t.liquid().unwrap().worst_margin_mm(need), 5.0, 1e-5);
    near(t.solid().height_when_leaning(have), 50.0, 1e-5);
    // lower than it lies, and a tip that is never clear
    assert_eq!(t.solid().lean_max_for_height(37.0), None);
    assert_eq!(t.liquid().unwrap().lean_min_for_margin(60.0), None);
}

#[test]
fn what_may_lie_and_stand_but_not_lean_half_way_has_two_ranges() {
    let can = thing(json!({"id": "x", "shape": {"kind": "can", "diameter_mm": 65, "overall_mm": 60}}));
    let w = can.solid().lean_window(None, 5.0, 70.0);
    assert_eq!(w.open_deg.len(), 2);
    assert_eq!((w.open_deg[0].0, w.open_deg[1].1), (0.0, 90.0));
    assert_eq!(w.height_max_deg, Some(w.open_deg[0].1));
    for edge in [w.open_deg[0].1, w.open_deg[1].0] {
        near(can.solid().height_when_leaning(edge), 70.0, 1e-5);
    }
    assert_eq!(w.liquid_min_deg, Some(0.0));
    assert_eq!(can.solid().lean_max_for_height(200.0), Some(90.0));
}

#[test]
fn a_capped_bottle_may_lie_and_a_larger_margin_never_widens_the_window() {
    let shape = |capped| json!({"kind": "bottle", "diameter_mm": 38, "body_mm": 92, "overall_mm": 138, "tip_diameter_mm": 6, "capped": capped});
    let open = thing(json!({"id": "x", "shape": shape(false)}));
    let capped = thing(json!({"id": "x", "shape": shape(true)}));
    assert!(open.can_drip() && !capped.can_drip());
    assert_eq!(capped.solid().lean_window(capped.liquid(), 5.0, 92.0).open_deg[0].0, 0.0);
    let mut before = f64::INFINITY;
    for margin in [0.0, 2.0, 5.0, 10.0, 20.0, 30.0] {
        let w = open.solid().lean_window(open.liquid(), margin, 110.0);
        let width = w.widest_deg().map_or(0.0, |(lo, hi)| hi - lo);
        assert!(width <= before, "{margin}: {width} after {before}");
        before = width;
    }
}

#[test]
fn a_measured_shoulder_lowers_the_level_and_nothing_else_does() {
    let shape = |shoulder: Option<f64>| {
        let mut s =
            json!({"kind": "bottle", "diameter_mm": 52, "body_mm": 120, "overall_mm": 170, "tip_diameter_mm": 8});
        if let Some(mm) = shoulder {
            s["shoulder_mm"] = json!(mm);
            s["neck_diameter_mm"] = json!(22);
        }
        thing(json!({"id": "x", "shape": s}))
    };
    let (plain, shouldered) = (shape(None), shape(Some(18.0)));
    for lean in [-60.0, -10.0, 0.0, 15.0, 30.0, 60.0, 80.0] {
        let without = plain.liquid().unwrap().worst_margin_mm(lean);
        let with = shouldered.liquid().unwrap().worst_margin_mm(lean);
        assert!(with >= without - 1e-9, "{lean}: {with} {without}");
    }
}

#[test]
fn attitudes_are_read_by_their_words_and_turn_every_nose() {
    for a in Attitude::ALL {
        assert_eq!(decode::<Attitude>(json!(a.word())).unwrap(), a);
        let nose = nose_direction(90.0, 0.0);
        let stands = a.nose_elevation_deg(nose);
        let want = match a {
            Attitude::Flat => 90.0,
            Attitude::UpsideDown => -90.0,
            _ => 0.0,
        };
        near(stands, want, 1e-6);
    }
    // opposite sides up turn a nose over
    let nose = nose_direction(35.0, 50.0);
    for (a, b) in [
        (Attitude::FrontUp, Attitude::BackUp),
        (Attitude::LeftUp, Attitude::RightUp),
        (Attitude::Flat, Attitude::UpsideDown),
    ] {
        near(a.nose_elevation_deg(nose), -b.nose_elevation_deg(nose), 1e-9);
    }
}
