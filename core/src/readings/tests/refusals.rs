//! Readings that contradict each other, and doubtful ones.

use super::{codes, good, taken};
use crate::finding::{Amount, Finding, Verdict};
use serde_json::{Value, json};

fn changed(changes: &[(&str, Value)]) -> Value {
    let mut all = good();
    for (at, value) in changes {
        let (parent, key) = at.rsplit_once('/').unwrap();
        match all.pointer_mut(parent).unwrap() {
            Value::Object(map) => drop(map.insert(key.to_owned(), value.clone())),
            Value::Array(list) => list[key.parse::<usize>().unwrap()] = value.clone(),
            other => panic!("{at} leads into {other}"),
        }
    }
    all
}

fn has(f: &Finding, key: &str) -> bool {
    f.have.iter().any(|(k, v)| *k == key && *v != Amount::Text(String::new()))
}

/// The trade's worked scenario: strip 98.18, typed 1.8.
#[test]
fn a_strip_and_a_typed_kerf_that_contradict_are_refused_with_both_numbers() {
    let (_, out) = taken(changed(&[("/stock/kerf_mm", json!(1.8)), ("/strips", json!([{"measured_mm": 98.18}]))]));
    let f = out.iter().find(|f| f.verdict == Verdict::Refuse).unwrap();
    assert_eq!((f.code, f.place.as_str()), ("kerf-implausible", "/stock/kerf_mm"));
    assert!(f.why.contains("1.8") && f.why.contains("0.182"), "{}", f.why);
    let cures: Vec<&str> = f.cures.iter().map(|c| c.action.as_str()).collect();
    assert_eq!(cures, ["Use the strip's 0.182 mm.", "Did you mean 0.18?"]);
    let (_, out) = taken(changed(&[("/stock/kerf_mm", json!(0.26))]));
    let f = &out[0];
    assert_eq!((f.code, f.verdict), ("kerf-contradicts-strip", Verdict::Refuse));
    assert!(has(f, "kerf_mm") && has(f, "strip_kerf_mm") && f.why.contains("0.26") && f.why.contains("0.18"));
}

#[test]
fn a_comb_and_calipers_that_contradict_are_refused_with_both_numbers() {
    // drawn as if the kerf had been taken off twice: every slot feels 0.18 narrower
    let mut twice = good();
    for slot in twice["combs"][0]["slots"].as_array_mut().unwrap() {
        slot["drawn_mm"] = json!(slot["drawn_mm"].as_f64().unwrap() + 0.24);
    }
    let (_, out) = taken(twice);
    assert_eq!(codes(&out), [("comb-contradicts-readings", Verdict::Refuse)]);
    assert!(has(&out[0], "shift_mm") && has(&out[0], "shift_interval_mm"));
    // one that is merely a word off is no contradiction
    let mut a_word = good();
    for slot in a_word["combs"][0]["slots"].as_array_mut().unwrap() {
        slot["drawn_mm"] = json!(slot["drawn_mm"].as_f64().unwrap() + 0.06);
    }
    assert_eq!(codes(&taken(a_word).1), []);
}

#[test]
fn what_is_doubtful_is_warned_about() {
    for (code, place, changes) in [
        ("readings-stale", "/age_days", vec![("/age_days", json!(29))]),
        ("few-readings", "/stock/readings_mm", vec![("/stock/readings_mm", json!([3.08, 3.12, 3.05]))]),
        ("few-readings", "/stock/readings_mm", vec![("/stock/readings_mm", json!(3.1))]),
        (
            "thickness-spread",
            "/stock/readings_mm",
            vec![("/stock/readings_mm", json!([3.02, 3.16, 3.05, 3.10, 3.13, 3.09, 3.11, 3.07]))],
        ),
        (
            "reading-stands-out",
            "/stock/readings_mm/4",
            vec![("/stock/readings_mm", json!([3.10, 3.11, 3.10, 3.09, 3.18, 3.10, 3.11, 3.10]))],
        ),
        (
            "kerf-scatters",
            "/strips",
            vec![("/strips", json!([{"measured_mm": 98.18}, {"measured_mm": 97.6}, {"measured_mm": 98.0}]))],
        ),
        ("one-strip", "/strips", vec![("/strips", json!([{"measured_mm": 98.2}]))]),
        ("strip-readings-scatter", "/strips/0", vec![("/strips/0/measured_mm", json!([98.1, 98.3]))]),
        ("kerf-assumed", "/stock/kerf_mm", vec![("/strips", json!([]))]),
        ("answers-out-of-order", "/combs/0/slots", vec![("/combs/0/slots/2/answer", json!("slide"))]),
    ] {
        let (profile, out) = taken(changed(&changes));
        let found = out.iter().find(|f| f.code == code && f.place.starts_with(place));
        let f = found.unwrap_or_else(|| panic!("{code} at {place}: {:?}", codes(&out)));
        assert_eq!(f.verdict, Verdict::Warn, "{code}");
        assert!(!f.have.is_empty() && !f.need.is_empty() && f.why.len() > 40, "{f:?}");
        assert!(profile.is_some(), "{code}");
    }
    assert_eq!(codes(&taken(changed(&[("/age_days", json!(28))])).1), []);
}

#[test]
fn what_cannot_be_is_refused() {
    let rattling: Vec<Value> =
        (0..5).map(|i| json!({"drawn_mm": 3.2 + 0.05 * f64::from(i), "answer": "rattles"})).collect();
    for (code, place, changes) in [
        ("strip-implausible", "/strips/1/measured_mm", vec![("/strips/1/measured_mm", json!(100.4))]),
        ("strip-implausible", "/strips/1/pieces", vec![("/strips/1/pieces", json!(9.5))]),
        ("answers-out-of-order", "/combs/0/slots", vec![("/combs/0/slots/6/answer", json!("mallet"))]),
        ("comb-open-ended", "/combs", vec![("/combs/0/slots", json!(rattling))]),
        ("wrong-count", "/combs/0/slots", vec![("/combs/0/slots", json!([]))]),
        ("out-of-range", "/combs/0/slots/1/drawn_mm", vec![("/combs/0/slots/1/drawn_mm", json!(500))]),
        ("out-of-range", "/age_days", vec![("/age_days", json!(-1))]),
        ("thickness-implausible", "/stock/readings_mm/0", vec![("/stock/readings_mm/0", json!(6.1))]),
        ("material-never", "/stock", vec![("/stock/material", json!("foamed PVC"))]),
    ] {
        let (_, out) = taken(changed(&changes));
        let found = out.iter().find(|f| f.code == code && f.place.starts_with(place));
        let f = found.unwrap_or_else(|| panic!("{code} at {place}: {:?}", codes(&out)));
        assert_eq!(f.verdict, Verdict::Refuse);
    }
    let strips: Vec<Value> = (0..25).map(|_| json!({"measured_mm": 98.2})).collect();
    assert_eq!(codes(&taken(changed(&[("/strips", json!(strips))])).1), [("wrong-count", Verdict::Refuse)]);
}

#[test]
fn a_board_that_is_squeezed_has_no_comb_to_speak_of() {
    let mut foam = good();
    foam["cutter"] = json!("knife-600x400");
    foam["stock"] =
        json!({"id": "F", "material": "foam-board-5", "readings_mm": [4.9, 4.88, 4.91, 4.9, 4.92, 4.87, 4.9, 4.9]});
    foam["strips"] = json!([]);
    let (profile, out) = taken(foam);
    assert_eq!(codes(&out), [("comb-says-nothing", Verdict::Warn)]);
    assert!(profile.unwrap().fit.is_none());
}
