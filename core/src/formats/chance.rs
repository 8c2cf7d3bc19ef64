//! The chances of fit, as they stand in the report.

use super::numbers::{mm, rounded};
use crate::chance::{Again, JointChance};
use crate::finish::Built;
use crate::made::Made;
use serde::Serialize;

/// One holder.
#[derive(Serialize)]
pub struct HolderEntry<'a> {
    holder: &'a str,
    /// Chance that all joints close, if each scatters by itself …
    all_independent: f64,
    /// … and if all move together: the truth lies between.
    all_together: f64,
    /// Spreads that are only usual in the trade: nobody has measured them here.
    usual_spreads: &'a [String],
    take_again: Vec<AgainEntry<'a>>,
    joints: Vec<JointEntry>,
}

#[derive(Serialize)]
struct AgainEntry<'a> {
    #[serde(rename = "where")]
    at: &'a str,
    reading_mm: Option<f64>,
    all_independent_without: f64,
}

#[derive(Serialize)]
struct JointEntry {
    letters: String,
    fit_mm: f64,
    closes_mm: [f64; 2],
    drawn_mm: Option<f64>,
    chance: f64,
    best_fit_mm: f64,
    best_drawn_mm: Option<f64>,
    best_chance: f64,
}

/// Every holder of the job.
pub fn entries(made: &Made) -> Vec<HolderEntry<'_>> {
    made.holders
        .iter()
        .zip(&made.chances)
        .map(|(built, c)| HolderEntry {
            holder: &built.letter,
            all_independent: share(c.all_independent),
            all_together: share(c.all_together),
            usual_spreads: &c.usual,
            take_again: c.again.iter().map(again).collect(),
            joints: c.joints.iter().map(joint).collect(),
        })
        .collect()
}

fn again(a: &Again) -> AgainEntry<'_> {
    AgainEntry { at: &a.at, reading_mm: a.reading_mm, all_independent_without: share(a.all_without) }
}

fn joint(j: &JointChance) -> JointEntry {
    JointEntry {
        letters: Built::joint_letters(j.meeting),
        fit_mm: mm(j.fit_mm),
        closes_mm: [mm(j.closes_mm.min), mm(j.closes_mm.max)],
        drawn_mm: j.drawn_mm.map(mm),
        chance: share(j.chance),
        best_fit_mm: mm(j.best_fit_mm),
        best_drawn_mm: j.best_drawn_mm.map(mm),
        best_chance: share(j.best_chance),
    }
}

/// Five digits of a chance.
fn share(v: f64) -> f64 {
    rounded(v, 1e5)
}
