//! Sheets of one stock that differ in thickness: every fit holds, and it is said what belongs together.

use super::tests::{faults, made};
use super::{Answer, make};
use crate::finding::{Finding, Verdict};
use crate::formats;
use crate::job::{Limits, read};
use crate::made::Made;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Sheets of 3.10, 2.95 and 3.10, as the trade's task has it.
fn three_sheets(size_mm: [f64; 2]) -> Value {
    let sheet = |id: &str, t: f64| json!({"id": id, "sheet_mm": size_mm, "readings_mm": [t - 0.01, t, t + 0.01]});
    json!([{"id": "A", "material": "birch-ply-3", "kerf_mm": 0.18,
        "sheets": [sheet("one", 3.10), sheet("two", 2.95), sheet("three", 3.10)]}])
}

/// Every fit holds in every holder, each part has its sheet's thickness, and no part is missing.
fn judge(made: &Made) {
    for built in &made.holders {
        let f = faults(built);
        assert!(f.is_empty(), "{} faults, first {:#?}", f.len(), &f[..f.len().min(4)]);
    }
    let mut seen = BTreeSet::new();
    for sheet in &made.sheets {
        let supply = &made.job.stocks[sheet.stock].supplies[sheet.supply];
        for p in &sheet.places {
            let part = &made.parts[p.part];
            assert!((part.thickness_mm - supply.thickness_mm).abs() < 1e-9, "{} of {}", part.code, part.thickness_mm);
            assert!(seen.insert(p.part));
        }
    }
    assert_eq!(seen.len(), made.parts.len());
    for (i, stock) in made.job.stocks.iter().enumerate() {
        for (k, supply) in stock.supplies.iter().enumerate() {
            let used = made.sheets.iter().filter(|s| (s.stock, s.supply) == (i, k)).count();
            assert!(supply.count.is_none_or(|n| used <= n as usize), "{used} of {:?}", supply.id);
        }
    }
}

fn thicknesses(made: &Made, holder: usize) -> BTreeSet<String> {
    made.parts.iter().filter(|p| p.holder == holder).map(|p| format!("{:.2}", p.thickness_mm)).collect()
}

fn report(made: &Made) -> Value {
    serde_json::from_slice(&formats::report(made).unwrap()).unwrap()
}

#[test]
fn each_module_comes_from_one_thickness_where_it_can() {
    let tray = |w: f64| json!({"family": "compartments", "width_mm": w, "depth_mm": 240, "height_mm": 45, "columns": 2, "rows": 2});
    let made = made(json!({
        "space": {"kind": "drawer", "width_mm": 560, "depth_mm": 260, "clear_height_mm": 70},
        "stocks": three_sheets([470.0, 345.0]),
        "holders": [tray(180.0), tray(170.0), tray(160.0)]
    }));
    judge(&made);
    for h in 0..3 {
        assert_eq!(thicknesses(&made, h).len(), 1, "holder {h}");
    }
    let report = report(&made);
    let rows = report["cut_together"].as_array().unwrap();
    assert_eq!(rows.iter().map(|r| r["thickness_mm"].as_f64().unwrap()).collect::<Vec<_>>(), [3.1, 2.95]);
    assert_eq!((&rows[0]["written"], &rows[1]["written"]), (&json!(["one", "three"]), &json!(["two"])));
    assert!(rows.iter().all(|r| r["joints_across"].as_array().unwrap().is_empty()));
    let parts: usize = rows.iter().map(|r| r["parts"].as_array().unwrap().len()).sum();
    assert_eq!(parts, made.parts.len());
}

#[test]
fn a_holder_larger_than_one_thickness_is_divided_and_still_goes_together() {
    for (floor, dividers) in [("fingers", "fixed"), ("captured", "fixed"), ("loose", "removable")] {
        let made = made(json!({
            "space": {"kind": "drawer", "width_mm": 340, "depth_mm": 270, "clear_height_mm": 90},
            "stocks": three_sheets([400.0, 300.0]),
            "holders": [{"family": "compartments", "floor": floor, "dividers": dividers, "height_mm": 60,
                "columns": 4, "rows": 2, "floor_raise_mm": 12}]
        }));
        judge(&made);
        assert_eq!(thicknesses(&made, 0).len(), 2, "{floor}: both thicknesses are needed");
        let report = report(&made);
        let rows = report["cut_together"].as_array().unwrap();
        let across = |i: usize| rows[i]["joints_across"].as_array().unwrap().len();
        assert!(across(0) > 0 && across(0) == across(1), "{floor}");
        // a part may be recut from its own thickness, and not from the other
        let valid = |code: &str| {
            let bill: Value = serde_json::from_slice(&file(&made, "bill.json")).unwrap();
            let row = bill["parts"].as_array().unwrap().iter().find(|p| p["code"] == code).unwrap().clone();
            (row["thickness_valid_mm"][0].as_f64().unwrap(), row["thickness_valid_mm"][1].as_f64().unwrap())
        };
        for row in rows {
            let t = row["thickness_mm"].as_f64().unwrap();
            for code in row["parts"].as_array().unwrap() {
                let (low, high) = valid(code.as_str().unwrap());
                assert!(low <= t && t <= high, "{code}: {t} is not within {low} to {high}");
                let other = 3.1 + 2.95 - t;
                assert!(other < low || other > high, "{code}: {other} is within {low} to {high}");
            }
        }
    }
}

fn file(made: &Made, path: &str) -> Vec<u8> {
    let format = formats::ALL.iter().find(|f| f.path == path).unwrap();
    (format.write)(made).unwrap().remove(0).1
}

