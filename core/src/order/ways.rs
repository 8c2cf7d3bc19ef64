//! How each thing goes in and comes out by hand: one or two straight pulls, with all else in place.

use crate::checks::Subject;
use crate::checks::boards::{Board, Slim, TOUCH_MM2, area_mm2};
use crate::checks::convex::{Piece, collide};
use crate::checks::held::Held;
use crate::geom::{DVec3, Frame};
use crate::spaces::Kind;

/// One straight pull.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pull {
    /// Which way, as a unit vector.
    pub way: DVec3,
    /// How far, mm.
    pub travel_mm: f64,
}

/// Beyond everything by this much a thing is in the hand, mm.
const OUT_BY_MM: f64 = 10.0;
/// A way that rises less than this is level, and leads out only where the space is open.
const RISES: f64 = 0.1;
/// How far a first pull goes: shares of the thing's own size along it. Beside what it stood under it is
/// free after all of its size; what only catches lets go sooner.
const FIRST_PULLS: [f64; 4] = [0.25, 0.5, 1.0, 1.5];

/// Everything that stands in the way.
pub struct Around<'a> {
    boards: Vec<Board<'a>>,
    held: Vec<Held<'a>>,
    pieces: Vec<Vec<Piece>>,
    boxes: Vec<(DVec3, DVec3)>,
    lo: DVec3,
    hi: DVec3,
    /// Level ways out: through the open front of a shelf, or any where nothing is around.
    level: Vec<DVec3>,
}

impl<'a> Around<'a> {
    /// All panels and things of a job where they stand.
    pub fn of(subject: &Subject<'a>) -> Self {
        let (boards, held) = (subject.boards(), subject.held());
        let pieces = held.iter().map(Piece::of).collect();
        let boxes: Vec<(DVec3, DVec3)> = held.iter().map(Held::bounds).collect();
        let all = boards.iter().map(|b| (b.lo, b.hi)).chain(boxes.iter().copied());
        let (lo, hi) = all.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), (lo, hi)| (l.min(lo), h.max(hi)));
        let level = match subject.job.space.kind {
            Kind::Shelf => vec![-DVec3::Y],
            Kind::Free => vec![-DVec3::Y, DVec3::Y, DVec3::X, -DVec3::X],
            Kind::Drawer | Kind::Case => vec![],
        };
        Self { boards, held, pieces, boxes, lo, hi, level }
    }

    /// The things in the order in which ways are asked for: holder by holder, berth by berth.
    pub fn held(&self) -> &[Held<'a>] {
        &self.held
    }

    /// The pull along a thing's own way out.
    pub fn own(&self, thing: usize) -> Pull {
        let way = self.held[thing].berth.way_out;
        Pull { way, travel_mm: self.out_of_all(thing, DVec3::ZERO, way) }
    }

    /// One or two straight pulls by which a thing comes out while all others stay; its own way first.
    pub fn search(&self, thing: usize, stop: &dyn Fn() -> bool) -> Option<Vec<Pull>> {
        let still = DVec3::ZERO;
        let exits = self.exits(thing);
        let single = exits.iter().find_map(|way| self.leaves(thing, still, *way));
        if let Some(pull) = single {
            return Some(vec![pull]);
        }
        for way in self.starts(thing) {
            for share in FIRST_PULLS {
                if stop() {
                    return None;
                }
                let solid = &self.held[thing].berth.solid;
                let travel_mm = share * solid.room_along(self.held[thing].pose.dir_own(way));
                let first = Pull { way, travel_mm };
                if !self.free(thing, still, first) {
                    break;
                }
                let onward = exits.iter().filter(|e| e.dot(way) < 0.99);
                if let Some(second) = onward.into_iter().find_map(|e| self.leaves(thing, way * travel_mm, *e)) {
                    return Some(vec![first, second]);
                }
            }
        }
        None
    }

    /// Ways that lead out.
    fn exits(&self, thing: usize) -> Vec<DVec3> {
        let h = &self.held[thing];
        let axis = h.pose.z;
        let rising = [axis, -axis, DVec3::Z].into_iter().filter(|d| d.z > RISES);
        let mut all = vec![h.berth.way_out];
        for d in rising.chain(self.level.iter().copied()) {
            if all.iter().all(|e| e.dot(d) < 1.0 - 1e-9) {
                all.push(d);
            }
        }
        all
    }

    /// Ways in which a first pull may go.
    fn starts(&self, thing: usize) -> Vec<DVec3> {
        let mut all = self.exits(thing);
        for d in [DVec3::X, -DVec3::X, DVec3::Y, -DVec3::Y] {
            if all.iter().all(|e| e.dot(d) < 1.0 - 1e-9) {
                all.push(d);
            }
        }
        all
    }

    /// The pull that takes a thing out along a way, from where it was moved to, if nothing bars it.
    fn leaves(&self, thing: usize, moved: DVec3, way: DVec3) -> Option<Pull> {
        let pull = Pull { way, travel_mm: self.out_of_all(thing, moved, way) };
        self.free(thing, moved, pull).then_some(pull)
    }

    /// How far along a way until a thing is beyond everything: above it where the way rises.
    fn out_of_all(&self, thing: usize, moved: DVec3, way: DVec3) -> f64 {
        let low = self.boxes[thing].0 + moved;
        if way.z > RISES {
            return ((self.hi.z + OUT_BY_MM - low.z) / way.z).max(0.0);
        }
        let beyond = [self.lo, self.hi].map(|c| DVec3::new(c.x, c.y, 0.0).dot(way));
        let h = &self.held[thing];
        let least = -h.extent(-way) + moved.dot(way);
        (beyond[0].max(beyond[1]) + OUT_BY_MM - least).max(0.0)
    }

    /// Whether a pull meets neither panel nor other thing.
    fn free(&self, thing: usize, moved: DVec3, pull: Pull) -> bool {
        let h = &self.held[thing];
        let (pose, out): (Frame, DVec3) = (h.pose.moved(moved), pull.way * pull.travel_mm);
        let (lo, hi) = (self.boxes[thing].0 + moved, self.boxes[thing].1 + moved);
        let (lo, hi) = (lo.min(lo + out), hi.max(hi + out));
        let slim = Slim::of(&h.berth.solid);
        let barred =
            |b: &Board| b.near(lo, hi) && area_mm2(&b.swept(&slim, &pose, pull.way, pull.travel_mm)) > TOUCH_MM2;
        if self.boards.iter().any(barred) {
            return false;
        }
        let here: Vec<Piece> = self.pieces[thing].iter().map(|p| p.moved(moved)).collect();
        (0..self.held.len()).all(|other| {
            let (l, h) = self.boxes[other];
            let apart = l.cmpgt(hi).any() || lo.cmpgt(h).any();
            other == thing || apart || !collide(&here, &self.pieces[other], out)
        })
    }
}
