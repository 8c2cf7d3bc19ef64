//! The order in which a holder goes together: straight pushes in which no part passes through another,
//! or the joints that leave none.
//!
//! Found by taking the finished solids apart (`parting`): parts as convex pieces (`flat`, `trapezoids`,
//! `prism`, `body`), who bars whose way (`bars`) along which lines (`lines`). Where a holder is locked,
//! `blame` names an irreducible set of its joints and `remedy` tries what would open it. Once it stands,
//! `ways` finds how each thing goes in and out.
//!
//! May import: every room above.

mod bars;
mod blame;
mod body;
mod flat;
mod lines;
mod parting;
mod prism;
mod remedy;
mod report;
mod rings;
mod steps;
#[cfg(test)]
mod tests;
mod things;
mod trapezoids;
mod ways;
pub mod words;

pub use remedy::Change;
pub use report::{NO_ORDER, judge};
pub use steps::Step;
pub use things::things_out;
pub use ways::Pull;

use self::bars::Bars;
use self::flat::Detail;
use self::parting::{Parting, take_apart};
use crate::assembly::Assembly;
use crate::finish::Finished;

/// What came of the search.
#[derive(Clone, Debug, PartialEq)]
pub enum Order {
    /// Every step, first to last. Empty for a holder of one part.
    Steps(Vec<Step>),
    /// No order of straight pushes builds it; one entry for each set of parts that hold one another.
    Locked(Vec<Lock>),
    /// The caller's `stop` said so.
    Stopped,
}

/// Parts that hold one another so that none, and no group of them, can be pushed in last.
#[derive(Clone, Debug, PartialEq)]
pub struct Lock {
    /// The parts.
    pub parts: Vec<usize>,
    /// An irreducible set of meetings to blame: without all others there is still no order, and without
    /// any one of these there is one. Empty when the parts lock without any joint.
    pub blame: Vec<usize>,
    /// Along how many lines they were pushed, either way.
    pub lines: usize,
}

/// More lines than this are not tried, however many faces a holder has …
const MOST_LINES: usize = 400;
/// … nor more than keep the search for the joints to blame to so many questions: some seconds' worth.
const MOST_QUESTIONS: usize = 20_000_000;

/// Finds the order of a holder. `stop` is asked now and then.
#[must_use]
pub fn find(assembly: &Assembly, finished: &Finished, stop: &dyn Fn() -> bool) -> Order {
    let whole: Vec<usize> = (0..assembly.panels.len()).collect();
    let lines = lines::candidates(assembly);
    let mut bars = Bars::new(assembly, finished, lines.clone(), Detail::Filled);
    let mut found = take_apart(assembly, &mut bars, whole, stop);
    let mut steps = steps::of(assembly, finished, &mut bars, &found.pulls);
    if found.stuck.is_empty() || found.stopped {
        return if found.stopped { Order::Stopped } else { Order::Steps(steps) };
    }
    // what is locked among filled openings and the handy lines is asked again, in full
    let largest = found.stuck.iter().map(Vec::len).max().unwrap_or(1);
    let per_line = 2 * largest * largest * (assembly.meetings.len() + 1);
    let most = MOST_LINES.min(MOST_QUESTIONS / per_line);
    let mut bars = Bars::new(assembly, finished, lines::complete(assembly, &lines, most), Detail::Fine);
    let mut locks = vec![];
    for set in std::mem::take(&mut found.stuck) {
        let Parting { pulls, stuck, stopped } = take_apart(assembly, &mut bars, set, stop);
        if stopped {
            return Order::Stopped;
        }
        // a set is built before it is moved: its own steps stand before all that were found earlier
        let inner = steps::of(assembly, finished, &mut bars, &pulls);
        steps.splice(0..0, inner);
        for parts in stuck {
            let Some(blame) = blame::irreducible(assembly, &mut bars, &parts, stop) else { return Order::Stopped };
            locks.push(Lock { parts, blame, lines: bars.lines.len() });
        }
    }
    if locks.is_empty() { Order::Steps(steps) } else { Order::Locked(locks) }
}
