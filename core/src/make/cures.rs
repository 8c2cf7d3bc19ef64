//! Cures are tried before they are offered: applying the patch must clear the finding.

use super::shortage::CODES;
use super::{goes_on_sheets, prove};
use crate::finding::{Cure, Finding, apply};
use crate::job::{Limits, Request, read};
use crate::order;
use serde_json::Value;

/// Trying a cure costs as much as proving the job once; beyond this many the rest is not offered.
const MOST_TRIED: usize = 12;
/// A large job tries fewer, so that cures never cost much more than the job: panels and things proved in all.
const MOST_PROVED: usize = 1_500;
/// … but the nearest cures are always tried.
const ALWAYS_TRIED: usize = 2;

/// Keeps of each finding's cures those that were tried and clear it.
///
/// `size` is how many panels and things the job has: it says how many cures can be afforded.
pub fn keep_tried(request: &Request, limits: &Limits, size: usize, findings: &mut [Finding], stop: &dyn Fn() -> bool) {
    let most = (MOST_PROVED / size.max(1)).clamp(ALWAYS_TRIED, MOST_TRIED);
    let Ok(base) = serde_json::to_value(request) else { return };
    let mut tried = 0;
    // what refuses is cured first
    findings.sort_by_key(|f| std::cmp::Reverse(f.verdict));
    for f in findings.iter_mut() {
        let (code, place) = (f.code, f.place.clone());
        f.cures.retain(|cure| {
            tried += 1;
            tried <= most && !stop() && clears(&base, limits, cure, code, &place, stop)
        });
    }
}

fn clears(base: &Value, limits: &Limits, cure: &Cure, code: &str, place: &str, stop: &dyn Fn() -> bool) -> bool {
    let mut patched = base.clone();
    if !cure.patch.iter().all(|op| apply(&mut patched, op)) {
        return false;
    }
    let Ok(request) = read(patched) else { return false };
    let mut proof = prove(&request, limits, stop);
    if code == order::NO_ORDER {
        proof.put_in_order(stop);
    }
    let cleared = !stop() && !proof.findings.iter().any(|f| f.code == code && f.place == place);
    // what only the nest finds, only the nest can clear
    cleared && (!CODES.contains(&code) || goes_on_sheets(&request, limits, stop))
}
