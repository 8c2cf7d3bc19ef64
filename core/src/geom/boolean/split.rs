//! Splits edges where they meet; the ends become numbered points, and coincident pieces become one.

use super::{Operand, Windings};
use crate::geom::meet::carrier_points;
use crate::geom::pairs::{Bounds, near_pairs};
use crate::geom::{Contour, DVec2, Segment};
use std::collections::BTreeMap;

/// Snapping bends edges by less than the snap distance, which can bring a further pair together: look
/// again, until nothing is found. Leaving the second look out where hardly anything bent left pieces over in one
/// of 20,000 cases of nearly coincident cuts. Eight rounds are a guard, not a target.
const ROUNDS: usize = 8;

/// One piece between two points, and how often each operand runs along it in this direction.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piece {
    pub from: u32,
    pub to: u32,
    pub segment: Segment,
    pub runs: Windings,
}

/// All pieces, none crossing another.
pub(super) struct Pieces {
    pub points: Vec<DVec2>,
    pub pieces: Vec<Piece>,
}

pub(super) fn split(input: &[&(Contour, Operand)], snap: f64) -> Pieces {
    let mut points = Points { snap, at: Vec::new(), cells: BTreeMap::new() };
    let mut pieces = Vec::new();
    for (contour, operand) in input {
        let mut runs = [0, 0];
        runs[*operand] = 1;
        for s in contour.segments() {
            add(&mut pieces, &mut points, s, runs);
        }
    }
    for _ in 0..ROUNDS {
        pieces = merged(pieces, snap);
        let Some(next) = split_once(&pieces, &mut points) else { break };
        pieces = next;
    }
    Pieces { points: points.at, pieces: merged(pieces, snap) }
}

/// Arcs beyond a half-circle are halved first, so that no arc's ends fall together.
fn add(pieces: &mut Vec<Piece>, points: &mut Points, s: Segment, runs: Windings) {
    if s.bulge.abs() > 1.0 + 1e-9 {
        let half = libm::tan(libm::atan(s.bulge) / 2.0);
        add(pieces, points, Segment::new(s.a, s.mid(), half), runs);
        add(pieces, points, Segment::new(s.mid(), s.b, half), runs);
        return;
    }
    let (from, to) = (points.id(s.a), points.id(s.b));
    if from != to {
        let segment = Segment::new(points.at[from as usize], points.at[to as usize], s.bulge);
        pieces.push(Piece { from, to, segment, runs });
    }
}

/// Points by number; two numbers are never nearer than the snap distance.
struct Points {
    snap: f64,
    at: Vec<DVec2>,
    cells: BTreeMap<(i64, i64), Vec<u32>>,
}

impl Points {
    fn cell(&self, p: DVec2) -> (i64, i64) {
        // cells a little wider than the snap distance: one ring of neighbours is enough
        let size = self.snap * 1.5;
        ((p.x / size).floor() as i64, (p.y / size).floor() as i64)
    }
    fn id(&mut self, p: DVec2) -> u32 {
        let (x, y) = self.cell(p);
        let mut best: Option<(f64, u32)> = None;
        for cx in x.saturating_sub(1)..=x.saturating_add(1) {
            for &id in self.cells.range((cx, y.saturating_sub(1))..=(cx, y.saturating_add(1))).flat_map(|(_, v)| v) {
                let d = self.at[id as usize].distance(p);
                if d <= self.snap && best.is_none_or(|(least, _)| d < least) {
                    best = Some((d, id));
                }
            }
        }
        best.map_or_else(|| self.insert(p, (x, y)), |(_, id)| id)
    }
    fn insert(&mut self, p: DVec2, cell: (i64, i64)) -> u32 {
        let id = self.at.len() as u32;
        self.at.push(p);
        self.cells.entry(cell).or_default().push(id);
        id
    }
}

