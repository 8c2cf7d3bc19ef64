//! A tour over visits: its length, and the first one, nearest next.

use super::visit::Visit;
use crate::geom::DVec2;

/// A visit and the gate by which it is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Step {
    /// Which visit.
    pub visit: usize,
    /// Which of its gates.
    pub gate: usize,
}

/// The visits of a phase and where the head stands before them.
pub struct Ground<'a> {
    /// All visits.
    pub visits: &'a [Visit],
    /// Where the head stands first.
    pub start: DVec2,
}

impl Ground<'_> {
    /// Where a step begins.
    pub fn enter(&self, s: Step) -> DVec2 {
        self.visits[s.visit].gates[s.gate].enter
    }
    /// Where a step ends.
    pub fn leave(&self, s: Step) -> DVec2 {
        self.visits[s.visit].gates[s.gate].leave
    }
    /// Where the head stands before the step at a place of the tour.
    pub fn before(&self, tour: &[Step], at: usize) -> DVec2 {
        if at == 0 { self.start } else { self.leave(tour[at - 1]) }
    }
    /// Where the head goes after the steps up to a place; nowhere at the end.
    pub fn after(&self, tour: &[Step], at: usize) -> Option<DVec2> {
        tour.get(at).map(|s| self.enter(*s))
    }
    /// Way between the visits, mm.
    pub fn length(&self, tour: &[Step]) -> f64 {
        let mut here = self.start;
        let hop = |s: &Step| {
            let way = here.distance(self.enter(*s));
            here = self.leave(*s);
            way
        };
        tour.iter().map(hop).sum()
    }
    /// The nearest gate of all that may be entered next, again and again.
    pub fn nearest_next(&self) -> Vec<Step> {
        let mut waits: Vec<usize> = self.visits.iter().map(|v| v.before.len()).collect();
        let mut left: Vec<usize> = (0..self.visits.len()).collect();
        let (mut tour, mut here) = (Vec::with_capacity(left.len()), self.start);
        while let Some((k, step)) = self.nearest(&left, &waits, here) {
            left.swap_remove(k);
            let mut at = self.visits[step.visit].freed_by;
            while let Some(host) = at {
                waits[host] -= 1;
                at = self.visits[host].freed_by;
            }
            here = self.leave(step);
            tour.push(step);
        }
        tour
    }
    /// The nearest step among those left that wait for nothing; ties go to the visit that was given first.
    fn nearest(&self, left: &[usize], waits: &[usize], here: DVec2) -> Option<(usize, Step)> {
        let mut best: Option<(f64, usize, Step)> = None;
        for (k, &visit) in left.iter().enumerate().filter(|(_, v)| waits[**v] == 0) {
            if best.is_some_and(|(d, _, _)| self.visits[visit].distance(here) > d) {
                continue;
            }
            for (gate, g) in self.visits[visit].gates.iter().enumerate() {
                let d = g.enter.distance(here);
                let step = Step { visit, gate };
                if best.is_none_or(|(b, _, s)| d < b || (d == b && (visit, gate) < (s.visit, s.gate))) {
                    best = Some((d, k, step));
                }
            }
        }
        best.map(|(_, k, step)| (k, step))
    }
}
