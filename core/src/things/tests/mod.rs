//! The room against published values, scenarios and independent computing.

mod any;
mod building;
mod leaning;
mod liquids;
mod published;
mod solids;
mod weights;

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

/// Numbers that look random and are the same each time (xorshift64*).
struct Dice(u64);

impl Dice {
    fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }
    fn between(&mut self, lo: f64, hi: f64) -> f64 {
        self.0 ^= self.0 >> 12;
        self.0 ^= self.0 << 25;
        self.0 ^= self.0 >> 27;
        let bits = self.0.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 11;
        lo + (hi - lo) * bits as f64 / (1_u64 << 53) as f64
    }
}
