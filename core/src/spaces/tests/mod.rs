//! Tests of the room `spaces`.

mod case;
mod drawer;
mod others;
mod plan;
mod slam;

use super::{Space, SpaceSpec};
use crate::finding::{Amount, Finding, Verdict};
use crate::units::decode;
use serde_json::{Value, json};

/// A drawer of the bench, with some fields put in or (null) taken out.
fn drawer_json(changes: Value) -> Value {
    merge(json!({"kind": "drawer", "width_mm": 420, "depth_mm": 380, "clear_height_mm": 92}), changes)
}

/// A road-call case with walls that lean out by five degrees.
fn case_json(changes: Value) -> Value {
    let base =
        json!({"kind": "case", "floor_mm": [372, 262], "height_mm": 98, "slope_deg": 5, "attitudes": ["front-up"]});
    merge(base, changes)
}

fn merge(mut all: Value, changes: Value) -> Value {
    for (k, v) in changes.as_object().unwrap() {
        if v.is_null() {
            all.as_object_mut().unwrap().remove(k);
        } else {
            all[k] = v.clone();
        }
    }
    all
}

fn check(spec: Value) -> (Option<Space>, Vec<Finding>) {
    let spec: SpaceSpec = decode(spec).unwrap();
    let mut out = vec![];
    let space = Space::checked(&spec, "/space", &mut out);
    (space, out)
}

fn good(spec: Value) -> Space {
    let (space, out) = check(spec);
    assert!(out.is_empty(), "{out:?}");
    space.unwrap()
}

fn codes(out: &[Finding]) -> Vec<(&str, Verdict)> {
    out.iter().map(|f| (f.code, f.verdict)).collect()
}

fn number(f: &Finding, key: &str) -> f64 {
    match f.have.iter().chain(&f.need).find(|(k, _)| *k == key) {
        Some((_, Amount::Number(v))) => *v,
        other => panic!("{key}: {other:?}"),
    }
}

fn near(have: f64, want: f64, tolerance: f64) {
    assert!((have - want).abs() <= tolerance, "{have}, not {want} ± {tolerance}");
}

/// Applies each cure of the first finding and expects that the finding is gone.
fn cures_work(spec: &Value) {
    let (_, out) = check(spec.clone());
    let f = &out[0];
    assert!(!f.cures.is_empty(), "{} has no cure", f.code);
    for cure in &f.cures {
        let mut cured = spec.clone();
        for op in &cure.patch {
            let mut path: Vec<&str> = op.path.strip_prefix("/space/").unwrap().split('/').collect();
            let last = path.pop().unwrap();
            let place = path.iter().fold(&mut cured, |v, k| &mut v[*k]);
            match &op.value {
                Some(v) => place[last] = serde_json::to_value(v).unwrap(),
                None => drop(place.as_object_mut().unwrap().remove(last)),
            }
        }
        let (_, after) = check(cured);
        assert!(after.iter().all(|a| (a.code, &a.place) != (f.code, &f.place)), "{}: {}", f.code, cure.action);
    }
}
