//! The best gates for a given order.

use super::tour::{Ground, Step};
use crate::geom::DVec2;

impl Ground<'_> {
    /// The cheapest gate of a visit between two places, with the way that it adds; `to` is nowhere at the end.
    pub fn best_gate(&self, visit: usize, from: DVec2, to: Option<DVec2>) -> (f64, usize) {
        let mut best = (f64::INFINITY, 0);
        for (gate, g) in self.visits[visit].gates.iter().enumerate() {
            let way = from.distance(g.enter) + to.map_or(0.0, |p| g.leave.distance(p));
            if way < best.0 {
                best = (way, gate);
            }
        }
        best
    }

    /// All gates of a tour at once: the shortest way through layers of gates (dynamic programming, Bellman
    /// 1957). Exact for the order; gives the number of distances that it took.
    pub fn all_gates(&self, tour: &mut [Step]) -> u64 {
        let (mut work, mut reach): (u64, Vec<(DVec2, f64)>) = (0, vec![(self.start, 0.0)]);
        let mut came: Vec<Vec<usize>> = Vec::with_capacity(tour.len());
        for step in tour.iter() {
            let gates = &self.visits[step.visit].gates;
            work += (gates.len() * reach.len()) as u64;
            let mut from = Vec::with_capacity(gates.len());
            let mut next = Vec::with_capacity(gates.len());
            for g in gates {
                let mut best = (f64::INFINITY, 0);
                for (k, (p, way)) in reach.iter().enumerate() {
                    let whole = way + p.distance(g.enter);
                    if whole < best.0 {
                        best = (whole, k);
                    }
                }
                from.push(best.1);
                next.push((g.leave, best.0));
            }
            came.push(from);
            reach = next;
        }
        let mut gate = reach.iter().enumerate().min_by(|a, b| a.1.1.total_cmp(&b.1.1)).map_or(0, |(k, _)| k);
        for (step, from) in tour.iter_mut().zip(&came).rev() {
            step.gate = gate;
            gate = from[gate];
        }
        work
    }
}
