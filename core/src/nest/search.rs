//! Ruin and recreate: parts are taken off a few sheets and put down again in another order, until one
//! sheet can be left out.
//!
//! One sheet is given up and its parts wait in a pool. Each round takes parts off one to three sheets and
//! offers pool and parts to the sheets, large ones first, with some disorder. A round stays when no more
//! waits than some rounds ago (late acceptance: Burke and Bykov, European Journal of Operational Research
//! 258 (2017), 70-78), and is broken off as soon as it cannot. A part that waits grows heavier round by
//! round, so that in time others make room for it (guided local search: Voudouris and Tsang, European
//! Journal of Operational Research 113 (1999), 469-499).

use super::board::{Aim, Bench, Board, Item, Rule, Spot};
use super::dice::Dice;

/// Rounds over which the pool is compared back: longer lists wandered, shorter ones froze.
const LATE: usize = 60;
/// Shares of the rounds that take parts off three sheets, and off two.
const THREE_SHEETS: f64 = 0.2;
/// See [`THREE_SHEETS`].
const TWO_SHEETS: f64 = 0.5;
/// Share of the sheets touched that are emptied altogether; from the others a cluster is taken.
const EMPTIED: f64 = 0.6;
/// Most parts of a cluster.
const CLUSTER: usize = 10;
/// Disorder: a part may come before one up to this share larger.
const DISORDER: f64 = 0.35;
/// Share of the rounds that look for the snuggest spot rather than the lowest.
const SNUG: f64 = 0.5;
/// Share of the rounds that fill holes before anything else.
const HOLES: f64 = 0.7;
/// Share of the rounds in which a part takes the first sheet that has room, not the best one.
const FIRST_FIT: f64 = 0.5;
/// By how much a part grows heavier in each round in which it waits, as a share of its weight: with less
/// the same part waited to the end, with more the search forgot what is hard to place.
const HEAVIER: f64 = 3e-4;
/// Sheets other than the touched ones that parts are offered to: on large jobs most are full anyway.
const OTHERS: usize = 8;
/// Work of a round beside its sweeps.
const ROUND_WORK: u64 = 200;

/// Sheets being filled, and parts that lie on none of them.
#[derive(Clone, Debug)]
pub struct State {
    /// The sheets.
    pub boards: Vec<Board>,
    /// Parts that wait.
    pub pool: Vec<u32>,
    /// How many times its own weight each part has come to weigh, by part.
    pub burden: Vec<f64>,
}

/// A board as it was before a round, with what had failed on it.
type Kept = (usize, Board, Vec<u64>);

/// The search and its chance.
pub struct Search<'a> {
    bench: &'a mut Bench,
    dice: Dice,
    /// For each board the kinds that found no spot since something was last taken off it, a bit each.
    failed: Vec<Vec<u64>>,
    kept: Vec<Kept>,
}

impl<'a> Search<'a> {
    /// A search over one job.
    pub fn new(bench: &'a mut Bench, seed: u64) -> Self {
        Self { bench, dice: Dice::new(seed), failed: vec![], kept: vec![] }
    }

    /// Makes the pool smaller until it is empty, the work is done, or the caller says stop. Leaves the
    /// state with the smallest pool seen.
    pub fn shrink_pool(&mut self, state: &mut State, until: u64, stop: &dyn Fn() -> bool) {
        let words = self.bench.catalogue.kinds.len().div_ceil(64);
        self.failed = vec![vec![0; words]; state.boards.len()];
        let mut cost = self.burdened(state);
        let mut history = vec![cost; LATE];
        let mut best = (self.weight_of(&state.pool), state.clone());
        for round in 0_usize.. {
            let over = self.bench.sweep.work >= until || (round % 64 == 0 && stop());
            if state.pool.is_empty() || state.boards.is_empty() || over {
                break;
            }
            let slot = round % LATE;
            let limit = cost.max(history[slot]);
            if let Some(stays) = self.round(state, limit) {
                cost = stays;
                let weight = self.weight_of(&state.pool);
                if weight < best.0 {
                    best = (weight, state.clone());
                }
            }
            history[slot] = cost;
            cost += self.make_heavier(state);
        }
        best.1.burden = std::mem::take(&mut state.burden);
        *state = best.1;
    }

    /// One round; the pool's new weight if it stays, nothing if all is as before.
    fn round(&mut self, state: &mut State, limit: f64) -> Option<f64> {
        self.bench.sweep.work += ROUND_WORK;
        self.kept.clear();
        let before = state.pool.clone();
        let touched = self.ruin(state);
        let waiting = self.recreate(state, &touched, limit);
        if waiting.is_none() {
            state.pool = before;
            for (i, board, failed) in self.kept.drain(..) {
                state.boards[i] = board;
                self.failed[i] = failed;
            }
        }
        waiting
    }

    fn burdened(&self, state: &State) -> f64 {
        state.pool.iter().map(|&p| state.burden[p as usize] * self.bench.weight(p)).sum()
    }

    /// Makes what waits heavier; by how much in all.
    fn make_heavier(&self, state: &mut State) -> f64 {
        for &p in &state.pool {
            state.burden[p as usize] += HEAVIER;
        }
        HEAVIER * self.weight_of(&state.pool)
    }

