//! A limit in two steps: fine, warned about, refused.

use super::outcome::{Limit, Outcome};
use crate::finding::{Finding, Verdict};

/// On which side of its limits a value has to be.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Side {
    Least,
    Most,
}

/// A limit in two steps.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Bound {
    code: &'static str,
    key: &'static str,
    side: Side,
    refuse: f64,
    warn: f64,
    same: f64,
}

/// Outlines are exact to some 1e-7 mm, and nobody cuts to a ten-thousandth: nearer than this is equal.
const SAME: f64 = 1e-4;

impl Bound {
    /// At least: below `refuse` it is refused, below `warn` warned about. A step that does not exist
    /// is `-INFINITY`.
    pub(super) const fn least(code: &'static str, key: &'static str, refuse: f64, warn: f64) -> Self {
        Self { code, key, side: Side::Least, refuse, warn, same: SAME }
    }

    /// At most: above `refuse` it is refused, above `warn` warned about. A step that does not exist
    /// is `INFINITY`.
    pub(super) const fn most(code: &'static str, key: &'static str, refuse: f64, warn: f64) -> Self {
        Self { code, key, side: Side::Most, refuse, warn, same: SAME }
    }

    /// The same limit for a value that is only known to within `same`.
    pub(super) const fn within(self, same: f64) -> Self {
        Self { same, ..self }
    }

    /// The limit at which there is a finding at all.
    pub(super) fn limit(&self) -> Limit {
        let first = if self.warn.is_finite() { self.warn } else { self.refuse };
        match self.side {
            Side::Least => Limit::Least(first),
            Side::Most => Limit::Most(first),
        }
    }

    /// By how much a value is on the wrong side of a limit; not a number is wrong without end.
    fn beyond(&self, value: f64, limit: f64) -> f64 {
        if value.is_nan() {
            return f64::INFINITY;
        }
        match self.side {
            Side::Least => limit - value,
            Side::Most => value - limit,
        }
    }

    /// The verdict on a value.
    pub(super) fn judge(&self, value: f64) -> Verdict {
        if self.beyond(value, self.refuse) > self.same {
            Verdict::Refuse
        } else if self.beyond(value, self.warn) > self.same {
            Verdict::Warn
        } else {
            Verdict::Ok
        }
    }

    /// Notes a value in the outcome, and judges it: what comes back is a finding with its amounts, and
    /// by how much the value misses the limit of its verdict.
    pub(super) fn weigh(&self, place: &str, value: f64, out: &mut Outcome) -> Option<(Finding, f64)> {
        out.measure(place, self.key, value, self.limit());
        self.finding(place, value)
    }

    /// The same without a note.
    pub(super) fn finding(&self, place: &str, value: f64) -> Option<(Finding, f64)> {
        let verdict = self.judge(value);
        let limit = match verdict {
            Verdict::Ok => return None,
            Verdict::Warn => self.warn,
            Verdict::Refuse => self.refuse,
        };
        let f = Finding::new(self.code, verdict, place).have(self.key, value).need(self.key, limit);
        Some((f, self.beyond(value, limit)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_steps_on_both_sides() {
        let web = Bound::least("web", "web_mm", 4.65, 6.2);
        assert_eq!(
            [6.2, 6.2 - 1e-9, 6.19, 4.65, 4.64, f64::NAN].map(|v| web.judge(v)),
            [Verdict::Ok, Verdict::Ok, Verdict::Warn, Verdict::Warn, Verdict::Refuse, Verdict::Refuse]
        );
        let sag = Bound::most("sag", "sag_mm", 4.38, 2.19);
        assert_eq!([2.19, 2.2, 4.4].map(|v| sag.judge(v)), [Verdict::Ok, Verdict::Warn, Verdict::Refuse]);
        let mut out = Outcome::default();
        let (f, off) = sag.weigh("/holders/0", 4.8, &mut out).unwrap();
        assert_eq!((f.code, f.verdict), ("sag", Verdict::Refuse));
        assert!((off - 0.42).abs() < 1e-12);
        assert_eq!(out.measured[0].limit, Limit::Most(2.19));
    }
}
