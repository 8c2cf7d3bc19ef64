//! What a slam or the road throws at each panel.

use super::super::boards::{Board, hits};
use super::super::held::{Held, Lying};
use super::super::outcome::Subject;
use super::super::plate::N_PER_G;
use crate::geom::DVec3;
use std::collections::BTreeMap;

/// A force on one panel in one throw.
#[derive(Clone, Copy)]
pub(super) struct Push {
    /// Square to the panel, N.
    pub(super) square_n: f64,
    /// In its plane, N.
    pub(super) along_n: f64,
    pub(super) what: &'static str,
}

/// Forces by board and throw.
pub(super) struct Pushes(BTreeMap<(usize, usize), Push>);

/// A thing moves at most this far beyond its clearance before it touches what stops it, mm.
const PLAY_MM: f64 = 3.0;
/// A wall this near to a compartment's end is its wall, mm.
const WALL_MM: f64 = 1.5;

impl Pushes {
    pub(super) fn of(subject: &Subject, boards: &[Board]) -> Self {
        let l = &subject.job.space.loads;
        let throws = [
            (DVec3::Y, l.to_back_g, "thrown to the back"),
            (-DVec3::Y, l.to_front_g, "thrown to the front"),
            (DVec3::X, l.to_side_g, "thrown to the right"),
            (-DVec3::X, l.to_side_g, "thrown to the left"),
        ];
        let mut all = Self(BTreeMap::new());
        let (held, lying) = (subject.held(), subject.lying());
        for (k, (way, g, what)) in throws.into_iter().enumerate().filter(|(_, t)| t.1 > 0.0) {
            let mut known: BTreeMap<[i64; 9], Vec<usize>> = BTreeMap::new();
            for h in &held {
                let stops = known.entry(key(h)).or_insert_with(|| stops(h, boards, way));
                all.share(stops, boards, way, h.thing.mass().grams * g * N_PER_G, (k, what));
            }
            for l in &lying {
                let n = l.thing.mass().grams * l.thing.count() as f64 / l.bays as f64 * g * N_PER_G;
                all.share(&walls(l, boards, way), boards, way, n, (k, what));
            }
        }
        all
    }

    /// All throws at one board.
    pub(super) fn at(&self, board: usize) -> impl Iterator<Item = &Push> {
        self.0.range((board, 0)..(board + 1, 0)).map(|(_, p)| p)
    }

    fn share(&mut self, stops: &[usize], boards: &[Board], way: DVec3, n: f64, (k, what): (usize, &'static str)) {
        for board in stops {
            let normal = boards[*board].slab.frame.z.dot(way).abs().min(1.0);
            let push = self.0.entry((*board, k)).or_insert(Push { square_n: 0.0, along_n: 0.0, what });
            let each = n / stops.len() as f64;
            push.square_n += each * normal;
            push.along_n += each * (1.0 - normal * normal).max(0.0).sqrt();
        }
    }
}

/// A thing in its place, to a thousandth of a mm: two that are alike in everything meet the same.
fn key(h: &Held) -> [i64; 9] {
    let fine = |v: f64| (v * 1e3).round() as i64;
    let (o, z, y) = (h.pose.origin, h.pose.z, h.pose.y);
    [h.berth.thing as i64, fine(o.x), fine(o.y), fine(o.z), fine(z.x), fine(z.y), fine(z.z), fine(y.x), fine(y.z)]
}

/// Which panels stop a thing that is thrown.
fn stops(h: &Held, boards: &[Board], way: DVec3) -> Vec<usize> {
    let clearance = h.berth.openings.iter().map(|o| o.clearance_mm).fold(0.0, f64::max);
    hits(h, boards, way, clearance + PLAY_MM, DVec3::Z).into_iter().map(|c| c.board).collect()
}

/// Which panels are the wall at the end of a compartment to which its content is thrown.
fn walls(l: &Lying, boards: &[Board], way: DVec3) -> Vec<usize> {
    let o = l.built.origin;
    let lo = DVec3::new(l.bay.x.0, l.bay.y.0, l.bay.z.0) + o;
    let hi = DVec3::new(l.bay.x.1, l.bay.y.1, l.bay.z.1) + o;
    let end = lo.dot(way).max(hi.dot(way));
    let across = |d: DVec3| d - way * d.dot(way);
    boards
        .iter()
        .enumerate()
        .filter(|(_, b)| b.holder == l.holder && b.slab.frame.z.dot(way).abs() > UPRIGHT_COS)
        .filter(|(_, b)| {
            let face = b.lo.dot(way).min(b.hi.dot(way));
            let leans = b.slab.frame.z.z.abs() > 1e-6;
            let beside = across(b.lo).cmple(across(hi)).all() && across(lo).cmple(across(b.hi)).all();
            // a leaning wall's box begins at its foot
            beside && (face - end).abs() <= if leans { b.hi.dot(way).max(b.lo.dot(way)) - face } else { WALL_MM }
        })
        .map(|(k, _)| k)
        .collect()
}

/// A wall that leans up to 25° still is one.
const UPRIGHT_COS: f64 = 0.9;