#[test]
fn leaning_things_and_liners_are_divided_too() {
    let mut two_sheets = three_sheets([420.0, 310.0]);
    two_sheets[0]["sheets"].as_array_mut().unwrap().pop();
    let lean = json!({
        "space": {"kind": "drawer", "width_mm": 330, "depth_mm": 300, "clear_height_mm": 110},
        "stocks": two_sheets,
        "things": [{"id": "wet lube", "count": 8, "fill": 0.95, "shape": {"kind": "bottle", "diameter_mm": 38, "body_mm": 92,
            "overall_mm": 138, "tip_diameter_mm": 6, "bore_mm": 2, "cap_diameter_mm": 14, "wall_mm": 1.1}}],
        "holders": [{"family": "lean-rack", "things": ["wet lube"], "depth_mm": 298}]
    });
    let liner = json!({
        "space": {"kind": "case", "floor_mm": [330, 270], "slope_deg": 5, "height_mm": 90, "corner_radius_floor_mm": 0, "corner_radius_rim_mm": 5},
        "stocks": three_sheets([400.0, 300.0]),
        "holders": [{"family": "case-liner", "height_mm": 60, "columns": 3, "rows": 2}]
    });
    for request in [lean, liner] {
        let made = made(request);
        judge(&made);
        assert_eq!(thicknesses(&made, 0).len(), 2);
    }
}

#[test]
fn what_fits_one_thin_sheet_is_made_for_it_to_its_outer_size() {
    let mut stocks = three_sheets([300.0, 200.0]);
    stocks[0]["sheets"][1]["sheet_mm"] = json!([600, 400]);
    let made = made(json!({
        "space": {"kind": "drawer", "width_mm": 300, "depth_mm": 200, "clear_height_mm": 70},
        "stocks": stocks,
        "holders": [{"family": "compartments", "width_mm": 280, "depth_mm": 180, "height_mm": 45, "columns": 2, "rows": 2}]
    }));
    judge(&made);
    assert_eq!(made.sheets.len(), 1);
    assert!((made.job.stocks[0].thickness_mm - 2.95).abs() < 1e-9);
    let bays = &made.holders[0].assembly.bays;
    // (280 − 3 · 2.95)/2
    assert!(bays.iter().all(|b| (b.x.1 - b.x.0 - 135.575).abs() < 1e-6), "{bays:?}");
    assert!(report(&made).get("cut_together").is_none());
}

/// A tray on sheets that do not do: what refuses it.
fn refused(stock: Value) -> Vec<Finding> {
    let mut all = json!({"id": "A", "material": "birch-ply-3", "readings_mm": [3.1], "kerf_mm": 0.18});
    for (k, v) in stock.as_object().unwrap() {
        all[k] = v.clone();
    }
    let request = json!({
        "space": {"kind": "drawer", "width_mm": 262, "depth_mm": 181, "clear_height_mm": 70},
        "stocks": [all],
        "holders": [{"family": "compartments", "columns": 3, "rows": 2, "height_mm": 45}]
    });
    match make(&read(request).unwrap(), &Limits::default(), &|| false) {
        Answer::Refused(r) => r.findings.into_iter().filter(|f| f.verdict == Verdict::Refuse).collect(),
        Answer::Made(m) => panic!("made on {} sheets", m.sheets.len()),
        Answer::Stopped => panic!("nobody stopped it"),
    }
}

#[test]
fn sheets_that_run_out_say_how_much_is_left_and_a_cure_that_was_nested() {
    let f = &refused(json!({"sheets": [{"sheet_mm": [280, 200], "count": 1}]}))[0];
    assert_eq!((f.code, f.place.as_str()), ("sheets-run-out", "/stocks/0"));
    assert!(f.have.iter().any(|(k, _)| *k == "area_left_mm2") && f.why.contains("mm² are left over"), "{}", f.why);
    assert_eq!(f.cures[0].patch[0].path, "/stocks/0/sheets/0/count");
    // what a gap of 60 wastes, a gap of the trade does not
    let f = &refused(json!({"sheet_mm": [600, 400], "count": 1, "gap_mm": 60}))[0];
    assert_eq!(f.code, "sheets-run-out");
    assert!(f.cures.iter().any(|c| c.patch[0].path == "/stocks/0/gap_mm"), "{:#?}", f.cures);
}

#[test]
fn a_gap_that_leaves_no_room_is_refused_by_how_much() {
    // 280 − 2 · 5 − 2 · 10 = 250: on a sheet of 280 two small parts lie 200 apart, on one of 200 they do not
    let all = refused(json!({"sheet_mm": [200, 200], "gap_mm": 200}));
    let f = all.iter().find(|f| f.code == "gap-without-room").unwrap();
    assert!(f.why.contains("30 mm too little"), "{}", f.why);
    assert_eq!(f.cures[0].patch[0].path, "/stocks/0/gap_mm");
}

#[test]
fn defects_in_the_way_are_told() {
    let knot = json!([{"x_mm": 120, "y_mm": 80, "width_mm": 40, "height_mm": 40}]);
    let f = &refused(json!({"sheets": [{"sheet_mm": [280, 200], "count": 40, "keep_outs": knot}]}))[0];
    assert_eq!(f.code, "keep-outs-in-the-way");
    assert!(f.why.contains("1600 mm²") && f.why.contains("\"floor\""), "{}", f.why);
    assert_eq!(f.cures[0].patch[0].path, "/stocks/0/count");
}
