//! What a joint measures on the burnt outlines, against its fit and play.

use super::package::{Package, ReadJoint, ReadPart};
use crate::assembly::{Joint, Reach};
use crate::geom::{Contour, DVec2, DVec3, between};
use crate::joints::{Cell, Side};
use crate::solid::{Kind, Meet, Pair};

/// How far a gap may be off its fit, mm: what the checks of a request allow as well.
pub const OFF_MM: f64 = 0.02;
/// A tab that is cut flush may stand back by this much, mm (common practice, no source).
const RECESS_MM: f64 = 0.3;
/// A loose contact may be this much wider than its clearance, mm.
const REST_MM: f64 = 0.05;

/// What is measured at a joint.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Place {
    /// Across a slot.
    Slot,
    /// Along a slot.
    Play,
    /// At a tab's shoulder.
    Shoulder,
    /// At a finger's notch.
    Notch,
    /// At a finger's flank.
    Flank,
    /// Between the ends of two slots that hang in one another.
    Seat,
    /// Beyond the far face of the partner: how far a tab or finger stands proud of it (negative: back).
    Proud,
    /// Between partners that only rest against one another.
    Rest,
}

impl Place {
    /// For people.
    pub(super) fn name(self) -> &'static str {
        match self {
            Self::Slot => "the slot is wider than what enters it by",
            Self::Play => "the play along the slot is",
            Self::Shoulder => "the gap at a tab's shoulder is",
            Self::Notch => "the gap at a finger's notch is",
            Self::Flank => "the gap at a finger's flank is",
            Self::Seat => "the play between the slots' ends is",
            Self::Proud => "a tab or finger stands proud by",
            Self::Rest => "the gap between them is",
        }
    }
}

/// One measure at a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Measure {
    /// What.
    pub place: Place,
    /// Which cell of the joint.
    pub cell: usize,
    /// The gap, mm; `None` where the partner's material is not there.
    pub gap_mm: Option<f64>,
    /// What it should be, mm.
    pub want_mm: f64,
    /// How far beyond what is allowed, mm: above 0 is a fault.
    pub over_mm: f64,
}

/// Everything that is measured at a joint.
#[must_use]
pub fn measured(package: &Package, joint: &ReadJoint) -> Vec<Measure> {
    let (a, b) = (&package.parts[joint.a], &package.parts[joint.b]);
    if joint.joint == Joint::Rest {
        return vec![rest(a, b, joint.fit_mm)];
    }
    let cells = joint.cells(&package.parts);
    let seeds = [a.seed(), b.seed()];
    let meet = Meet { a: a.plate(), b: b.plate(), seeds, joint: joint.joint, fit_mm: joint.fit_mm, cells: &cells };
    let mut all: Vec<Measure> = meet.contacts(0).iter().map(|c| from_contact(c, joint)).collect();
    if let Some(pair) = Pair::of(a.plate(), b.plate()) {
        let one = Reached { pair: &pair, joint, cells: &cells, seeds };
        all.extend(one.proud());
        all.extend(one.seats());
    }
    all
}

fn from_contact(c: &crate::solid::Contact, joint: &ReadJoint) -> Measure {
    let (place, want_mm) = match c.kind {
        Kind::Slot => (Place::Slot, c.want_mm),
        Kind::End => (Place::Play, joint.play_mm.unwrap_or(c.want_mm)),
        Kind::Shoulder => (Place::Shoulder, c.want_mm),
        Kind::Notch => (Place::Notch, c.want_mm),
        Kind::Flank => (Place::Flank, c.want_mm),
    };
    let there = c.filled && c.gap_mm.is_finite();
    let over_mm = if there { (c.gap_mm - want_mm).abs() - OFF_MM } else { f64::INFINITY };
    Measure { place, cell: c.cell, gap_mm: there.then_some(c.gap_mm), want_mm, over_mm }
}

/// How far the ends of tabs and fingers reach, and where slots that hang in one another end.
struct Reached<'a> {
    pair: &'a Pair,
    joint: &'a ReadJoint,
    cells: &'a [Cell],
    seeds: [DVec3; 2],
}

