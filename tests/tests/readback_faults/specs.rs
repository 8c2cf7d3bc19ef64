//! Random requests over all families: the examples with other sizes, sheets and fits.

use crate::dice::Dice;
use berth_core::families::ALL;
use serde_json::{Value, json};

/// A request of the family, and its tag.
pub fn request(case: usize, dice: &mut Dice) -> (&'static str, Value) {
    let about = &ALL[case % ALL.len()];
    let mut request = (about.example)();
    let all_over = dice.within(0.85, 1.15);
    scaled(&mut request["space"], &mut |key| {
        let deep = key.contains("height") || key.contains("depth");
        all_over * if deep { dice.within(0.97, 1.2) } else { dice.within(0.9, 1.15) }
    });
    if let Some(slope) = request["space"].get_mut("slope_deg") {
        *slope = json!((dice.within(0.0, 9.0) * 10.0).round() / 10.0);
    }
    for thing in request["things"].as_array_mut().into_iter().flatten() {
        let size = dice.within(0.85, 1.12);
        scaled(&mut thing["shape"], &mut |_| size);
    }
    for stock in request["stocks"].as_array_mut().into_iter().flatten() {
        let (material, t) = dice.pick(&[
            ("birch-ply-3", 3.05),
            ("birch-ply-3", 3.05),
            ("birch-ply-4", 3.95),
            ("poplar-ply-3", 3.0),
            ("mdf-3", 3.0),
            ("birch-ply-6", 6.1),
        ]);
        let t = t * dice.within(0.96, 1.04);
        stock["material"] = json!(material);
        stock["readings_mm"] = json!([round(t), round(t + 0.02), round(t - 0.02)]);
        stock["kerf_mm"] = json!(round(dice.within(0.12, 0.3)));
        if dice.next() < 0.1 {
            stock["kerf_applied_by"] = json!("machine");
        }
    }
    let fit = |dice: &mut Dice, lo, hi| json!(round(dice.within(lo, hi)));
    request["fits"] = json!({
        "corner": fit(dice, -0.03, 0.1), "divider": fit(dice, 0.0, 0.15), "oblique": fit(dice, 0.05, 0.15),
        "floor": fit(dice, 0.0, 0.1), "ledge": fit(dice, 0.05, 0.18),
    });
    options(&mut request["holders"], dice);
    (about.tag, request)
}

/// Ways of making the families share.
fn options(holders: &mut Value, dice: &mut Dice) {
    for holder in holders.as_array_mut().into_iter().flatten() {
        let family = holder["family"].as_str().unwrap_or_default().to_owned();
        if matches!(family.as_str(), "compartments" | "case-liner") {
            holder["floor"] = json!(dice.pick(&["fingers", "captured", "loose"]));
            holder["columns"] = json!(dice.within(1.0, 4.0).round());
            holder["rows"] = json!(dice.within(1.0, 4.0).round());
        }
        if family == "compartments" {
            holder["dividers"] = json!(dice.pick(&["fixed", "removable"]));
        }
    }
}

fn round(v: f64) -> f64 {
    (v * 100.0).round() / 100.0
}

/// Every length within a value times a factor, to a tenth.
fn scaled(value: &mut Value, factor: &mut impl FnMut(&str) -> f64) {
    let Some(map) = value.as_object_mut() else { return };
    for (key, v) in map.iter_mut() {
        if !key.ends_with("_mm") || key == "diagonals_mm" || key == "wall_mm" || key == "stop_mm" {
            continue;
        }
        let f = factor(key);
        let one = |v: &Value| v.as_f64().map(|v| json!((v * f * 10.0).round() / 10.0));
        match v {
            Value::Array(list) => list.iter_mut().for_each(|v| *v = one(v).unwrap_or(v.clone())),
            other => *other = one(other).unwrap_or(other.clone()),
        }
    }
    map.remove("diagonals_mm");
}
