//! Where one shape's zero may not stand for another shape's sake, worked out once a pair.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};

use super::block::{Block, UNIT_MM};
use super::shape::Shape;
use super::slabs::{Slab, Span, boxes, common, simplify, stack_of};

/// What one shape's zero must keep out of while the other's zero stands at zero: levels, and for each
/// level line and each slab between two levels the stretches that are taken.
#[derive(Clone, Debug, Default)]
pub struct NoFit {
    /// Heights at which something changes, ascending.
    levels: Vec<i32>,
    /// Where the stretches of line 0, slab 0, line 1, slab 1, … begin.
    starts: Vec<u32>,
    spans: Vec<Span>,
    /// Heights at which something can rest.
    pub lids: Vec<i32>,
    /// Least and greatest x that is taken.
    pub width: Span,
}

impl NoFit {
    /// From a stack of slabs. The line between two slabs is taken where both of them are.
    pub fn new(stack: &[Slab]) -> Self {
        let mut out = Self { width: (i32::MAX, i32::MIN), ..Self::default() };
        for (i, s) in stack.iter().enumerate() {
            let below = i.checked_sub(1).map(|b| &stack[b]).filter(|b| b.y1 == s.y0);
            if below.is_none() {
                if !out.levels.is_empty() {
                    // the line on top of the slab below the empty space, and that space
                    out.cell(&[]);
                }
                out.levels.push(s.y0);
                out.cell(&[]);
            }
            out.cell(&s.spans);
            out.levels.push(s.y1);
            out.width = s.spans.iter().fold(out.width, |w, t| (w.0.min(t.0), w.1.max(t.1)));
            match stack.get(i + 1).filter(|a| a.y0 == s.y1) {
                Some(above) => {
                    out.cell(&common(&s.spans, &above.spans));
                    let roofed = |t: &Span| above.spans.iter().any(|a| a.0 <= t.0 && t.1 <= a.1);
                    if !s.spans.iter().all(roofed) {
                        out.lids.push(s.y1);
                    }
                }
                None => {
                    out.cell(&[]);
                    out.lids.push(s.y1);
                }
            }
        }
        out.starts.push(out.spans.len() as u32);
        out
    }

    fn cell(&mut self, spans: &[Span]) {
        self.starts.push(self.spans.len() as u32);
        self.spans.extend(spans);
    }

    /// Least and greatest y that is taken.
    pub fn height(&self) -> Span {
        (self.levels.first().copied().unwrap_or(0), self.levels.last().copied().unwrap_or(0))
    }

    /// What is taken at a height. `level` remembers where the last look was; heights may not fall.
    pub fn taken_at(&self, y: i32, level: &mut u32) -> &[Span] {
        while self.levels.get(*level as usize).is_some_and(|l| *l <= y) {
            *level += 1;
        }
        let Some(below) = (*level as usize).checked_sub(1) else { return &[] };
        let on_line = self.levels[below] == y;
        if below + 1 == self.levels.len() {
            return &[];
        }
        self.cell_at(2 * below + usize::from(!on_line))
    }

    fn cell_at(&self, cell: usize) -> &[Span] {
        &self.spans[self.starts[cell] as usize..self.starts[cell + 1] as usize]
    }

    /// The lowest slab's foot at or above `y` that takes `x`.
    pub fn next_above(&self, x: i32, y: i32) -> Option<i32> {
        if x <= self.width.0 || x >= self.width.1 || self.levels.last().is_none_or(|t| *t <= y) {
            return None;
        }
        let from = self.levels.partition_point(|l| *l < y);
        let takes = |i: &usize| self.cell_at(2 * i + 1).iter().any(|t| t.0 < x && x < t.1);
        (from..self.levels.len() - 1).find(takes).map(|i| self.levels[i])
    }
}

/// Mixes a pair of indices; the standard hasher took longer than the look-up's use.
#[derive(Debug, Default)]
pub struct PairHasher(u64);

impl Hasher for PairHasher {
    fn finish(&self) -> u64 {
        self.0
    }
    fn write(&mut self, bytes: &[u8]) {
        for &b in bytes {
            self.write_u64(u64::from(b));
        }
    }
    fn write_u64(&mut self, v: u64) {
        // Fibonacci hashing: 2^64 divided by the golden ratio (Knuth, TAOCP vol. 3, 6.4)
        self.0 = (self.0 ^ v).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        self.0 ^= self.0 >> 29;
    }
}

/// Stretches kept at most, over all pairs; beyond it the memory is given back and pairs are worked out anew.
const MOST_SPANS: usize = 8_000_000;

