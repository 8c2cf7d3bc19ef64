//! A band: a house value of the trade, with the limits at which it is warned about or refused.

use super::tidy;
use crate::finding::{Finding, Verdict};

/// Float noise that is no fault: a clearance of 0.7 that was computed as 0.6999999999 is 0.7.
const NOISE: f64 = 1e-9;

/// A house value: fine between the two inner limits, a warning outside them, a refusal outside the
/// outer ones. A limit that does not exist is infinite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// What the finding is called (`side-clearance`).
    pub code: &'static str,
    /// Key of the number in the finding, unit last (`side_clearance_mm`).
    pub key: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// Below this it is refused.
    pub refuse_below: f64,
    /// Below this it is warned about.
    pub warn_below: f64,
    /// Above this it is warned about.
    pub warn_above: f64,
    /// Above this it is refused.
    pub refuse_above: f64,
    /// The value that is always right, proposed as the cure.
    pub good: f64,
    /// Why it matters, and where the limits come from.
    pub why: &'static str,
}

impl Band {
    /// The verdict on a value. What is no number is refused.
    #[must_use]
    pub fn judge(&self, value: f64) -> Verdict {
        if !value.is_finite() || value < self.refuse_below - NOISE || value > self.refuse_above + NOISE {
            Verdict::Refuse
        } else if value < self.warn_below - NOISE || value > self.warn_above + NOISE {
            Verdict::Warn
        } else {
            Verdict::Ok
        }
    }

    /// A finding with its amounts and reason, without a cure; `None` when the value is fine.
    #[must_use]
    pub fn finding(&self, value: f64, at: &str) -> Option<Finding> {
        let verdict = self.judge(value);
        let (low, high) = match verdict {
            Verdict::Ok => return None,
            Verdict::Warn => (self.warn_below, self.warn_above),
            Verdict::Refuse => (self.refuse_below, self.refuse_above),
        };
        let mut f = Finding::new(self.code, verdict, at).have(self.key, value);
        let (limit, side, off) = if value > high { (high, "above", value - high) } else { (low, "below", low - value) };
        if low.is_finite() {
            f = f.need("min", low);
        }
        if high.is_finite() {
            f = f.need("max", high);
        }
        let unit = self.unit;
        Some(f.why(format!(
            "{} {unit} is {side} the limit of {} {unit} by {} {unit}. {}",
            tidy(value),
            tidy(limit),
            tidy(off),
            self.why
        )))
    }

    /// Adds a finding with the good value as its cure, when the value is not fine. `at` is the JSON
    /// Pointer of the field, where the cure puts it.
    pub fn check(&self, value: f64, at: &str, out: &mut Vec<Finding>) {
        if let Some(f) = self.finding(value, at) {
            out.push(f.cure(format!("Use {} {}.", tidy(self.good), self.unit), at, self.good));
        }
    }
}