impl Reached<'_> {
    fn seed(&self, side: Side) -> DVec3 {
        match side {
            Side::A => self.seeds[0],
            Side::B => self.seeds[1],
        }
    }

    fn proud(&self) -> Vec<Measure> {
        let want_mm = match self.joint.joint {
            Joint::Corner | Joint::Tab { reach: Reach::Flush } => 0.0,
            Joint::Tab { reach: Reach::Proud(by) } => by,
            _ => return vec![],
        };
        let one = |(cell, c): (usize, &Cell)| {
            let gap = self.beyond(c)?;
            let back = want_mm.min(0.0) - RECESS_MM - gap;
            Some(Measure {
                place: Place::Proud,
                cell,
                gap_mm: Some(gap),
                want_mm,
                over_mm: (gap - want_mm).max(back) - OFF_MM,
            })
        };
        self.cells.iter().enumerate().filter_map(one).collect()
    }

    /// How far the owner's end stands beyond the other's far face, at the middle of a cell.
    fn beyond(&self, cell: &Cell) -> Option<f64> {
        let (x, owner) = (&self.pair.x, cell.owner);
        let (lo, hi) = x.range(owner, &x.crossing());
        let sign = x.toward(owner, self.seed(owner));
        let stretch =
            self.pair.across(owner, (cell.from + cell.to) / 2.0).into_iter().find(|i| i.0 < hi && lo < i.1)?;
        let end = if sign > 0.0 { stretch.1 } else { stretch.0 };
        let (own, other) = (x.slab(owner), x.slab(owner.other()));
        let (u, n) = (x.across(owner), own.frame.z);
        let foot = n * n.dot(own.frame.origin) + u * end;
        let heights = [0.0, own.thickness].map(|z| other.frame.z.dot(foot + n * z - other.frame.origin));
        let from_below = other.frame.into_own(self.seed(owner)).z < other.thickness / 2.0;
        Some(if from_below { heights[0].max(heights[1]) - other.thickness } else { -heights[0].min(heights[1]) })
    }

    fn seats(&self) -> Vec<Measure> {
        let (true, Some(want_mm)) =
            (matches!(self.joint.joint, Joint::Hook { .. } | Joint::Lap { .. }), self.joint.play_mm)
        else {
            return vec![];
        };
        // both partners' material on the middle line, and the places at which it gives way to the other's
        let middle = |side: Side| {
            let (lo, hi) = self.pair.x.range(side, &self.pair.x.crossing());
            (lo + hi) / 2.0
        };
        let on = |side: Side| self.pair.along(side, middle(side));
        let (a, b) = (on(Side::A), on(Side::B));
        let gap_at = |s: f64| {
            let ends = |of: &[(f64, f64)], high: bool| {
                of.iter().map(|i| if high { i.1 } else { i.0 }).min_by(|p, q| (p - s).abs().total_cmp(&(q - s).abs()))
            };
            let gaps = [(ends(&a, true), ends(&b, false)), (ends(&b, true), ends(&a, false))];
            let gaps = gaps.iter().filter_map(|(below, above)| Some(((*below)?, (*above)?)));
            gaps.min_by(|p, q| {
                let far = |g: &(f64, f64)| (g.0 - s).abs().max((g.1 - s).abs());
                far(p).total_cmp(&far(q))
            })
        };
        let near = |s: f64| gap_at(s).map(|g| ((g.0 - s).abs().max((g.1 - s).abs()), g.1 - g.0));
        let places: Vec<f64> = match self.cells {
            [only] => vec![only.from, only.to],
            cells => cells.windows(2).map(|w| w[0].to).collect(),
        };
        let best = places.into_iter().filter_map(near).min_by(|p, q| p.0.total_cmp(&q.0));
        let gap_mm = best.map(|b| b.1);
        let over_mm = gap_mm.map_or(f64::INFINITY, |g| (g - want_mm).abs() - OFF_MM);
        vec![Measure { place: Place::Seat, cell: 0, gap_mm, want_mm, over_mm }]
    }
}

/// Places along the common line at which a loose contact is measured.
const REST_PLACES: usize = 33;

/// The least gap between two parts that only rest against one another.
fn rest(a: &ReadPart, b: &ReadPart, fit_mm: f64) -> Measure {
    let want_mm = fit_mm.max(0.0);
    let gap_mm = match Pair::of(a.plate(), b.plate()) {
        Some(pair) => across_gap(&pair),
        None => Some(parallel_gap(a, b)),
    };
    let over_mm = gap_mm.map_or(f64::INFINITY, |g| g - want_mm - REST_MM);
    Measure { place: Place::Rest, cell: 0, gap_mm, want_mm, over_mm }
}

fn across_gap(pair: &Pair) -> Option<f64> {
    let reach = |side| {
        let (lo, hi) = pair.laid(side).bounds();
        (lo.x, hi.x)
    };
    let (ra, rb) = (reach(Side::A), reach(Side::B));
    let (from, to) = (ra.0.max(rb.0), ra.1.min(rb.1));
    let places = (0..REST_PLACES).map(|k| from + (to - from) * (k as f64 + 0.5) / REST_PLACES as f64);
    places
        .flat_map(|s| {
            let [qa, qb] = [Side::A, Side::B].map(|side| quads(pair, side, s));
            qa.into_iter().flat_map(move |p| qb.clone().into_iter().map(move |q| apart(&p, &q)))
        })
        .min_by(f64::total_cmp)
}

/// The rectangles in which a section cuts a part, in the coordinates of the section.
fn quads(pair: &Pair, side: Side, s: f64) -> Vec<[DVec2; 4]> {
    let x = &pair.x;
    let slab = x.slab(side);
    let (u, n) = (x.flat_dir(x.across(side)), x.flat_dir(slab.frame.z));
    let base = n * slab.frame.z.dot(slab.frame.origin);
    let top = base + n * slab.thickness;
    pair.across(side, s).into_iter().map(|(p, q)| [base + u * p, base + u * q, top + u * q, top + u * p]).collect()
}

/// Distance of two rectangles; 0 when they overlap.
fn apart(p: &[DVec2; 4], q: &[DVec2; 4]) -> f64 {
    contours_apart(&Contour::polygon(p), &Contour::polygon(q))
}

/// Distance of two outlines; 0 when one lies in the other.
fn contours_apart(p: &Contour, q: &Contour) -> f64 {
    let holds = |p: &Contour, q: &Contour| q.vertices.first().is_some_and(|v| p.contains(v.p));
    if holds(p, q) || holds(q, p) { 0.0 } else { between(p, q).0 }
}

fn parallel_gap(a: &ReadPart, b: &ReadPart) -> f64 {
    let f = &a.slab.frame;
    let z = [0.0, b.slab.thickness].map(|z| f.into_own(b.slab.frame.out(DVec3::new(0.0, 0.0, z))).z);
    let up = (z[0].min(z[1]) - a.slab.thickness).max(-z[0].max(z[1])).max(0.0);
    // seen from above: distances along either plane are the same
    let o = f.into_own(b.slab.frame.origin).truncate();
    let (x, y) = (f.dir_own(b.slab.frame.x).truncate(), f.dir_own(b.slab.frame.y).truncate());
    let seen = b.finished.outer.mapped(o, x, y);
    libm::hypot(up, contours_apart(&a.finished.outer, &seen))
}
