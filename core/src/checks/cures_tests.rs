//! Cures that checks propose, tried from request to answer.

use super::testing::{tray, tray_for};
use crate::finding::{Finding, Verdict};
use crate::job::{Limits, read};
use crate::make::{Answer, make};
use serde_json::{Value, json};

fn findings(request: Value) -> Vec<Finding> {
    match make(&read(request).unwrap(), &Limits::default(), &|| false) {
        Answer::Made(m) => m.findings,
        Answer::Refused(r) => r.findings,
        Answer::Stopped => panic!("nobody stopped it"),
    }
}

fn cures_of(request: Value, code: &str) -> (Verdict, Vec<String>) {
    let all = findings(request);
    let f = all.iter().find(|f| f.code == code).unwrap_or_else(|| panic!("no {code} in {all:#?}"));
    (f.verdict, f.cures.iter().map(|c| c.patch[0].path.clone()).collect())
}

#[test]
fn what_is_proposed_clears_the_finding() {
    let with = |f: &dyn Fn(&mut Value)| {
        let mut request = tray();
        f(&mut request);
        request
    };
    let low = with(&|r| {
        r["holders"][0]["floor"] = json!("captured");
        r["holders"][0]["floor_raise_mm"] = json!(4.0);
    });
    assert_eq!(cures_of(low, "slot-near-edge"), (Verdict::Refuse, vec!["/holders/0/floor_raise_mm".to_owned()]));
    let wide = with(&|r| r["holders"][0]["width_mm"] = json!(327.0));
    assert_eq!(cures_of(wide, "holder-too-wide").1, ["/holders/0/width_mm"]);
    let long = with(&|r| {
        r["space"]["width_mm"] = json!(700.0);
        r["holders"][0]["width_mm"] = json!(620.0);
    });
    assert_eq!(cures_of(long, "part-beyond-bed").1, ["/holders/0/width_mm"]);
    let narrow = with(&|r| r["holders"][0]["columns"] = json!(9));
    assert_eq!(cures_of(narrow, "compartment-too-narrow"), (Verdict::Warn, vec!["/holders/0/rake_deg".to_owned()]));
    let many = with(&|r| r["things"][0]["count"] = json!(90_000));
    assert_eq!(cures_of(many, "compartment-overfull"), (Verdict::Refuse, vec!["/things/0/count".to_owned()]));
    let short = with(&|r| {
        r["space"]["depth_mm"] = json!(300.0);
        r["holders"][0]["depth_mm"] = json!(200.0);
    });
    assert_eq!(cures_of(short, "holder-slides"), (Verdict::Warn, vec!["/holders/0/depth_mm".to_owned()]));
}

#[test]
fn a_sagging_floor_is_made_thicker_or_divided() {
    let drawer = json!({"kind": "drawer", "width_mm": 515.1, "depth_mm": 380, "clear_height_mm": 96});
    let bolts =
        json!({"id": "bolts", "count": 1200, "mass_g": 10, "shape": {"kind": "loose", "piece_mm": [10, 10, 10]}});
    let mut request = tray_for(drawer, json!([bolts]), 70.0);
    request["holders"][0]["things"] = json!(["bolts"]);
    let six = json!({"id": "B", "material": "birch-ply-6", "readings_mm": [6.2], "kerf_mm": 0.27});
    request["stocks"].as_array_mut().unwrap().push(six);
    let (verdict, paths) = cures_of(request, "floor-sags");
    assert_eq!(verdict, Verdict::Refuse);
    assert!(paths.contains(&"/holders/0/floor_stock".to_owned()), "{paths:?}");
}

#[test]
fn a_deck_too_low_is_raised_or_doubled_and_a_wet_tip_is_capped_or_leaned() {
    let mut rack = (crate::families::deck_rack::ABOUT.example)();
    rack["things"] =
        json!([{"id": "polish", "count": 2, "shape": {"kind": "can", "diameter_mm": 30, "overall_mm": 120}}]);
    rack["holders"][0]["things"] = json!(["polish"]);
    rack["holders"][0]["deck_height_mm"] = json!(40.0);
    rack["holders"][0]["lower_deck"] = json!(false);
    let (verdict, paths) = cures_of(rack, "thing-leaves-place");
    assert_eq!(verdict, Verdict::Warn);
    assert_eq!(paths, ["/holders/0/deck_height_mm", "/holders/0/lower_deck"]);
    // brim full, in a case that is also laid on its back: every nose points down
    let mut rack = (crate::families::lean_rack::ABOUT.example)();
    rack["space"] = json!({"kind": "case", "floor_mm": [520, 442], "height_mm": 110, "slope_deg": 0, "attitudes": ["flat", "back-up"]});
    let (verdict, paths) = cures_of(rack, "tip-under-liquid");
    assert_eq!(verdict, Verdict::Refuse);
    assert_eq!(paths, ["/things/0/shape/capped"]);
}
