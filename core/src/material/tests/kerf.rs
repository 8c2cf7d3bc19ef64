//! Kerf: the strip, the plausible range, slips of the decimal point.

use super::super::kerf_from_strip;
use super::{check, codes, number, still_there};
use crate::finding::Verdict;
use serde_json::json;

#[test]
fn a_strip_of_ten_shows_the_kerf() {
    assert!((kerf_from_strip(100.0, 98.18, 10.0) - 0.182).abs() < 1e-9);
    // seven pieces of 140 that come back as 138.6: two tenths each
    assert!((kerf_from_strip(140.0, 138.6, 7.0) - 0.2).abs() < 1e-9);
    let (stock, out) = check(json!({"kerf_mm": null, "strip": {"measured_mm": 98.18}}));
    assert_eq!(codes(&out), []);
    let stock = stock.unwrap();
    assert!((stock.kerf_mm - 0.182).abs() < 1e-9);
    // finished 3.13 is drawn with that kerf at 2.948
    assert!((3.13 - stock.drawn_kerf_mm - 2.948).abs() < 1e-9);
}

#[test]
fn ten_times_too_much_is_refused_with_what_was_meant() {
    let changes = json!({"kerf_mm": 1.8, "strip": {"measured_mm": 98.18}});
    let (stock, out) = check(changes.clone());
    assert!(stock.is_none());
    assert_eq!(codes(&out), [("kerf-implausible", Verdict::Refuse)]);
    let f = &out[0];
    assert_eq!((number(f, "min"), number(f, "max")), (0.08, 0.45));
    assert!(f.why.contains("The strip says 0.182") && f.why.contains("by 1.35"), "{}", f.why);
    let said: Vec<&str> = f.cures.iter().map(|c| c.action.as_str()).collect();
    assert_eq!(said, ["Use the strip's 0.182 mm.", "Did you mean 0.18?"]);
    for cure in &f.cures {
        assert!(!still_there("co2-600x400", &changes, cure, "kerf-implausible"), "{}", cure.action);
    }
}

#[test]
fn other_slips_and_limits() {
    for (typed, meant) in [(2.2, 0.22), (18.0, 0.18), (200.0, 0.2)] {
        let (_, out) = check(json!({"kerf_mm": typed}));
        let cure = &out[0].cures[0];
        assert_eq!(cure.action, format!("Did you mean {meant}?"), "{typed}");
    }
    // at the limits and just outside of them
    for (k, verdict) in [
        (0.12, None),
        (0.30, None),
        (0.11, Some(Verdict::Warn)),
        (0.31, Some(Verdict::Warn)),
        (0.08, Some(Verdict::Warn)),
        (0.45, Some(Verdict::Warn)),
        (0.07, Some(Verdict::Refuse)),
        (0.46, Some(Verdict::Refuse)),
        (0.0, Some(Verdict::Refuse)),
    ] {
        let (stock, out) = check(json!({"kerf_mm": k}));
        assert_eq!(out.first().map(|f| f.verdict), verdict, "{k}");
        assert_eq!(stock.is_none(), verdict == Some(Verdict::Refuse), "{k}");
    }
    // six millimetres burn wider
    let (_, out) = check(json!({"material": "birch-ply-6", "readings_mm": 6.1, "kerf_mm": 0.31}));
    assert_eq!(codes(&out), []);
}

#[test]
fn a_kerf_and_a_strip_that_disagree_are_both_named() {
    let changes = json!({"kerf_mm": 0.25, "strip": {"measured_mm": 98.18}});
    let (stock, out) = check(changes.clone());
    assert!(stock.is_none());
    assert_eq!(codes(&out), [("kerf-contradicts-strip", Verdict::Refuse)]);
    assert!(out[0].why.contains("0.25") && out[0].why.contains("0.182"), "{}", out[0].why);
    assert!(!still_there("co2-600x400", &changes, &out[0].cures[0], out[0].code));
    let (stock, _) = check(json!({"kerf_mm": 0.20, "strip": {"measured_mm": 98.18}}));
    assert_eq!(stock.unwrap().kerf_mm, 0.20);
}

#[test]
fn a_strip_cannot_grow() {
    let (stock, out) = check(json!({"kerf_mm": null, "strip": {"measured_mm": 100.4}}));
    assert!(stock.is_none());
    assert_eq!(out[0].code, "strip-implausible");
    assert_eq!(out[0].place, "/stocks/0/strip/measured_mm");
    let (_, out) = check(json!({"strip": {"measured_mm": 98.2, "pieces": 9.5}}));
    assert_eq!(out[0].place, "/stocks/0/strip/pieces");
}

#[test]
fn what_the_machine_makes_up_for_is_not_drawn() {
    let (stock, out) = check(json!({"kerf_applied_by": "machine"}));
    assert_eq!((stock.unwrap().drawn_kerf_mm, out.len()), (0.0, 0));
    // then nobody needs to know the kerf
    let (stock, out) = check(json!({"kerf_applied_by": "machine", "kerf_mm": null}));
    let stock = stock.unwrap();
    assert_eq!((stock.drawn_kerf_mm, stock.kerf_mm, out.len()), (0.0, 0.18, 0));
    // but the file does
    let (stock, out) = check(json!({"kerf_mm": null}));
    assert_eq!(codes(&out), [("kerf-assumed", Verdict::Warn)]);
    assert_eq!(stock.unwrap().drawn_kerf_mm, 0.18);
}

#[test]
fn a_knife_takes_nothing_away() {
    let foam = json!({"material": "foam-board-5", "readings_mm": 4.9, "kerf_mm": null});
    let (stock, out) = super::check_on("knife-600x400", foam);
    assert_eq!((stock.unwrap().drawn_kerf_mm, codes(&out)), (0.0, vec![]));
}
