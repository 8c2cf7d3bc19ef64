//! Downhill steps on a tour: turning a stretch round, and moving one to another place.
//!
//! 2-opt (Croes 1958) and Or-opt (Or 1976); both keep what has to come first.

use super::tour::{Ground, Step};

/// Less than this is no gain, mm: rounding must not keep the search going.
pub const GAIN_MM: f64 = 1e-7;

/// Stretches of up to so many steps are moved (Or's own limit); whole blocks besides.
const STRETCH_MOST: usize = 3;

/// A tour that is being shortened, and the distances that may still be asked for.
pub struct Descent<'g, 'a> {
    ground: &'g Ground<'a>,
    /// The tour.
    pub tour: Vec<Step>,
    /// Where each visit stands in the tour.
    at: Vec<usize>,
    /// Distances left.
    pub work: u64,
}

impl<'g, 'a> Descent<'g, 'a> {
    /// A start.
    pub fn new(ground: &'g Ground<'a>, tour: Vec<Step>, work: u64) -> Self {
        let at = vec![0; ground.visits.len()];
        let mut made = Self { ground, tour, at, work };
        made.find_places();
        made
    }

    /// Goes down until no step helps, or the work is done.
    pub fn run(&mut self) {
        loop {
            let moved = self.all_reversals() | self.all_moves();
            if !moved || self.work == 0 {
                return;
            }
        }
    }

    fn find_places(&mut self) {
        for (k, s) in self.tour.iter().enumerate() {
            self.at[s.visit] = k;
        }
    }

    fn spend(&mut self, distances: u64) {
        self.work = self.work.saturating_sub(distances);
    }

    /// The place of the last of what has to come before the step at `k`, if anything has.
    fn last_before(&self, k: usize) -> Option<usize> {
        self.ground.visits[self.tour[k].visit].before.iter().map(|v| self.at[*v]).max()
    }

    fn all_reversals(&mut self) -> bool {
        let mut any = false;
        for i in 0..self.tour.len() {
            let mut j = i;
            while j + 1 < self.tour.len() && self.work > 0 {
                j += 1;
                // a stretch that holds both an opening and its edge cannot be turned round
                if self.last_before(j).is_some_and(|k| k >= i) {
                    break;
                }
                any |= self.reverse_if_shorter(i, j);
            }
        }
        any
    }

    fn reverse_if_shorter(&mut self, i: usize, j: usize) -> bool {
        self.spend(4);
        let (g, t) = (self.ground, &self.tour);
        let (from, to) = (g.before(t, i), g.after(t, j + 1));
        let (head, tail) = (g.enter(t[i]), g.leave(t[j]));
        let beyond = |p| to.map_or(0.0, |q| q.distance(p));
        let gain = from.distance(head) + beyond(tail) - from.distance(tail) - beyond(head);
        if gain <= GAIN_MM {
            return false;
        }
        self.tour[i..=j].reverse();
        for s in &mut self.tour[i..=j] {
            s.gate = g.visits[s.visit].back(s.gate);
        }
        self.find_places();
        true
    }

    fn all_moves(&mut self) -> bool {
        let mut any = false;
        for i in 0..self.tour.len() {
            for length in 1..=STRETCH_MOST {
                let j = i + length - 1;
                if j < self.tour.len() && self.work > 0 {
                    any |= self.move_stretch(i, j);
                }
            }
            // a ring and all that lies in it, where they stand together
            let block = self.ground.visits[self.tour[i].visit].before.len();
            if block >= STRETCH_MOST && i >= block && self.holds_all_before(i - block, i) && self.work > 0 {
                any |= self.move_stretch(i - block, i);
            }
        }
        any
    }

    fn holds_all_before(&self, i: usize, j: usize) -> bool {
        self.ground.visits[self.tour[j].visit].before.iter().all(|v| (i..j).contains(&self.at[*v]))
    }

    /// The gaps into which a stretch may go: after all that it needs, before all that need it. A gap is
    /// named by the step that stands after it.
    fn gaps(&self, i: usize, j: usize) -> (usize, usize) {
        let (mut low, mut high) = (0, self.tour.len());
        for k in i..=j {
            let visit = &self.ground.visits[self.tour[k].visit];
            let needed = visit.before.iter().map(|v| self.at[*v]).filter(|p| *p < i);
            low = low.max(needed.max().map_or(0, |p| p + 1));
            if let Some(p) = visit.freed_by.map(|v| self.at[v]).filter(|p| *p > j) {
                high = high.min(p);
            }
        }
        (low, high)
    }

    fn move_stretch(&mut self, i: usize, j: usize) -> bool {
        let (g, t) = (self.ground, &self.tour);
        let (head, tail) = (g.enter(t[i]), g.leave(t[j]));
        let (from, to) = (g.before(t, i), g.after(t, j + 1));
        let beyond = |p, q: Option<_>| q.map_or(0.0, |q: crate::geom::DVec2| q.distance(p));
        let freed = from.distance(head) + beyond(tail, to) - beyond(from, to);
        if freed <= GAIN_MM {
            self.spend(3);
            return false;
        }
        let turns = (i + 1..=j).all(|k| self.last_before(k).is_none_or(|p| p < i));
        let (low, high) = self.gaps(i, j);
        let mut best = (freed - GAIN_MM, None);
        for gap in (low..=high).filter(|gap| *gap < i || *gap > j + 1) {
            let (a, b) = (g.before(t, gap), g.after(t, gap));
            let between = beyond(a, b);
            let ahead = a.distance(head) + beyond(tail, b) - between;
            let back = if turns { a.distance(tail) + beyond(head, b) - between } else { f64::INFINITY };
            let cost = ahead.min(back);
            if cost < best.0 {
                best = (cost, Some((gap, back < ahead)));
            }
        }
        self.spend(5 * (high - low) as u64);
        let Some((gap, turned)) = best.1 else { return false };
        self.relocate(i, j, gap, turned);
        true
    }

    fn relocate(&mut self, i: usize, j: usize, gap: usize, turned: bool) {
        if turned {
            self.tour[i..=j].reverse();
            for s in &mut self.tour[i..=j] {
                s.gate = self.ground.visits[s.visit].back(s.gate);
            }
        }
        if gap < i {
            self.tour[gap..=j].rotate_right(j + 1 - i);
        } else {
            self.tour[i..gap].rotate_left(j + 1 - i);
        }
        self.find_places();
    }
}
