//! From pulls to steps: read backwards, with how far each part goes and how far it is guided.

use super::bars::Bars;
use super::parting::Pull;
use super::prism::{Prism, shared_stretch};
use crate::assembly::Assembly;
use crate::finish::Finished;
use crate::geom::DVec3;

/// One straight push.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// The panels that are pushed, as one.
    pub moved: Vec<usize>,
    /// The panels that they are pushed onto, which already hold together.
    pub onto: Vec<usize>,
    /// Which way, as a unit vector in the holder's frame.
    pub way: DVec3,
    /// How far, from where both are wholly clear of one another along the way, mm.
    pub travel_mm: f64,
    /// Over how much of its end the joints guide it, mm: before that it is free in the hand.
    pub guided_mm: f64,
    /// The meetings that close.
    pub meetings: Vec<usize>,
}

/// Both partners were a hair smaller than they are when their ends were measured, mm.
const HAIR_MM: f64 = 0.02;

/// The steps of some pulls, in the order in which they are made.
pub fn of(assembly: &Assembly, finished: &Finished, bars: &mut Bars, pulls: &[Pull]) -> Vec<Step> {
    pulls.iter().rev().map(|pull| step(assembly, finished, bars, pull)).collect()
}

fn step(assembly: &Assembly, finished: &Finished, bars: &mut Bars, pull: &Pull) -> Step {
    let (moved, onto) = (&pull.moved, &pull.rest);
    let mut least = f64::INFINITY;
    for p in moved {
        least = least.min(bars.extent(*p, pull.way).0);
    }
    let mut most = f64::NEG_INFINITY;
    for p in onto {
        most = most.max(bars.extent(*p, pull.way).1);
    }
    let across = |m: &&usize| {
        let meeting = &assembly.meetings[**m];
        let (a, b) = (meeting.a.0, meeting.b.0);
        (moved.contains(&a) && onto.contains(&b)) || (moved.contains(&b) && onto.contains(&a))
    };
    let all: Vec<usize> = (0..assembly.meetings.len()).collect();
    let meetings: Vec<usize> = all.iter().filter(across).copied().collect();
    let travel_mm = (most - least + HAIR_MM).max(0.0);
    let guided = meetings.iter().map(|m| guided(assembly, finished, *m, moved, pull.way)).fold(0.0, f64::max);
    Step {
        moved: moved.clone(),
        onto: onto.clone(),
        way: -pull.way + DVec3::ZERO,
        travel_mm,
        guided_mm: guided.min(travel_mm),
        meetings,
    }
}

/// How far a joint guides: until the two blanks, uncut, are clear of one another.
fn guided(assembly: &Assembly, finished: &Finished, meeting: usize, moved: &[usize], way: DVec3) -> f64 {
    let m = &assembly.meetings[meeting];
    let whole = |p: usize| {
        let (slab, blank) = (&assembly.panels[p].slab, &finished.panels[p].blank);
        Prism::over(slab, &blank.outline, 0.0, slab.thickness)
    };
    let (first, second) = if moved.contains(&m.a.0) { (m.a.0, m.b.0) } else { (m.b.0, m.a.0) };
    match shared_stretch(&whole(first), &whole(second), way) {
        Some((from, to)) if from < HAIR_MM => to.max(0.0),
        _ => 0.0,
    }
}
