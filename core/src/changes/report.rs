//! What changes, as it is sent.

use super::matching::Matched;
use crate::finding::{Finding, Verdict};
use crate::made::{Made, Part};
use crate::readback::{JointMeasured, Report};
use serde::Serialize;
use std::collections::BTreeSet;

/// A part that stays.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StayLine {
    /// Its code in the new job.
    pub code: String,
    /// The code that is burnt into it.
    pub was: String,
    /// What people call it.
    pub name: String,
    /// Whether it goes in turned end for end.
    pub turned: bool,
}

/// A part that is cut anew.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutLine {
    /// Its code in the new job.
    pub code: String,
    /// The code of the old part that it takes the place of; none where it is new.
    pub was: Option<String>,
    /// What people call it.
    pub name: String,
    /// Stock of the new job that it is cut from.
    pub stock: String,
    /// What differs.
    pub why: Vec<String>,
}

/// An old part that is not used again.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeftLine {
    /// The code that is burnt into it.
    pub code: String,
    /// What people call it.
    pub name: String,
}

/// What changes from one job to another.
#[derive(Clone, Debug, Serialize)]
pub struct Changes {
    /// Format of this document.
    pub format: &'static str,
    /// The proof's: refuse when old and new parts do not go together.
    pub verdict: Verdict,
    /// Parts that are cut anew.
    pub cut: Vec<CutLine>,
    /// Parts that stay.
    pub stay: Vec<StayLine>,
    /// Old parts that are not used again.
    pub left_over: Vec<LeftLine>,
    /// How many parts were put together to prove it: those that stay as they were cut, those that are cut anew.
    pub parts: usize,
    /// What each joint between a part that stays and one that is cut anew measures.
    pub joints: Vec<JointMeasured>,
    /// What is wrong between them.
    pub findings: Vec<Finding>,
}

/// Puts everything together.
#[must_use]
pub fn report(old: &Made, new: &Made, matched: &[Matched], proof: Report) -> Changes {
    let used: BTreeSet<usize> = matched.iter().filter_map(|m| m.stays.map(|s| s.0)).collect();
    let pairs = || matched.iter().zip(&new.parts);
    let stay: Vec<StayLine> = pairs()
        .filter_map(|(m, p)| {
            let (w, lie) = m.stays?;
            Some(StayLine {
                code: p.code.clone(),
                was: old.parts[w].code.clone(),
                name: p.name.clone(),
                turned: lie.turned,
            })
        })
        .collect();
    let cut = pairs().filter(|(m, _)| m.stays.is_none()).map(|(m, p)| cut_line(old, new, m, p)).collect();
    let stays: BTreeSet<&str> = stay.iter().map(|s| s.code.as_str()).collect();
    let mixed = |j: &JointMeasured| stays.contains(j.a.as_str()) != stays.contains(j.b.as_str());
    let left_over = (0..old.parts.len())
        .filter(|w| !used.contains(w))
        .map(|w| LeftLine { code: old.parts[w].code.clone(), name: old.parts[w].name.clone() })
        .collect();
    Changes {
        format: "berth-changes/1",
        verdict: proof.verdict,
        cut,
        left_over,
        parts: proof.parts,
        joints: proof.joints.iter().filter(|j| mixed(j)).cloned().collect(),
        findings: proof.findings,
        stay,
    }
}

fn cut_line(old: &Made, new: &Made, m: &Matched, p: &Part) -> CutLine {
    let mut why = m.why.clone();
    if m.was.is_none() {
        why.push("no old part has its place".to_owned());
    }
    CutLine {
        code: p.code.clone(),
        was: m.was.map(|w| old.parts[w].code.clone()),
        name: p.name.clone(),
        stock: new.job.stocks.get(p.stock).map_or(String::new(), |s| s.id.clone()),
        why,
    }
}
