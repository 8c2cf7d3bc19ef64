//! Listed cutters and machines of the caller's.

use super::super::{Cutter, CutterSpec, Process};
use crate::finding::Finding;
use crate::units::decode;
use serde_json::{Value, json};

fn check(v: Value) -> (Option<Cutter>, Vec<Finding>) {
    let spec: CutterSpec = decode(v).unwrap();
    let mut out = vec![];
    let c = Cutter::checked(&spec, "/cutter", &mut out);
    (c, out)
}

#[test]
fn a_name_from_the_list() {
    let (c, out) = check(json!("co2-600x400"));
    assert!(out.is_empty());
    assert_eq!(c.unwrap().reach_mm(), [600.0, 400.0]);
    let (c, out) = check(json!("plasma"));
    assert!(c.is_none());
    assert_eq!(out[0].code, "cutter-unknown");
    assert!(out[0].why.contains("co2-600x400") && out[0].cures.len() == 2);
}

#[test]
fn a_machine_of_ones_own() {
    let (c, out) =
        check(json!({"bed_mm": [900, 600], "edge_mm": 4, "feed_mm_s": 14, "passes": 2, "cost_per_minute": 0.5}));
    assert!(out.is_empty());
    let c = c.unwrap();
    assert_eq!((c.bed_mm, c.reach_mm(), c.process), ([900.0, 600.0], [892.0, 592.0], Process::Co2));
    assert_eq!((c.feed("mdf-3").feed_mm_s, c.feed("mdf-3").passes), (14.0, 2));
    let (c, _) = check(json!({"process": "knife", "bed_mm": [1000, 700]}));
    assert_eq!(c.unwrap().process, Process::Knife);
    let (c, _) = check(json!({"passes": 3}));
    assert_eq!(c.unwrap().feed("mdf-3").passes, 3);
}

#[test]
fn its_faults_are_all_named() {
    let (c, out) = check(json!({"bed_mm": [10, 9000], "passes": 0, "feed_mm_s": 0, "base": "mill"}));
    assert!(c.is_none());
    let places: Vec<&str> = out.iter().map(|f| f.place.as_str()).collect();
    assert_eq!(places, ["/cutter/feed_mm_s", "/cutter/bed_mm/0", "/cutter/bed_mm/1", "/cutter/passes", "/cutter/base"]);
    let (c, out) = check(json!({"bed_mm": [300, 200], "edge_mm": 95}));
    assert!(c.is_none() && out[0].code == "bed-without-reach");
    assert!(check(json!({"bed_mm": [300, 200], "edge_mm": 0})).0.is_some(), "the cure");
}

#[test]
fn errors_name_their_field() {
    let fault = |v| decode::<CutterSpec>(v).unwrap_err().0;
    assert_eq!(fault(json!({"feed_mm_s": "x"})), "/feed_mm_s");
    assert_eq!(fault(json!({"colour": 1})), "/colour");
    assert_eq!(fault(json!({"process": "plasma"})), "/process");
    assert!(decode::<CutterSpec>(json!([1])).is_err());
    assert!(decode::<CutterSpec>(json!(4)).is_err());
}

#[test]
fn defaults_come_from_the_base() {
    let spec: CutterSpec = decode(json!({"bed_mm": [900, 600]})).unwrap();
    let c = Cutter::checked(&spec, "/cutter", &mut vec![]).unwrap();
    let mut list = vec![];
    c.note_defaults(&spec, "/cutter", &mut list);
    assert!(list.iter().any(|d| d.at == "/cutter/travel_mm_s" && d.value == 250.0));
    assert!(!list.iter().any(|d| d.at.starts_with("/cutter/bed_mm")));
    assert_eq!(serde_json::to_value(&spec).unwrap(), json!({"bed_mm": [900.0, 600.0]}));
}
