//! `spec.json`: the request as it was sent, the same with every default filled in, and the version
//! that made it. A job is known by the hash of this file.

use super::{File, PackageFault};
use crate::made::Made;
use crate::units::DefaultUsed;
use serde::Serialize;
use serde_json::{Map, Value};
use sha2::{Digest, Sha256};
use std::fmt::Write as _;

/// The version that made a package.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");

#[derive(Serialize)]
struct SpecFile {
    format: &'static str,
    version: &'static str,
    /// Posted again to the same version, this gives the same package.
    request: Value,
    /// The same with every default that was used.
    resolved: Value,
}

/// One file.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    Ok(vec![("spec.json".to_owned(), bytes(made)?)])
}

/// SHA-256 (FIPS 180-4) of spec.json, in hexadecimal: the job's number.
pub fn hash(made: &Made) -> Result<String, PackageFault> {
    let mut text = String::with_capacity(64);
    for byte in Sha256::digest(bytes(made)?) {
        // writing to a String cannot fail
        let _ = write!(text, "{byte:02x}");
    }
    Ok(text)
}

fn bytes(made: &Made) -> Result<Vec<u8>, PackageFault> {
    let request = serde_json::to_value(&made.request).map_err(|e| PackageFault::of("spec.json", e))?;
    let resolved = resolved(&request, &made.defaults);
    let file = SpecFile { format: "berth-spec/1", version: VERSION, request, resolved };
    super::package::json_bytes("spec.json", &file)
}

/// The request with its defaults filled in. A default may say what was assumed in the place of a field
/// that is no number (no reading at all counts as 0 of skew): such a field is left out, so that the
/// result still is a request.
fn resolved(request: &Value, defaults: &[DefaultUsed]) -> Value {
    let mut left: Vec<&DefaultUsed> = defaults.iter().collect();
    loop {
        let mut doc = request.clone();
        left.iter().for_each(|d| fill(&mut doc, d));
        let Err((at, _)) = crate::job::read(doc.clone()) else { return doc };
        let before = left.len();
        left.retain(|d| !(at == d.at || d.at.starts_with(&format!("{at}/")) || at.starts_with(&format!("{}/", d.at))));
        if left.len() == before {
            return request.clone();
        }
    }
}

/// Puts a default where its JSON Pointer (RFC 6901) says; lists and objects on the way are made.
fn fill(doc: &mut Value, default: &DefaultUsed) {
    let mut here = doc;
    for step in default.at.split('/').skip(1) {
        let step = step.replace("~1", "/").replace("~0", "~");
        if here.is_null() {
            *here = if step.parse::<usize>().is_ok() { Value::Array(vec![]) } else { Value::Object(Map::new()) };
        }
        here = match here {
            Value::Object(map) => map.entry(step).or_insert(Value::Null),
            Value::Array(list) => {
                let Ok(i) = step.parse::<usize>() else { return };
                // defaults of a list come in its order
                if i == list.len() {
                    list.push(Value::Null);
                }
                match list.get_mut(i) {
                    Some(slot) => slot,
                    None => return,
                }
            }
            _ => return,
        };
    }
    // what the caller gave stays
    if here.is_null() {
        *here = serde_json::json!(super::numbers::fine(default.value));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn defaults_fill_what_was_left_out_and_nothing_else() {
        let mut doc = json!({ "stocks": [{ "id": "A", "kerf_mm": 0.18 }] });
        let d = |at: &str, value| DefaultUsed { at: at.to_owned(), value, unit: "mm" };
        for one in [
            d("/stocks/0/kerf_mm", 0.2),
            d("/stocks/0/sheet_mm/0", 600.0),
            d("/stocks/0/sheet_mm/1", 400.0),
            d("/fits/corner", -0.0),
            d("/stocks/9/gap_mm", 3.0),
        ] {
            fill(&mut doc, &one);
        }
        let want = json!({ "stocks": [{ "id": "A", "kerf_mm": 0.18, "sheet_mm": [600.0, 400.0] }], "fits": { "corner": 0.0 } });
        assert_eq!(doc, want);
    }
}