/// One piece for all that run between the same two points along the same way; the runs are added up, against
/// the direction counted down. What nobody runs along in the end stays: it still splits nothing and parts nothing.
fn merged(pieces: Vec<Piece>, snap: f64) -> Vec<Piece> {
    let mut groups: BTreeMap<(u32, u32), Vec<Piece>> = BTreeMap::new();
    for p in pieces {
        let p = if p.from < p.to { p } else { turned(p) };
        let group = groups.entry((p.from, p.to)).or_default();
        let rise = p.segment.chord().length() / 2.0;
        match group.iter_mut().find(|q| (q.segment.bulge - p.segment.bulge).abs() * rise <= 2.0 * snap) {
            Some(q) => {
                q.runs = [q.runs[0] + p.runs[0], q.runs[1] + p.runs[1]];
                // of a line and an arc that cannot be told apart keep the simpler
                if p.segment.bulge.abs() < q.segment.bulge.abs() {
                    q.segment.bulge = p.segment.bulge;
                }
            }
            None => group.push(p),
        }
    }
    groups.into_values().flatten().filter(|p| p.runs != [0, 0]).collect()
}

fn turned(p: Piece) -> Piece {
    Piece { from: p.to, to: p.from, segment: p.segment.reversed(), runs: [-p.runs[0], -p.runs[1]] }
}

/// Splits every piece at the points it shares with others; `None` when there are none.
fn split_once(pieces: &[Piece], points: &mut Points) -> Option<Vec<Piece>> {
    let boxes: Vec<_> = pieces.iter().map(|p| p.segment.bounds()).collect();
    let mut stops = Stops { pieces, boxes: &boxes, on: vec![Vec::new(); pieces.len()] };
    near_pairs(&boxes, points.snap, |i, j| stops.meet(i, j, points));
    if stops.on.iter().all(Vec::is_empty) {
        return None;
    }
    Some(pieces.iter().zip(stops.on).flat_map(|(p, at)| split_at(p, at, &points.at)).collect())
}

/// The points at which pieces are to be split.
struct Stops<'a> {
    pieces: &'a [Piece],
    boxes: &'a [Bounds],
    on: Vec<Vec<u32>>,
}

impl Stops<'_> {
    /// Notes on both pieces which points they share.
    fn meet(&mut self, i: usize, j: usize, points: &mut Points) {
        let (p, q) = (self.pieces[i], self.pieces[j]);
        let tol = points.snap;
        for (on, id, at) in
            [(i, q.from, q.segment.a), (i, q.to, q.segment.b), (j, p.from, p.segment.a), (j, p.to, p.segment.b)]
        {
            self.note(on, id, at, tol);
        }
        for at in carrier_points(&p.segment, &q.segment, tol).into_iter().flatten() {
            if self.reaches(i, at, tol) && self.reaches(j, at, tol) {
                let id = points.id(at);
                // the point that stands for it may be up to a snap distance farther on
                self.note(i, id, points.at[id as usize], 2.0 * tol);
                self.note(j, id, points.at[id as usize], 2.0 * tol);
            }
        }
    }
    fn reaches(&self, on: usize, at: DVec2, tol: f64) -> bool {
        let (lo, hi) = self.boxes[on];
        // the box first: most points are nowhere near, and an arc's distance is dear
        at.cmpge(lo - tol).all() && at.cmple(hi + tol).all() && self.pieces[on].segment.distance_to_point(at) <= tol
    }
    fn note(&mut self, on: usize, id: u32, at: DVec2, tol: f64) {
        let p = &self.pieces[on];
        if id != p.from && id != p.to && self.reaches(on, at, tol) && !self.on[on].contains(&id) {
            self.on[on].push(id);
        }
    }
}

fn split_at(p: &Piece, cuts: Vec<u32>, points: &[DVec2]) -> Vec<Piece> {
    if cuts.is_empty() {
        return vec![*p];
    }
    let place = |id: u32| (p.segment.fraction(points[id as usize]).clamp(0.0, 1.0), id);
    let mut stops: Vec<(f64, u32)> = cuts.into_iter().map(place).collect();
    stops.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    stops.insert(0, (0.0, p.from));
    stops.push((1.0, p.to));
    let quarter = libm::atan(p.segment.bulge);
    let piece = |w: &[(f64, u32)]| {
        let ((f, from), (g, to)) = (w[0], w[1]);
        let bulge = if p.segment.is_line() { 0.0 } else { libm::tan(quarter * (g - f)) };
        let segment = Segment::new(points[from as usize], points[to as usize], bulge);
        Piece { from, to, segment, runs: p.runs }
    };
    stops.windows(2).map(piece).collect()
}
