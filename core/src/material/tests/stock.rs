//! Readings, sheets, margins, own numbers.

use super::super::{Process, Stock, StockSpec};
use super::{check, codes, cutter, number, still_there, stock_json};
use crate::finding::Verdict;
use crate::units::decode;
use serde_json::json;

#[test]
fn the_mean_of_the_readings_is_the_thickness() {
    let (stock, out) = check(json!({"readings_mm": [3.08, 3.12, 3.05, 3.10, 3.13, 3.09, 3.11, 3.08]}));
    assert_eq!(codes(&out), []);
    let s = stock.unwrap();
    assert!((s.thickness_mm - 3.095).abs() < 1e-9);
    assert!((s.spread_mm - 0.08).abs() < 1e-9);
    assert_eq!(
        (s.supplies[0].size_mm, s.margin_mm, s.usable_mm(), s.process),
        ([600.0, 400.0], 5.0, [590.0, 390.0], Process::Co2)
    );
    assert!((s.gap_mm - 3.095).abs() < 1e-9, "gap is 3, or the thickness when that is more");
}

#[test]
fn a_label_is_believed_with_a_warning() {
    let (stock, out) = check(json!({"readings_mm": null}));
    assert_eq!(codes(&out), [("thickness-assumed", Verdict::Warn)]);
    assert_eq!(stock.unwrap().thickness_mm, 3.0);
}

#[test]
fn a_reading_of_another_sheet_is_refused_with_the_sheet_it_may_be() {
    let changes = json!({"readings_mm": [3.05, 6.1]});
    let (stock, out) = check(changes.clone());
    assert!(stock.is_none());
    let f = out.iter().find(|f| f.code == "thickness-implausible").unwrap();
    assert_eq!(f.place, "/stocks/0/readings_mm/1");
    assert!(f.why.contains("by 2.6"), "{}", f.why);
    let changes = json!({"readings_mm": [6.05, 6.1]});
    let (_, out) = check(changes.clone());
    assert_eq!(out.len(), 2, "each reading is named");
    assert!(out[0].cures.iter().any(|c| c.action.contains("birch plywood, 6 mm")));
    for cure in &out[0].cures {
        assert!(!still_there("co2-600x400", &changes, cure, "thickness-implausible"), "{}", cure.action);
    }
    let (stock, out) = check(json!({"readings_mm": 2.8}));
    assert_eq!(codes(&out), [("thickness-unusual", Verdict::Warn)]);
    assert_eq!(stock.unwrap().thickness_mm, 2.8);
}

#[test]
fn an_uneven_sheet_is_warned_about_and_then_refused() {
    for (top, verdict) in
        [(3.10, None), (3.11, Some(Verdict::Warn)), (3.20, Some(Verdict::Warn)), (3.21, Some(Verdict::Refuse))]
    {
        let (_, out) = check(json!({"readings_mm": [3.0, top]}));
        assert_eq!(out.first().map(|f| (f.code, f.verdict)), verdict.map(|v| ("thickness-spread", v)), "{top}");
    }
}

#[test]
fn margins_and_gaps() {
    for (changes, code, verdict) in [
        (json!({"margin_mm": 1.9}), "sheet-margin", Verdict::Refuse),
        (json!({"margin_mm": 3.9}), "sheet-margin", Verdict::Warn),
        (json!({"gap_mm": 0.9}), "part-gap", Verdict::Refuse),
        (json!({"gap_mm": 2.9}), "part-gap", Verdict::Warn),
    ] {
        let (_, out) = check(changes.clone());
        assert_eq!(codes(&out), [(code, verdict)], "{changes}");
        assert!(!still_there("co2-600x400", &changes, &out[0].cures[0], code), "{changes}");
    }
    assert_eq!(codes(&check(json!({"margin_mm": 4.0, "gap_mm": 3.08})).1), []);
    let foam = json!({"material": "foam-board-5", "readings_mm": 4.9, "kerf_mm": null, "gap_mm": 2});
    assert_eq!(codes(&super::check_on("knife-600x400", foam).1), [], "a knife sets nothing on fire");
}

