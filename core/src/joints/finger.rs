//! Finger joint: two slabs that both end at one another.

use super::cells::{Cell, Cuts, beyond};
use super::section::{Rect, Section, Side};
use super::{Blank, Ends, proportion};

/// A finger is about this many thicknesses wide (common practice, no source).
pub const FINGER_PER_THICKNESS: f64 = 3.0;

/// An end finger narrower than this many thicknesses is merged with its neighbour (common practice).
pub const MIN_FINGER_PER_THICKNESS: f64 = 1.5;

/// The odd count of fingers on an edge: the odd number nearest to length / (3 t). At least 3 where
/// three fingers of the smallest width fit; else 1, a plain butt that the checks then speak about.
#[must_use]
pub fn count(length: f64, thickness: f64) -> usize {
    let ideal = length / (FINGER_PER_THICKNESS * thickness);
    let odd = (((ideal - 1.0) / 2.0).round().max(0.0) as usize) * 2 + 1;
    if odd >= 3 {
        odd
    } else if length >= 3.0 * MIN_FINGER_PER_THICKNESS * thickness {
        3
    } else {
        1
    }
}

/// Fingers divide the outer edge, alternate, and `first` has the end ones; the fit is shared
/// between both partners: each boundary opens by half of it. `cubes` are the stretches of the
/// line that third panels of higher rank than both own. `nominal_mm` is what the thicker sheet's
/// label says: it proportions the fingers, so that another reading does not change the pattern. `None` when the blanks share no edge.
#[must_use]
pub fn cut(
    x: &Section,
    a: &Ends,
    b: &Ends,
    first: Side,
    fit_mm: f64,
    cubes: &[(f64, f64)],
    nominal_mm: f64,
) -> Option<Cuts> {
    let (ra, rb) = (a.outermost(x, Side::A), b.outermost(x, Side::B));
    let (ea, eb) = (a.blank.outer(x.e, x.ua, (ra, ra))?, b.blank.outer(x.e, x.ub, (rb, rb))?);
    let edge = (ea.0.max(eb.0), ea.1.min(eb.1));
    let t = x.slab(Side::A).thickness.max(x.slab(Side::B).thickness);
    if edge.1 - edge.0 < t {
        return None;
    }
    let cells = divided(
        edge,
        count(edge.1 - edge.0, nominal_mm),
        first,
        cubes,
        MIN_FINGER_PER_THICKNESS * proportion(t, nominal_mm),
    );
    let mut cuts = Cuts { cells: cells.clone(), ..Cuts::default() };
    for (i, cell) in cells.iter().enumerate() {
        let (winner, loser) = if cell.owner == Side::A { (a, b) } else { (b, a) };
        let side = cell.owner.other();
        let piece = x.ended(&x.crossing(), cell.owner, winner.toward(x, cell.owner), winner.outermost(x, cell.owner));
        let (lo, hi) = x.range(side, &piece);
        let sign = loser.toward(x, side);
        let near = if sign > 0.0 { lo } else { hi };
        let band = (lo, hi);
        // where the winner ends before the loser, its own end takes no part in the fit: the loser gives all
        let low = if i == 0 {
            open_end(x, winner.blank, loser.blank, side, band, t, false) - fit_mm / 2.0
        } else {
            cell.from - fit_mm / 4.0
        };
        let high = if i + 1 == cells.len() {
            open_end(x, winner.blank, loser.blank, side, band, t, true) + fit_mm / 2.0
        } else {
            cell.to + fit_mm / 4.0
        };
        cuts.lose(side, Rect { s: (low, high), u: beyond(near, sign) });
    }
    Some(cuts)
}

/// Where the cut of an end cell stops: nowhere (else slivers appear), unless the loser goes on
/// past the winner by more than a thickness, as a high wall does beside a low one.
fn open_end(x: &Section, winner: &Blank, loser: &Blank, side: Side, band: (f64, f64), t: f64, high: bool) -> f64 {
    let far = if high { f64::INFINITY } else { f64::NEG_INFINITY };
    let own = loser.outer(x.e, x.across(side), band);
    let other = x.across(side.other());
    let reach = winner.reach(other);
    let theirs = winner.outer(x.e, other, reach);
    match (own, theirs, high) {
        (Some(own), Some(theirs), true) if own.1 > theirs.1 + t => theirs.1,
        (Some(own), Some(theirs), false) if own.0 < theirs.0 - t => theirs.0,
        _ => far,
    }
}

/// Equal cells with alternating owners; an end cell of which a third panel's cube leaves less than
/// `smallest` goes to its neighbour.
fn divided(edge: (f64, f64), n: usize, first: Side, cubes: &[(f64, f64)], smallest: f64) -> Vec<Cell> {
    let w = (edge.1 - edge.0) / n as f64;
    let mut cells: Vec<Cell> = (0..n)
        .map(|i| Cell {
            from: edge.0 + w * i as f64,
            to: edge.0 + w * (i + 1) as f64,
            owner: if i % 2 == 0 { first } else { first.other() },
        })
        .collect();
    let middle = (edge.0 + edge.1) / 2.0;
    let low = cubes.iter().filter(|c| c.0 + c.1 < 2.0 * middle).map(|c| c.1 - edge.0).fold(0.0, f64::max);
    let high = cubes.iter().filter(|c| c.0 + c.1 >= 2.0 * middle).map(|c| edge.1 - c.0).fold(0.0, f64::max);
    if cells.len() > 2 && low > 0.0 && w - low < smallest {
        cells.remove(0);
        cells[0].from = edge.0;
    }
    let last = cells.len() - 1;
    if cells.len() > 2 && high > 0.0 && w - high < smallest {
        cells.remove(last);
        cells[last - 1].to = edge.1;
    }
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    // trade.md's A30 in our own words: an open box 513.1 × 438.1 × 70 of 3.10 sheet (calculated).
    #[test]
    fn counts_are_the_odd_number_nearest_to_length_over_three_thicknesses() {
        assert_eq!([count(70.0, 3.1), count(438.1, 3.1), count(513.1, 3.1)], [7, 47, 55]);
        assert_eq!([count(14.0, 3.1), count(13.9, 3.1), count(3.0, 3.1)], [3, 1, 1]);
    }

    #[test]
    fn an_end_cell_that_a_cube_eats_up_goes_to_its_neighbour() {
        let cells = divided((0.0, 50.0), 5, Side::A, &[(0.0, 6.0), (49.0, 50.0)], 4.5);
        assert_eq!(cells.len(), 4);
        assert_eq!((cells[0].from, cells[0].to, cells[0].owner), (0.0, 20.0, Side::B));
        assert_eq!(cells[3].owner, Side::A);
    }
}
