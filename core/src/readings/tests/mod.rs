//! Readings: what becomes of good ones, and what doubtful and impossible ones get.

mod answers;
mod refusals;
mod shop;

use super::{ReadingsRequest, StockProfile, take};
use crate::finding::{Finding, Verdict};
use serde_json::{Value, json};

/// Eight readings, three strips, and a comb that feels as the trade's words say.
fn good() -> Value {
    let eight = [308.0, 312.0, 305.0, 310.0, 314.0, 309.0, 311.0, 307.0].map(|h| h / 100.0);
    let slots: Vec<Value> = [
        (2.80, "refuses"),
        (2.85, "mallet"),
        (2.90, "thumb"),
        (2.95, "thumb"),
        (3.00, "slide"),
        (3.05, "loose"),
        (3.10, "loose"),
        (3.15, "rattles"),
    ]
    .iter()
    .map(|(w, a)| json!({"drawn_mm": w, "answer": a}))
    .collect();
    json!({
        "stock": {"id": "A", "material": "birch-ply-3", "lot": "spring",
                  "readings_mm": eight},
        "strips": [{"measured_mm": 98.18}, {"measured_mm": 98.22}, {"measured_mm": [98.20, 98.21, 98.19]}],
        "combs": [{"grain": "along", "slots": slots}],
        "age_days": 2
    })
}

fn taken(request: Value) -> (Option<StockProfile>, Vec<Finding>) {
    let request: ReadingsRequest = serde_json::from_value(request).unwrap();
    let (profile, out) = take(&request);
    assert_eq!(profile.is_none(), out.iter().any(|f| f.verdict == Verdict::Refuse), "{out:#?}");
    (profile, out)
}

fn codes(out: &[Finding]) -> Vec<(&'static str, Verdict)> {
    out.iter().map(|f| (f.code, f.verdict)).collect()
}