#[test]
fn a_sheet_lies_on_the_bed() {
    let changes = json!({"sheet_mm": [400, 600]});
    let (stock, out) = check(changes.clone());
    assert!(stock.is_none());
    assert_eq!(out[0].code, "sheet-larger-than-bed");
    assert_eq!(out[0].cures.len(), 2);
    for cure in &out[0].cures {
        assert!(!still_there("co2-600x400", &changes, cure, out[0].code), "{}", cure.action);
    }
    let (_, out) = check(json!({"sheet_mm": [1220, 610]}));
    assert!(out[0].why.contains("by 620 and 210"), "{}", out[0].why);
    assert!(check(json!({"sheet_mm": [300, 200], "count": 4})).0.is_some());
}

#[test]
fn all_faults_are_told_at_once() {
    let bad = json!({"readings_mm": [2.9, 9.0], "kerf_mm": 1.8, "margin_mm": 1, "gap_mm": 0.5, "sheet_mm": [700, 5], "count": 0});
    let (stock, out) = check(bad);
    assert!(stock.is_none());
    for code in [
        "thickness-implausible",
        "thickness-spread",
        "kerf-implausible",
        "sheet-margin",
        "part-gap",
        "sheet-larger-than-bed",
        "out-of-range",
    ] {
        assert!(out.iter().any(|f| f.code == code), "{code}");
    }
    for place in ["/stocks/0/sheet_mm/1", "/stocks/0/count", "/stocks/0/readings_mm/1"] {
        assert!(out.iter().any(|f| f.place == place), "{place}");
    }
    assert!(out.iter().all(|f| !f.why.is_empty()));
}

#[test]
fn own_numbers_stand_on_a_base() {
    let own = json!({"material": "maple veneer board", "base": "birch-ply-3", "nominal_mm": 3.6, "readings_mm": 3.7,
                     "density_kg_m3": 610, "e_along_n_mm2": 9000, "e_across_n_mm2": 3000});
    let (stock, out) = check(own);
    assert_eq!(codes(&out), []);
    let s = stock.unwrap();
    assert_eq!((s.profile.density_kg_m3.value, s.profile.e_flat_n_mm2.value), (610.0, 6000.0));
    assert!((s.profile.thickness.usual_mm.min - 3.5).abs() < 1e-9);
    assert_eq!(s.profile.density_kg_m3.source, "given with the request");
    assert_eq!(s.feed, cutter("co2-600x400").feeds["birch-ply-3"]);
    assert!((s.mass_g(1000.0, s.thickness_mm) - 1000.0 * 3.7 * 610e-6).abs() < 1e-9);
    let (_, out) = check(json!({"base": "mdf-3"}));
    assert_eq!(codes(&out), [("material-contradicts-base", Verdict::Refuse)]);
}

#[test]
fn defaults_are_told() {
    let spec: StockSpec = decode(stock_json(json!({"readings_mm": null, "kerf_mm": null}))).unwrap();
    let stock = Stock::checked(&spec, &cutter("co2-600x400"), "/stocks/0", &mut vec![]).unwrap();
    let mut list = vec![];
    stock.note_defaults(&spec, "/stocks/0", &mut list);
    let said: Vec<(&str, f64)> = list.iter().map(|d| (d.at.trim_start_matches("/stocks/0/"), d.value)).collect();
    assert_eq!(
        said,
        [
            ("readings_mm", 3.0),
            ("kerf_mm", 0.18),
            ("gap_mm", 3.0),
            ("sheet_mm/0", 600.0),
            ("sheet_mm/1", 400.0),
            ("margin_mm", 5.0),
            ("turn_step_deg", 90.0)
        ]
    );
}