    fn weight_of(&self, parts: &[u32]) -> f64 {
        parts.iter().map(|&p| self.bench.weight(p)).sum()
    }

    fn keep(&mut self, state: &State, at: usize) {
        if !self.kept.iter().any(|k| k.0 == at) {
            self.kept.push((at, state.boards[at].clone(), self.failed[at].clone()));
        }
    }

    /// Takes parts off one to three boards.
    fn ruin(&mut self, state: &mut State) -> Vec<usize> {
        let roll = self.dice.share();
        let boards = if roll < THREE_SHEETS { 3 } else { 1 + usize::from(roll < THREE_SHEETS + TWO_SHEETS) };
        let mut touched = vec![];
        for _ in 0..boards {
            let at = self.dice.below(state.boards.len());
            if !touched.contains(&at) {
                touched.push(at);
                self.take_off(state, at);
            }
        }
        touched
    }

    /// Takes a part and its nearest neighbours off a board, or all that lies on it.
    fn take_off(&mut self, state: &mut State, at: usize) {
        let len = state.boards[at].items.len();
        if len == 0 {
            return;
        }
        self.keep(state, at);
        let all = self.dice.share() < EMPTIED;
        let n = if all { len } else { 1 + self.dice.below(len.min(CLUSTER)) };
        let board = &mut state.boards[at];
        let mid = |bench: &Bench, i: &Item| {
            let s = &bench.catalogue.shapes[i.shape as usize];
            (i64::from(i.x) + i64::from(s.width / 2), i64::from(i.y) + i64::from(s.height / 2))
        };
        let seed = mid(self.bench, &board.items[self.dice.below(len)]);
        let far = |i: &Item| {
            let m = mid(self.bench, i);
            (m.0 - seed.0).pow(2) + (m.1 - seed.1).pow(2)
        };
        if n < len {
            board.items.sort_by_cached_key(|i| (std::cmp::Reverse(far(i)), i.part));
        }
        for item in board.items.split_off(len - n) {
            board.used -= self.bench.area_of(item.part);
            state.pool.push(item.part);
        }
        self.failed[at].iter_mut().for_each(|w| *w = 0);
    }

    /// Offers the pool to the boards; nothing when more than `limit` would be left.
    fn recreate(&mut self, state: &mut State, touched: &[usize], limit: f64) -> Option<f64> {
        let parts = std::mem::take(&mut state.pool);
        let order = self.disordered(parts, &state.burden);
        let aim = if self.dice.share() < SNUG { Aim::Snug } else { Aim::Low };
        let holes_first = self.dice.share() < HOLES;
        let rule = Rule { aim, from_left: self.dice.below(2) == 0, holes_first };
        let first = self.dice.share() < FIRST_FIT;
        let boards = self.offered(touched, state.boards.len());
        let mut waiting = 0.0;
        for part in order {
            match self.best_board(state, part, rule, &boards, first) {
                Some((b, spot)) => {
                    self.keep(state, b);
                    let board = &mut state.boards[b];
                    board.items.push(Item { part, shape: spot.shape, x: spot.x, y: spot.y });
                    board.used += self.bench.area_of(part);
                }
                None => {
                    state.pool.push(part);
                    waiting += state.burden[part as usize] * self.bench.weight(part);
                    if waiting > limit {
                        return None;
                    }
                }
            }
        }
        Some(waiting)
    }

    /// The parts, large ones first, with some disorder.
    fn disordered(&mut self, parts: Vec<u32>, burden: &[f64]) -> Vec<u32> {
        let dice = &mut self.dice;
        let bench = &self.bench;
        let mut key = |p: u32| burden[p as usize] * bench.weight(p) * (1.0 - DISORDER * dice.share());
        let mut keyed: Vec<(f64, u32)> = parts.into_iter().map(|p| (key(p), p)).collect();
        keyed.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        keyed.into_iter().map(|(_, p)| p).collect()
    }

    /// The touched boards and some others.
    fn offered(&mut self, touched: &[usize], boards: usize) -> Vec<usize> {
        let mut out = touched.to_vec();
        if boards <= OTHERS {
            out.extend((0..boards).filter(|b| !touched.contains(b)));
        } else {
            for _ in 0..OTHERS {
                let b = self.dice.below(boards);
                if !out.contains(&b) {
                    out.push(b);
                }
            }
        }
        out
    }

    fn best_board(
        &mut self,
        state: &State,
        part: u32,
        rule: Rule,
        boards: &[usize],
        first: bool,
    ) -> Option<(usize, Spot)> {
        let kind = self.bench.catalogue.kind_of[part as usize] as usize;
        let area = self.bench.area_of(part);
        let (word, bit) = (kind / 64, 1_u64 << (kind % 64));
        let mut best: Option<(usize, Spot)> = None;
        for &b in boards {
            if self.failed[b][word] & bit != 0 || self.bench.room_left(&state.boards[b]) < area {
                continue;
            }
            match self.bench.best_spot(&state.boards[b], part, rule) {
                Some(spot) if best.is_none_or(|(_, s)| spot.rank < s.rank) => best = Some((b, spot)),
                Some(_) => {}
                None => self.failed[b][word] |= bit,
            }
            if first && best.is_some() {
                break;
            }
        }
        best
    }
}
