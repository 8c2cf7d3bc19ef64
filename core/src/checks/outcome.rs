//! What a check looks at, and what it says.

use crate::finding::{Finding, Verdict, worst};
use crate::finish::Built;
use crate::job::Job;

/// What a check looks at.
#[derive(Clone, Copy)]
pub struct Subject<'a> {
    /// The checked request.
    pub job: &'a Job,
    /// Every holder, finished.
    pub holders: &'a [Built],
}

/// What a check is about; printed in the report.
#[derive(Clone, Copy, Debug)]
pub struct About {
    /// Its name: the same as its module, with hyphens.
    pub name: &'static str,
    /// The rule, in a sentence.
    pub rule: &'static str,
    /// Where the rule and its limits come from.
    pub source: &'static str,
}

/// On which side of its limit a value has to be.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limit {
    /// At least this.
    Least(f64),
    /// At most this.
    Most(f64),
}

/// One value against its limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// Where: a JSON Pointer, or the code of a part or joint.
    pub place: String,
    /// What was measured, unit last.
    pub what: &'static str,
    /// The value.
    pub value: f64,
    /// The limit below (or above) which there is a finding at all.
    pub limit: Limit,
}

impl Measured {
    /// How far the value is on the good side of its limit; negative when it is not.
    #[must_use]
    pub fn margin(&self) -> f64 {
        match self.limit {
            Limit::Least(l) => self.value - l,
            Limit::Most(l) => l - self.value,
        }
    }
}

/// What a check says.
#[derive(Clone, Debug, Default)]
pub struct Outcome {
    /// Every value that was measured; the report keeps the worst of each kind.
    pub measured: Vec<Measured>,
    /// All faults.
    pub findings: Vec<Finding>,
}

impl Outcome {
    /// Notes a value and its limit.
    pub fn measure(&mut self, place: impl Into<String>, what: &'static str, value: f64, limit: Limit) {
        self.measured.push(Measured { place: place.into(), what, value, limit });
    }
    /// Adds a finding.
    pub fn find(&mut self, finding: Finding) {
        self.findings.push(finding);
    }
    /// The worst verdict of this check.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        worst(&self.findings)
    }
    /// The value nearest to (or farthest beyond) its limit, of each kind, in the order of kinds.
    #[must_use]
    pub fn worst_measured(&self) -> Vec<&Measured> {
        let mut kinds: Vec<&Measured> = vec![];
        for m in &self.measured {
            match kinds.iter_mut().find(|k| k.what == m.what) {
                Some(k) if m.margin() < k.margin() => *k = m,
                Some(_) => {}
                None => kinds.push(m),
            }
        }
        kinds
    }
}