#[test]
fn a_spec_survives_being_written_and_read() {
    let given = stock_json(
        json!({"lot": "spring", "sheet_mm": [600.0, 400.0], "count": 3, "kerf_applied_by": "machine", "strip": {"measured_mm": 98.18}}),
    );
    let spec: StockSpec = decode(given.clone()).unwrap();
    assert_eq!(serde_json::to_value(&spec).unwrap(), given);
    let fault = |v| decode::<StockSpec>(stock_json(v)).unwrap_err().0;
    assert_eq!(fault(json!({"thickness": 3})), "/thickness");
    assert_eq!(fault(json!({"strip": {"measured_mm": "x"}})), "/strip/measured_mm");
    assert_eq!(fault(json!({"sheet_mm": [1, 2, 3]})), "/sheet_mm");
    assert_eq!(fault(json!({"kerf_applied_by": "magic"})), "/kerf_applied_by");
}

#[test]
fn thickness_implausible_names_its_limits() {
    let (_, out) = check(json!({"readings_mm": 1.2}));
    assert_eq!((number(&out[0], "min"), number(&out[0], "max")), (2.4, 3.5));
}

#[test]
fn names_are_text_and_nothing_else() {
    let bad = json!({"id": "../A", "lot": "=1+1", "material": "<b>", "base": "birch-ply-3"});
    let (stock, out) = check(bad);
    assert!(stock.is_none());
    for place in ["/stocks/0/id", "/stocks/0/lot", "/stocks/0/material"] {
        assert!(out.iter().any(|f| f.place == place && f.code == "bad-name"), "{place}");
    }
}

#[test]
fn margins_leave_a_sheet() {
    let (stock, out) = check(json!({"sheet_mm": [300, 60], "margin_mm": 26}));
    assert!(stock.is_none());
    assert_eq!(codes(&out), [("sheet-without-room", Verdict::Refuse)]);
    assert!(out[0].why.contains("2 short"), "{}", out[0].why);
    assert!(check(json!({"sheet_mm": [300, 60], "margin_mm": 25})).0.is_some());
}

#[test]
fn a_base_of_another_thickness_is_doubtful() {
    let own = |nominal: f64| json!({"material": "thick maple board", "base": "birch-ply-3", "nominal_mm": nominal, "readings_mm": nominal});
    assert_eq!(codes(&check(own(4.0)).1), []);
    assert_eq!(codes(&check(own(5.0)).1), [("base-of-other-thickness", Verdict::Warn)]);
}

#[test]
fn sheets_are_told_apart_piece_by_piece() {
    let sheets = json!([
        {"id": "window offcut", "sheet_mm": [300, 200], "count": 2, "keep_outs": [{"x_mm": 10, "y_mm": 20, "width_mm": 30, "height_mm": 15}]},
        {"readings_mm": [2.95, 2.97], "grain": "height", "cost_per_sheet": 0}
    ]);
    let (stock, out) = check(json!({"sheets": sheets, "cost_per_sheet": 4.5}));
    assert_eq!(codes(&out), []);
    let s = stock.unwrap();
    assert_eq!(s.supplies.len(), 2, "no plain sheets beside them");
    let (a, b) = (&s.supplies[0], &s.supplies[1]);
    assert_eq!((a.size_mm, a.count, a.keep_outs_mm.len(), a.cost), ([300.0, 200.0], Some(2), 1, Some(4.5)));
    assert_eq!((b.size_mm, b.count, b.grain_upright, b.cost), ([600.0, 400.0], Some(1), true, Some(0.0)));
    assert!((a.thickness_mm - 3.08).abs() < 1e-9 && (b.thickness_mm - 2.96).abs() < 1e-9);
    assert!((s.thickness_mm - 3.08).abs() < 1e-9, "the thickest");
    // 290 × 190 less the 30 × 15 of the keep-out, all of which lies within the margins
    assert!((a.usable_area_mm2(s.margin_mm) - (290.0 * 190.0 - 450.0)).abs() < 1e-9);
    let with_plain = check(json!({"sheets": sheets, "count": 3})).0.unwrap();
    assert_eq!(with_plain.supplies.iter().map(|s| s.count).collect::<Vec<_>>(), [Some(3), Some(2), Some(1)]);
}

