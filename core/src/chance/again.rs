//! Which two readings are worth taking again: those that decide most.

use super::clearance::{Instead, Source};
use super::holder::{Class, sources};
use crate::job::Job;
use crate::material::{Spread, SpreadFrom};
use crate::statistics::Prediction;

/// A reading that decides much.
#[derive(Clone, Debug, PartialEq)]
pub struct Again {
    /// JSON Pointer of the reading, or of the readings that are missing.
    pub at: String,
    /// What was read; none where nothing was.
    pub reading_mm: Option<f64>,
    /// The chance that all joints close (each by itself) without that reading; where there is none, if it
    /// were known exactly.
    pub all_without: f64,
}

/// The two that move the chance of the whole most, most first.
///
/// Of several readings only the least and the greatest are tried: no other moves both mean and spread as far.
pub fn again(job: &Job, classes: &[Class]) -> Vec<Again> {
    let mut tried: Vec<(f64, Again)> = vec![];
    let now = all_ln(job, classes, None);
    for source in sources(classes) {
        let Some(spread) = source.spread(job) else { continue };
        for (place, reading_mm, next) in candidates(source, spread) {
            let ln = all_ln(job, classes, Some(&Instead { source, next: &next }));
            let one = Again { at: place, reading_mm, all_without: libm::exp(ln) };
            tried.push(((ln - now).abs(), one));
        }
    }
    tried.sort_by(|a, b| b.0.total_cmp(&a.0));
    tried.into_iter().take(2).map(|(_, a)| a).collect()
}

fn candidates(source: Source, spread: &Spread) -> Vec<(String, Option<f64>, Prediction)> {
    let at = source.place(spread);
    match spread.from {
        // what is known for certain is not read again
        SpreadFrom::Given => vec![],
        SpreadFrom::Usual => vec![(at, None, Prediction::normal(spread.next.centre, 0.0))],
        SpreadFrom::Readings(_) => {
            let all = spread.readings_mm.iter().enumerate();
            let least = all.clone().min_by(|a, b| a.1.total_cmp(b.1));
            let greatest = all.max_by(|a, b| a.1.total_cmp(b.1));
            [least, greatest]
                .into_iter()
                .flatten()
                .filter_map(|(i, r)| Some((format!("{at}/{i}"), Some(*r), spread.without(i)?.next)))
                .collect()
        }
    }
}

/// ln of the chance that all joints close, each by itself.
fn all_ln(job: &Job, classes: &[Class], instead: Option<&Instead>) -> f64 {
    /// What is less likely than this is as good as impossible.
    const LEAST: f64 = 1e-12;
    let touched = |c: &Class| instead.is_some_and(|i| c.clearance.follows.iter().any(|f| f.0 == i.source));
    classes
        .iter()
        .filter(|c| c.count > 0)
        .map(|c| {
            let chance = if touched(c) { c.clearance.chance(job, c.clearance.fit_mm, instead) } else { c.chance };
            c.count as f64 * libm::log(chance.max(LEAST))
        })
        .sum()
}
