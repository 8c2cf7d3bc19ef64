//! JSON Patch on a request: how cures are tried.

use super::{Amount, PatchOp};
use serde_json::Value;

/// One step of a JSON Patch (RFC 6902, sections 4.1 to 4.3) on an object's member or an array's
/// element; false when the place is not there.
#[must_use]
pub fn apply(doc: &mut Value, op: &PatchOp) -> bool {
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
