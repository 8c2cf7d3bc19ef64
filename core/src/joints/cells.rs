//! Cells: who owns which stretch of the line in which two slabs cross.

use super::section::{Rect, Side};

/// A stretch of the common line and the slab that keeps its material there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cell {
    /// Where it begins along the line.
    pub from: f64,
    /// Where it ends.
    pub to: f64,
    /// Who keeps its material.
    pub owner: Side,
}

/// What a joint takes away, and why.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cuts {
    /// Who owns what along the line.
    pub cells: Vec<Cell>,
    /// Rectangles that A gives up.
    pub on_a: Vec<Rect>,
    /// Rectangles that B gives up.
    pub on_b: Vec<Rect>,
}

impl Cuts {
    /// Adds a rectangle that a side gives up.
    pub fn lose(&mut self, side: Side, rect: Rect) {
        match side {
            Side::A => self.on_a.push(rect),
            Side::B => self.on_b.push(rect),
        }
    }
}

/// The part of the line at or beyond `edge`, going the way of `sign`.
pub(super) fn beyond(edge: f64, sign: f64) -> (f64, f64) {
    if sign > 0.0 { (edge, f64::INFINITY) } else { (f64::NEG_INFINITY, edge) }
}

/// What is left of a stretch once others are taken out of it.
#[must_use]
pub fn without(whole: (f64, f64), taken: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let mut taken: Vec<_> = taken.iter().copied().filter(|t| t.1 > whole.0 && t.0 < whole.1).collect();
    taken.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut free, mut at) = (vec![], whole.0);
    for (from, to) in taken {
        if from > at {
            free.push((at, from));
        }
        at = at.max(to);
    }
    if at < whole.1 {
        free.push((at, whole.1));
    }
    free
}
