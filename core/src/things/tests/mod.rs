//! The room against published values, scenarios and independent computing.

mod building;
mod leaning;

use super::{Thing, ThingSpec};
use crate::finding::{Finding, Verdict};
use crate::units::decode;
use serde_json::Value;

/// A thing from JSON that must be sound.
fn thing(spec: Value) -> Thing {
    let spec: ThingSpec = decode(spec).unwrap();
    let mut out = vec![];
    let thing = Thing::checked(&spec, "/things/0", &mut out);
    thing.unwrap_or_else(|| panic!("{out:#?}"))
}

/// The findings of a thing from JSON, and whether it could be built.
fn findings(spec: Value) -> (bool, Vec<Finding>) {
    let spec: ThingSpec = decode(spec).unwrap();
    let mut out = vec![];
    let built = Thing::checked(&spec, "/things/0", &mut out).is_some();
    assert_eq!(built, out.iter().all(|f| f.verdict != Verdict::Refuse), "{out:#?}");
    (built, out)
}

/// A number out of a finding, by its key.
fn amount(f: &Finding, key: &str) -> f64 {
    let all = f.have.iter().chain(&f.need);
    match all.clone().find(|(k, _)| *k == key) {
        Some((_, crate::finding::Amount::Number(n))) => *n,
        other => panic!("{key}: {other:?} in {f:?}"),
    }
}

#[track_caller]
fn near(have: f64, want: f64, tol: f64) {
    assert!((have - want).abs() <= tol, "{have} is not {want} within {tol}");
}