/// The pairs worked out so far. It is only ever asked, never walked, so its order reaches nothing.
#[derive(Debug, Default)]
pub struct NoFits {
    at: HashMap<u64, u32, BuildHasherDefault<PairHasher>>,
    /// All pairs by number.
    pub all: Vec<NoFit>,
    spans: usize,
    fineness: PairFineness,
}

impl NoFits {
    /// Forgets everything once it takes too much memory. Numbers given out before are void then.
    pub fn make_room(&mut self) {
        if self.spans > MOST_SPANS {
            *self = Self { fineness: self.fineness, ..Self::default() };
        }
    }

    /// From now on pairs are worked out this finely; roughly until it is first called.
    pub fn refine(&mut self, fineness: PairFineness) {
        if fineness != self.fineness {
            *self = Self { fineness, ..Self::default() };
        }
    }

    /// The number of a pair. `lying` has x and y change places.
    pub fn number(&mut self, moving: (u32, &Shape), fixed: (u32, &Shape), lying: bool, work: &mut u64) -> u32 {
        let key = |m: u32, f: u32| u64::from(m) << 33 | u64::from(f) << 1 | u64::from(lying);
        if let Some(&n) = self.at.get(&key(moving.0, fixed.0)) {
            return n;
        }
        let stack = no_fit(moving.1, fixed.1, lying, self.fineness, work);
        self.keep(key(moving.0, fixed.0), NoFit::new(&stack))
    }

    fn keep(&mut self, key: u64, no_fit: NoFit) -> u32 {
        let number = self.all.len() as u32;
        self.spans += no_fit.spans.len() + no_fit.levels.len();
        self.all.push(no_fit);
        self.at.insert(key, number);
        number
    }
}

/// How finely pairs are worked out: finer ones make better layouts, and each look takes longer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PairFineness {
    /// From the rough covers: soonest.
    #[default]
    Rough,
    /// Steps as large as a first search bears.
    Fine,
    /// Steps for a long search, when what is left must squeeze in beside round parts.
    Finest,
}

impl PairFineness {
    /// Steps of a worked-out pair, as a share of the narrower shape's width: a step smaller than this moves
    /// neither shape by much of its own size. The third share wins sheets in long searches only.
    fn step(self) -> f64 {
        if self == Self::Finest { 0.025 } else { 0.07 }
    }
}

/// Steps over the play of a part in a hole that it fits into.
const TIGHT_STEPS: f64 = 4.0;

/// The least play that `inner` has in a hole of `outer` which is just large enough for it, units.
fn least_play(inner: &Shape, outer: &Shape) -> f64 {
    let play = |h: &Block| (h.x1 - h.x0 - inner.width).min(h.y1 - h.y0 - inner.height);
    outer.holes.iter().map(play).filter(|p| *p > 0).min().map_or(f64::INFINITY, f64::from)
}

/// All pairs of boxes, united, with small steps evened out to the safe side.
fn no_fit(moving: &Shape, fixed: &Shape, lying: bool, fineness: PairFineness, work: &mut u64) -> Vec<Slab> {
    let finely = fineness != PairFineness::Rough;
    let narrow = |s: &Shape| s.width.min(s.height);
    let step = f64::from(narrow(moving).min(narrow(fixed))) * fineness.step();
    let rough_step = moving.rough_step_mm.min(fixed.rough_step_mm) / UNIT_MM;
    let tight = least_play(moving, fixed).min(least_play(fixed, moving)) / TIGHT_STEPS;
    let evened = |close: &[Block]| boxes(&simplify(stack_of(&mut close.to_vec(), 1), (tight * tight) as i64));
    let (m, f, step) = if finely && tight < step {
        (&evened(&moving.close), &evened(&fixed.close), tight)
    } else if finely && step < rough_step {
        (&moving.blocks, &fixed.blocks, step)
    } else {
        (&moving.rough, &fixed.rough, if finely { step } else { step.max(rough_step) })
    };
    let mut pairs: Vec<Block> = f
        .iter()
        .flat_map(|f| m.iter().map(|m| m.keeps_from(*f)))
        .map(|b| if lying { b.swapped() } else { b })
        .collect();
    *work += PAIR_WORK + 8 * pairs.len() as u64;
    let least = if pairs.len() > MANY_BOXES { (step / 3.0) as i32 } else { 1 };
    simplify(stack_of(&mut pairs, least), (step * step) as i64)
}

/// Work of a pair beside its boxes: what is kept has to be asked for.
const PAIR_WORK: u64 = 60;

/// Boxes of a pair above which levels that lie close together are taken as one.
const MANY_BOXES: usize = 300;
