//! Asks each piece what lies to its left and to its right, and keeps those that part inside from outside.

use super::Windings;
use super::split::{Piece, Pieces};
use crate::geom::DVec2;
use crate::geom::measure::winding_part;

/// The pieces of the result's boundary, each directed with the inside on its left.
pub(super) fn boundary(all: &Pieces, inside: impl Fn(Windings) -> bool) -> Vec<Piece> {
    let strips = Strips::new(&all.pieces);
    let mut kept = Vec::new();
    for (i, p) in all.pieces.iter().enumerate() {
        let (left, right) = sides(p, strips.around(&all.pieces, i));
        match (inside(left), inside(right)) {
            (true, false) => kept.push(*p),
            (false, true) => {
                kept.push(Piece { from: p.to, to: p.from, segment: p.segment.reversed(), runs: p.runs });
            }
            _ => {}
        }
    }
    kept
}

/// Arcs flatter than this are asked as lines: their middle is on the chord to rounding.
const FLAT_MM: f64 = 1e-9;

/// Windings left and right of the piece. `others` yields every other piece that can count at a height.
fn sides<'a, I: Iterator<Item = &'a Piece>>(p: &Piece, others: impl Fn(DVec2) -> I) -> (Windings, Windings) {
    let s = p.segment;
    let flat = (s.bulge * s.chord().length() / 2.0).abs() < FLAT_MM;
    let at = if flat { (s.a + s.b) / 2.0 } else { s.mid() };
    let mut w = [0, 0];
    for q in others(at) {
        let n = winding_part(&q.segment, at);
        w = plus(w, q.runs, n);
    }
    if !flat {
        return beside_arc(p, w, at);
    }
    // the ray at a height counts as just above it: the same rule as in `winding_part`
    let up = s.a.y <= at.y && at.y < s.b.y;
    let down = s.b.y <= at.y && at.y < s.a.y;
    if up || (!down && s.b.x < s.a.x) { (plus(w, p.runs, 1), w) } else { (w, plus(w, p.runs, -1)) }
}

/// An arc's middle stands clear of its own chord; of its cap it is the rim.
fn beside_arc(p: &Piece, w: Windings, at: DVec2) -> (Windings, Windings) {
    let s = p.segment;
    let left_of_chord = s.bulge < 0.0;
    let up = s.a.y <= at.y && at.y < s.b.y && left_of_chord;
    let down = s.b.y <= at.y && at.y < s.a.y && !left_of_chord;
    let base = plus(w, p.runs, i32::from(up) - i32::from(down));
    if s.bulge > 0.0 { (plus(base, p.runs, 1), base) } else { (base, plus(base, p.runs, -1)) }
}

fn plus(w: Windings, runs: Windings, n: i32) -> Windings {
    [w[0] + runs[0] * n, w[1] + runs[1] * n]
}

/// Pieces by height: only those in one strip can meet a ray at that height.
struct Strips {
    /// Where one strip ends and the next begins, rising.
    limits: Vec<f64>,
    members: Vec<Vec<u32>>,
}

/// Pieces asked in one strip. Few make thin strips, and long upright pieces are copied into all of them.
const ASKED_A_STRIP: usize = 8;

impl Strips {
    /// Strips hold about as many middles each: cuts that run far out leave the crowded heights thin strips still.
    fn new(pieces: &[Piece]) -> Self {
        let mut middles: Vec<f64> = pieces.iter().map(|p| p.segment.mid().y).collect();
        middles.sort_by(f64::total_cmp);
        let mut limits: Vec<f64> = middles.into_iter().skip(ASKED_A_STRIP).step_by(ASKED_A_STRIP).collect();
        limits.dedup();
        let mut strips = Self { members: vec![Vec::new(); limits.len() + 1], limits };
        for (i, p) in pieces.iter().enumerate() {
            let (lo, hi) = p.segment.bounds();
            for k in strips.index(lo.y)..=strips.index(hi.y) {
                strips.members[k].push(i as u32);
            }
        }
        strips
    }
    fn index(&self, y: f64) -> usize {
        self.limits.partition_point(|&limit| limit <= y)
    }
    /// For a point: every piece at its height but the piece `own`.
    fn around<'a>(&'a self, pieces: &'a [Piece], own: usize) -> impl Fn(DVec2) -> Others<'a> {
        move |p| Others { members: self.members[self.index(p.y)].iter(), pieces, own }
    }
}

/// The pieces of one strip without one.
struct Others<'a> {
    members: core::slice::Iter<'a, u32>,
    pieces: &'a [Piece],
    own: usize,
}

impl<'a> Iterator for Others<'a> {
    type Item = &'a Piece;
    fn next(&mut self) -> Option<&'a Piece> {
        let own = self.own;
        self.members.find(|&&i| i as usize != own).map(|&i| &self.pieces[i as usize])
    }
}
