//! What a read-back says, as it is sent.

use super::joints::{Measure, Place};
use super::package::{Package, ReadJoint};
use crate::finding::{Finding, Verdict};
use serde::Serialize;

/// What was found and measured.
#[derive(Clone, Debug, Serialize)]
pub struct Report {
    /// The worst finding's.
    pub verdict: Verdict,
    /// All faults, by part and joint.
    pub findings: Vec<Finding>,
    /// Parts that were put together.
    pub parts: usize,
    /// Pairs of parts that were near enough to be tried for collisions.
    pub pairs: usize,
    /// Things that were tried in their openings.
    pub things: usize,
    /// What each joint measures.
    pub joints: Vec<JointMeasured>,
}

/// What one joint measures.
#[derive(Clone, Debug, Serialize)]
pub struct JointMeasured {
    /// Its id.
    pub id: String,
    /// First partner.
    pub a: String,
    /// Second partner.
    pub b: String,
    /// What the fit asks for, mm.
    pub fit_mm: f64,
    /// Least and greatest gap at each kind of place.
    pub gaps: Vec<Gaps>,
}

/// Gaps of one kind.
#[derive(Clone, Debug, Serialize)]
pub struct Gaps {
    /// What was measured.
    pub place: Place,
    /// How many.
    pub count: usize,
    /// What it should be, mm.
    pub want_mm: f64,
    /// Least, mm.
    pub least_mm: f64,
    /// Greatest, mm.
    pub most_mm: f64,
}

impl JointMeasured {
    pub(super) fn of(package: &Package, joint: &ReadJoint, measures: &[Measure]) -> Self {
        let round = |v: f64| (v * 1e4).round() / 1e4 + 0.0;
        let code = |part: usize| package.parts[part].code.clone();
        let mut places: Vec<Place> = measures.iter().map(|m| m.place).collect();
        places.sort_unstable();
        places.dedup();
        let of_place = |place: Place| {
            let mine: Vec<&Measure> = measures.iter().filter(|m| m.place == place).collect();
            let gaps: Vec<f64> = mine.iter().filter_map(|m| m.gap_mm).collect();
            let least = gaps.iter().copied().min_by(f64::total_cmp)?;
            let most = gaps.iter().copied().max_by(f64::total_cmp)?;
            let want_mm = mine.first().map_or(0.0, |m| m.want_mm);
            Some(Gaps {
                place,
                count: gaps.len(),
                want_mm: round(want_mm),
                least_mm: round(least),
                most_mm: round(most),
            })
        };
        let gaps = places.into_iter().filter_map(of_place).collect();
        Self { id: joint.id.clone(), a: code(joint.a), b: code(joint.b), fit_mm: joint.fit_mm, gaps }
    }
}
