//! Takes some visits off a tour and puts each back where it adds least, with the gate that suits there.
//!
//! Ruin and recreate (Schrimpf, Schneider, Stamm-Wilbrandt, Dueck 2000) with record-to-record travel
//! (Dueck 1993): a tour is kept while it is not much longer than the shortest one.

use super::descend::{Descent, GAIN_MM};
use super::tour::{Ground, Step};
use crate::units::dice::Dice;

/// Neighbours that are remembered of each visit.
const NEIGHBOURS: usize = 12;
/// Most visits that are taken off at once.
const OFF_MOST: usize = 7;
/// How much longer than the record a tour may be at first; the share shrinks to nothing.
const SLACK: f64 = 0.02;
/// One insertion in so many looks away from a gap, so that the same ruin does not end the same way.
const BLINK: usize = 40;

/// A search under way.
pub struct Search<'g, 'a> {
    ground: &'g Ground<'a>,
    dice: Dice,
    /// Of each visit the nearest others.
    near: Vec<Vec<usize>>,
    /// Distances left.
    work: u64,
    /// Visits whose gate may be no longer the best.
    stale: Vec<bool>,
}

impl<'g, 'a> Search<'g, 'a> {
    /// A search over a ground. The seed is fixed: the same ground gives the same tour.
    pub fn new(ground: &'g Ground<'a>) -> Self {
        let visits = ground.visits;
        let nearest = |i: usize| {
            let mut others: Vec<(f64, usize)> =
                (0..visits.len()).filter(|k| *k != i).map(|k| (visits[i].apart(&visits[k]), k)).collect();
            let by_distance = |a: &(f64, usize), b: &(f64, usize)| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1));
            if others.len() > NEIGHBOURS {
                others.select_nth_unstable_by(NEIGHBOURS, by_distance);
                others.truncate(NEIGHBOURS);
            }
            others.sort_by(by_distance);
            others.into_iter().map(|(_, k)| k).collect()
        };
        let near = (0..visits.len()).map(nearest).collect();
        Self { ground, dice: Dice::new(1), near, work: 0, stale: vec![false; visits.len()] }
    }

    /// The shortest tour that was met within so much work, starting from one.
    pub fn run(&mut self, first: Vec<Step>, work: u64) -> Vec<Step> {
        self.work = work;
        let (all, n) = (work.max(1), first.len());
        let mut best = (self.ground.length(&first), first);
        if n < 2 {
            return best.1;
        }
        let mut now = best.clone();
        while self.work > 0 {
            let mut tour = now.1.clone();
            self.ruin_and_recreate(&mut tour);
            self.refresh(&mut tour);
            self.spend(n);
            let length = self.ground.length(&tour);
            if length < best.0 - GAIN_MM {
                now = self.polished(tour);
                best = now.clone();
            } else if length < best.0 * (1.0 + SLACK * self.work as f64 / all as f64) {
                now = (length, tour);
            }
        }
        best.1
    }

    fn spend(&mut self, distances: usize) {
        self.work = self.work.saturating_sub(distances as u64);
    }

    /// A new record, taken downhill as far as it goes.
    fn polished(&mut self, mut tour: Vec<Step>) -> (f64, Vec<Step>) {
        let spent = self.ground.all_gates(&mut tour);
        self.work = self.work.saturating_sub(spent);
        let mut d = Descent::new(self.ground, tour, self.work);
        d.run();
        self.work = d.work;
        (self.ground.length(&d.tour), d.tour)
    }

    fn ruin_and_recreate(&mut self, tour: &mut Vec<Step>) {
        let seed = self.dice.below(tour.len());
        let mut off = self.chosen(tour, seed);
        for (k, s) in tour.iter().enumerate() {
            let gone = |s: Option<&Step>| s.is_some_and(|s| off.contains(&s.visit));
            if gone(tour.get(k + 1)) || (k > 0 && gone(tour.get(k - 1))) {
                self.stale[s.visit] = true;
            }
        }
        tour.retain(|s| !off.contains(&s.visit));
        while !off.is_empty() {
            let visit = off.swap_remove(self.dice.below(off.len()));
            self.put_back(tour, visit);
        }
    }

    /// What is taken off: neighbours in the plane, a stretch of the tour, or a block.
    fn chosen(&mut self, tour: &[Step], seed: usize) -> Vec<usize> {
        let many = 1 + self.dice.below(OFF_MOST.min(tour.len()));
        let first = tour[seed].visit;
        match self.dice.below(8) {
            0 | 1 => tour[seed..].iter().take(many).map(|s| s.visit).collect(),
            2 if !self.ground.visits[first].before.is_empty() => {
                let block = self.ground.visits[first].before.iter().copied();
                block.chain([first]).take(2 * OFF_MOST).collect()
            }
            _ => {
                let mut off = vec![first];
                for k in 0..self.near[first].len() {
                    if off.len() < many && self.dice.below(4) > 0 {
                        off.push(self.near[first][k]);
                    }
                }
                off
            }
        }
    }

    /// Puts a visit into the gap in which it adds least.
    fn put_back(&mut self, tour: &mut Vec<Step>, visit: usize) {
        let (low, high) = self.gaps(tour, visit);
        let v = &self.ground.visits[visit];
        let mut best = (f64::INFINITY, low, 0);
        for gap in low..=high {
            let (a, b) = (self.ground.before(tour, gap), self.ground.after(tour, gap));
            let between = b.map_or(0.0, |b| a.distance(b));
            // no gate is nearer than the box
            let least = v.distance(a) + b.map_or(0.0, |b| v.distance(b)) - between;
            self.spend(3);
            if least >= best.0 || (best.0.is_finite() && self.dice.below(BLINK) == 0) {
                continue;
            }
            let (way, gate) = self.ground.best_gate(visit, a, b);
            self.spend(2 * v.gates.len());
            if way - between < best.0 {
                best = (way - between, gap, gate);
            }
        }
        let (_, gap, gate) = best;
        tour.insert(gap, Step { visit, gate });
        for k in gap.saturating_sub(1)..(gap + 2).min(tour.len()) {
            self.stale[tour[k].visit] = true;
        }
    }

    /// The gaps into which a visit may go, first and last.
    fn gaps(&self, tour: &[Step], visit: usize) -> (usize, usize) {
        let visits = self.ground.visits;
        let v = &visits[visit];
        if v.before.is_empty() && v.freed_by.is_none() {
            return (0, tour.len());
        }
        let low = tour.iter().rposition(|s| v.before.contains(&s.visit)).map_or(0, |k| k + 1);
        let frees = |s: &Step| visits[s.visit].before.contains(&visit);
        let high = tour.iter().position(frees).unwrap_or(tour.len());
        (low, high)
    }

    /// Chooses the gates of stale visits anew, and of their neighbours where one changed.
    fn refresh(&mut self, tour: &mut [Step]) {
        for _ in 0..2 {
            for k in 0..tour.len() {
                let visit = tour[k].visit;
                if !std::mem::take(&mut self.stale[visit]) {
                    continue;
                }
                let (from, to) = (self.ground.before(tour, k), self.ground.after(tour, k + 1));
                self.spend(2 * self.ground.visits[visit].gates.len());
                let (_, gate) = self.ground.best_gate(visit, from, to);
                if gate != tour[k].gate {
                    tour[k].gate = gate;
                    if k > 0 {
                        self.stale[tour[k - 1].visit] = true;
                    }
                    if let Some(next) = tour.get(k + 1) {
                        self.stale[next.visit] = true;
                    }
                }
            }
        }
    }
}
