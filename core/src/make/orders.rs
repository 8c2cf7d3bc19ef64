//! The order in which each holder goes together, and a refusal where there is none.

use crate::finding::Finding;
use crate::finish::Built;
use crate::job::Job;
use crate::order::{Order, Step, find, judge};

/// The steps of each holder, in the order of the holders; none for one that cannot be put together or
/// that was stopped at.
pub fn orders(job: &Job, holders: &[Built], stop: &dyn Fn() -> bool) -> (Vec<Vec<Step>>, Vec<Finding>) {
    let nominal: Vec<f64> = job.stocks.iter().map(|s| s.label_mm).collect();
    let mut findings = vec![];
    let steps = holders
        .iter()
        .map(|built| {
            let order = find(&built.assembly, &built.finished, stop);
            findings.extend(judge(built, &order, &nominal, stop));
            match order {
                Order::Steps(steps) => steps,
                Order::Locked(_) | Order::Stopped => vec![],
            }
        })
        .collect();
    (steps, findings)
}
