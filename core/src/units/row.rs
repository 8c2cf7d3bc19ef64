//! A row: what one number of a request is, and the range it must lie in.

use crate::finding::{Finding, Verdict};

/// One number that a caller may give. The range check, the error text, the OpenAPI schema and the
/// tests' generators all read the same row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    /// Field name as it stands in the request, unit last (`width_mm`).
    pub name: &'static str,
    /// What the number is, in one sentence.
    pub what: &'static str,
    /// Unit of measure: `mm`, `deg`, `g`, `m/s`, `1` for a share or a count.
    pub unit: &'static str,
    /// Smallest value that is accepted.
    pub min: f64,
    /// Largest value that is accepted.
    pub max: f64,
    /// Value taken when the caller leaves the field out, if there is one.
    pub default: Option<f64>,
}

/// A default that was used because the caller left a field out; the report lists them all.
#[derive(Clone, Debug, PartialEq)]
pub struct DefaultUsed {
    /// JSON Pointer of the field that was left out.
    pub at: String,
    /// The value that was taken.
    pub value: f64,
    /// Its unit.
    pub unit: &'static str,
}

impl Row {
    /// A finding when `value` is not a number within the row's range; nothing otherwise.
    pub fn check(&self, value: f64, at: &str, out: &mut Vec<Finding>) {
        if value.is_finite() && value >= self.min && value <= self.max {
            return;
        }
        let off = if value < self.min { self.min - value } else { value - self.max };
        out.push(
            Finding::new("out-of-range", Verdict::Refuse, at)
                .have(self.name, value)
                .need("min", self.min)
                .need("max", self.max)
                .why(format!(
                    "{}: {} {} is outside {} to {} by {}. {}",
                    self.name,
                    tidy(value),
                    self.unit,
                    tidy(self.min),
                    tidy(self.max),
                    tidy(off),
                    self.what.trim()
                )),
        );
    }
}

/// A number as people write it: at most three decimals, no trailing zeros.
pub(crate) fn tidy(value: f64) -> String {
    let s = format!("{value:.3}");
    let s = s.trim_end_matches('0').trim_end_matches('.');
    if s == "-0" { "0".to_owned() } else { s.to_owned() }
}