#[test]
fn faults_of_listed_sheets_name_their_place_and_by_how_much() {
    let sheets = json!([
        {"sheet_mm": [700, 5], "count": 0, "id": "=1"},
        {"sheet_mm": [100, 100], "readings_mm": [3.0, 3.3], "keep_outs": [{"x_mm": 120, "y_mm": 0, "width_mm": 1, "height_mm": 0}]},
        {"sheet_mm": [100, 18], "readings_mm": 9}
    ]);
    let changes = json!({"sheets": sheets});
    let (stock, out) = check(changes.clone());
    assert!(stock.is_none());
    for (code, place) in [
        ("sheet-larger-than-bed", "/stocks/0/sheets/0/sheet_mm"),
        ("out-of-range", "/stocks/0/sheets/0/sheet_mm/1"),
        ("out-of-range", "/stocks/0/sheets/0/count"),
        ("bad-name", "/stocks/0/sheets/0/id"),
        ("thickness-spread", "/stocks/0/sheets/1/readings_mm"),
        ("out-of-range", "/stocks/0/sheets/1/keep_outs/0/height_mm"),
        ("keep-out-off-sheet", "/stocks/0/sheets/1/keep_outs/0"),
        ("thickness-implausible", "/stocks/0/sheets/2/readings_mm"),
        ("sheet-without-room", "/stocks/0/margin_mm"),
    ] {
        assert!(out.iter().any(|f| f.code == code && f.place == place), "{code} at {place}: {out:#?}");
    }
    let off = out.iter().find(|f| f.code == "keep-out-off-sheet").unwrap();
    assert!(off.why.contains("20 mm beyond"), "{}", off.why);
    let room = out.iter().filter(|f| f.code == "sheet-without-room").find(|f| f.why.contains("100 × 18")).unwrap();
    // 18 − 2 · 5 = 8: 2 short of 10; a margin of 4 leaves 10
    assert!(room.why.contains("2 short"), "{}", room.why);
    assert_eq!(room.cures[0].patch[0].value, Some(4.0.into()));
    assert_eq!(
        decode::<StockSpec>(stock_json(json!({"sheets": [{"sheet_mm": 5}]}))).unwrap_err().0,
        "/sheets/0/sheet_mm"
    );
    assert_eq!(decode::<StockSpec>(stock_json(json!({"sheets": [{"grain": "up"}]}))).unwrap_err().0, "/sheets/0/grain");
}

#[test]
fn a_sheet_with_its_own_readings_assumes_nothing() {
    let (stock, out) = check(json!({"readings_mm": null, "sheets": [{"readings_mm": 2.95}, {"readings_mm": 3.1}]}));
    assert_eq!(codes(&out), []);
    assert!((stock.unwrap().thickness_mm - 3.1).abs() < 1e-9);
    let (_, out) = check(json!({"readings_mm": null, "sheets": [{"readings_mm": 2.95}, {}]}));
    assert_eq!(codes(&out), [("thickness-assumed", Verdict::Warn)]);
}

#[test]
fn grain_runs_along_the_longer_side_unless_told() {
    let upright = |changes| check(changes).0.unwrap().supplies.iter().map(|s| s.grain_upright).collect::<Vec<_>>();
    assert_eq!(upright(json!({"sheet_mm": [600, 400]})), [false]);
    assert_eq!(upright(json!({"sheet_mm": [300, 400]})), [true]);
    assert_eq!(upright(json!({"sheet_mm": [300, 400], "grain": "width"})), [false]);
    let sheets = json!([{"sheet_mm": [300, 400]}, {"sheet_mm": [300, 400], "grain": "height"}]);
    assert_eq!(upright(json!({"grain": "width", "sheets": sheets})), [false, true]);
    let s = |changes| check(changes).0.unwrap();
    assert!(s(json!({})).keeps_grain && !s(json!({"keep_grain": false})).keeps_grain);
    let mdf = json!({"material": "mdf-3", "readings_mm": 3.0, "kerf_mm": null});
    assert!(!s(mdf).keeps_grain);
}
