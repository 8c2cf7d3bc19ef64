//! Scenarios A08, A11 and A16: height, length, liquid and tip of a leaning bottle.

use super::{near, thing};
use crate::things::{Attitude, Thing, nose_direction};
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
