//! Cures are tried before they are offered: applying the patch must clear the finding.

use super::prove;
use crate::finding::{Amount, Cure, Finding, PatchOp};
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
    !stop() && !proof.findings.iter().any(|f| f.code == code && f.place == place)
}

/// One step of a JSON Patch (RFC 6902, sections 4.1 to 4.3) on an object's member or an array's
/// element; false when the place is not there.
fn apply(doc: &mut Value, op: &PatchOp) -> bool {
    let Some((parent, key)) = op.path.rsplit_once('/') else { return false };
    let Some(parent) = doc.pointer_mut(parent) else { return false };
    let value = op.value.as_ref().map(to_json);
    match (parent, op.op, value) {
        (Value::Object(map), "add" | "replace", Some(v)) => {
            map.insert(key.replace("~1", "/").replace("~0", "~"), v);
            true
        }
        (Value::Object(map), "remove", None) => map.remove(key).is_some(),
        (Value::Array(list), "replace", Some(v)) => {
            key.parse::<usize>().ok().and_then(|i| list.get_mut(i)).map(|slot| *slot = v).is_some()
        }
        (Value::Array(list), "add", Some(v)) => match key.parse::<usize>() {
            Ok(i) if i <= list.len() => {
                list.insert(i, v);
                true
            }
            _ => false,
        },
        (Value::Array(list), "remove", None) => match key.parse::<usize>() {
            Ok(i) if i < list.len() => {
                list.remove(i);
                true
            }
            _ => false,
        },
        _ => false,
    }
}

fn to_json(amount: &Amount) -> Value {
    serde_json::to_value(amount).unwrap_or(Value::Null)
}
