//! Grain, defects and tipped sheets, judged on where parts really lie.

use super::tests::made;
use crate::assembly::Grain;
use crate::geom::{Contour, DVec2, Region, between};
use crate::made::{Made, Sheet};
use serde_json::json;

/// A tray of two compartments on the sheets of one stock.
fn tray(stock: serde_json::Value) -> Made {
    let mut stock_json = json!({"id": "A", "material": "birch-ply-3", "readings_mm": [3.1], "kerf_mm": 0.18});
    for (k, v) in stock.as_object().unwrap() {
        stock_json[k] = v.clone();
    }
    made(json!({
        "space": {"kind": "drawer", "width_mm": 262, "depth_mm": 181, "clear_height_mm": 70},
        "stocks": [stock_json],
        "holders": [{"family": "compartments", "columns": 3, "rows": 2, "height_mm": 45}]
    }))
}

/// A place's outline on its sheet.
fn lying(made: &Made, sheet: &Sheet) -> Vec<(usize, Region)> {
    let on = |p: &crate::made::Placed| made.parts[p.part].drawn.turned(p.turn_rad).moved(p.shift);
    sheet.places.iter().map(|p| (p.part, on(p))).collect()
}

/// How far two regions are apart; 0 when one lies in the other's material.
fn apart(a: &Region, b: &Region) -> f64 {
    let within = |a: &Region, b: &Region| a.contains(b.outer.vertices[0].p);
    if within(a, b) || within(b, a) {
        return 0.0;
    }
    let pairs = a.contours().flat_map(|c| b.contours().map(move |d| between(c, d).0));
    pairs.fold(f64::INFINITY, f64::min)
}

/// Every part once, within margins, a gap apart, clear of keep-outs, offcut clear of parts.
fn judge(made: &Made) {
    let mut seen: Vec<usize> = made.sheets.iter().flat_map(|s| s.places.iter().map(|p| p.part)).collect();
    seen.sort_unstable();
    assert_eq!(seen, (0..made.parts.len()).collect::<Vec<_>>());
    for sheet in &made.sheets {
        let stock = &made.job.stocks[sheet.stock];
        let supply = &stock.supplies[sheet.supply];
        assert_eq!(sheet.size_mm, (supply.size_mm[0], supply.size_mm[1]));
        let all = lying(made, sheet);
        let away: Vec<[f64; 4]> = supply.keep_outs_mm.iter().copied().chain([sheet.offcut_mm]).collect();
        let m = stock.margin_mm - 1e-6;
        for (i, (_, r)) in all.iter().enumerate() {
            let (lo, hi) = r.bounds();
            assert!(
                lo.min_element() >= m && hi.x <= supply.size_mm[0] - m && hi.y <= supply.size_mm[1] - m,
                "{lo} {hi}"
            );
            for (_, other) in &all[..i] {
                assert!(apart(r, other) >= stock.gap_mm - 1e-6);
            }
            for [x, y, w, h] in &away {
                let low = DVec2::new(*x, *y);
                let kept = Contour::rect(low, low + DVec2::new(*w, *h));
                let d = apart(r, &Region { outer: kept, holes: vec![] });
                assert!(d >= stock.gap_mm - 1e-6, "{d} from {x} {y} {w} {h}");
            }
        }
    }
}

/// The grain of each part runs along its sheet's.
fn judge_grain(made: &Made) {
    for sheet in &made.sheets {
        let upright = made.job.stocks[sheet.stock].supplies[sheet.supply].grain_upright;
        for p in &sheet.places {
            let part = &made.parts[p.part];
            let Grain::Along(own) = made.holders[part.holder].assembly.panels[part.panel].grain else {
                panic!("{} has no grain", part.name)
            };
            let lies = DVec2::new(libm::cos(p.turn_rad), libm::sin(p.turn_rad)).rotate(own);
            let off = if upright { lies.x } else { lies.y };
            assert!(off.abs() < 1e-9, "{} lies at {lies}", part.name);
        }
    }
}

#[test]
fn grain_runs_along_every_sheet_however_it_lies() {
    let mixed = json!({"sheets": [{"sheet_mm": [280, 390], "count": 9}, {"sheet_mm": [400, 200], "grain": "height", "count": 9}]});
    for stock in [json!({}), json!({"sheet_mm": [400, 400], "grain": "height"}), mixed] {
        let made = tray(stock);
        judge(&made);
        judge_grain(&made);
    }
}

#[test]
fn parts_stay_clear_of_defects_on_lying_and_tipped_sheets() {
    let knots = json!([
        {"x_mm": 100, "y_mm": 80, "width_mm": 30, "height_mm": 25},
        {"x_mm": 0, "y_mm": 300, "width_mm": 60, "height_mm": 8},
        {"x_mm": 250, "y_mm": 390, "width_mm": 40, "height_mm": 60}
    ]);
    for grain in ["width", "height"] {
        let made = tray(json!({"sheets": [{"sheet_mm": [420, 400], "grain": grain, "count": 9, "keep_outs": knots}]}));
        judge(&made);
        judge_grain(&made);
    }
}

#[test]
fn boards_without_grain_turn_as_they_like_and_finely_if_asked() {
    for step in [90, 15] {
        let made =
            tray(json!({"material": "mdf-3", "readings_mm": [3.0], "turn_step_deg": step, "sheet_mm": [420, 400]}));
        judge(&made);
        assert!(made.parts.iter().all(|p| p.grain_deg.is_none()));
    }
}

#[test]
fn the_smallest_sheets_that_do_are_taken() {
    let offcut = json!({"sheet_mm": [600, 400], "count": 2, "sheets": [{"id": "left over", "sheet_mm": [500, 400]}]});
    let made = tray(offcut);
    judge(&made);
    let used: Vec<f64> = made.sheets.iter().map(|s| s.size_mm.0).collect();
    assert_eq!(used, [500.0], "one offcut holds the tray");
}
