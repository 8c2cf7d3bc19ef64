//! Do finished panels meet as asked: the gap at each leading arris, the wedge behind it, and
//! whether every owner is really there.

use super::Plate;
use super::strip::Pair;
use crate::assembly::{Assembly, Joint};
use crate::finish::Finished;
use crate::geom::{DVec2, DVec3};
use crate::joints::tab::END_PLAY_MM;
use crate::joints::{Cell, Section, Side};

/// What was measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Across a slot: slot less what enters.
    Slot,
    /// Along a slot: slot less tab.
    End,
    /// At a tab's shoulder, against the host's near face.
    Shoulder,
    /// At a finger's notch, against the neighbour's near face.
    Notch,
    /// At one flank of a finger.
    Flank,
}

/// One place where two panels should touch or clear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Contact {
    /// Which meeting.
    pub meeting: usize,
    /// Which of its cells.
    pub cell: usize,
    /// What was measured.
    pub kind: Kind,
    /// The gap at the leading arris, mm; negative where they squeeze.
    pub gap_mm: f64,
    /// The gap that the fit asks for.
    pub want_mm: f64,
    /// What square edges leave open behind the arris because the slabs meet at an angle.
    pub wedge_mm: f64,
    /// Whether the owner's material is there, through the whole of the other slab.
    pub filled: bool,
}

/// The owner of a cell must reach through this share of the other slab; an oblique flush tab with
/// square ends leaves a corner of it empty.
const FILLED_SHARE: f64 = 0.75;

/// Beside a tab, the shoulder is measured this far from it, mm: past its play, before the next.
const BESIDE_MM: f64 = 1.0;

/// All contacts of a holder, meeting by meeting.
#[must_use]
pub fn contacts(assembly: &Assembly, finished: &Finished) -> Vec<Contact> {
    let mut all = vec![];
    for (i, (m, f)) in assembly.meetings.iter().zip(&finished.meetings).enumerate() {
        let plate = |k: usize| Plate { slab: &assembly.panels[k].slab, region: &finished.panels[k].region };
        let seeds = [assembly.panel(m.a).seed, assembly.panel(m.b).seed];
        let (joint, fit_mm, cells) = (m.joint, m.fit_mm, f.cells.as_slice());
        all.extend(Meet { a: plate(m.a.0), b: plate(m.b.0), seeds, joint, fit_mm, cells }.contacts(i));
    }
    all
}

/// Two finished panels that meet, and what is known of their joint.
#[derive(Clone, Copy, Debug)]
pub struct Meet<'a> {
    /// First panel: the one that enters, where one does.
    pub a: Plate<'a>,
    /// Second panel.
    pub b: Plate<'a>,
    /// A point in the body of each: the side of the other on which it lies.
    pub seeds: [DVec3; 2],
    /// What is made.
    pub joint: Joint,
    /// Finished slot less what enters, mm.
    pub fit_mm: f64,
    /// Who keeps what along the common line.
    pub cells: &'a [Cell],
}

impl Meet<'_> {
    /// All contacts, under the number of their meeting; none when the panels are parallel.
    #[must_use]
    pub fn contacts(&self, meeting: usize) -> Vec<Contact> {
        let mut all = vec![];
        if let Some(pair) = Pair::of(self.a, self.b) {
            Measured { pair, m: self, i: meeting }.measure(&mut all);
        }
        all
    }
}

struct Measured<'a> {
    pair: Pair,
    m: &'a Meet<'a>,
    i: usize,
}

impl Measured<'_> {
    fn measure(&self, out: &mut Vec<Contact>) {
        for (k, cell) in self.m.cells.iter().enumerate() {
            match self.m.joint {
                Joint::Corner => {
                    out.push(self.notch(k, cell));
                    if let Some(next) = self.m.cells.get(k + 1) {
                        out.push(self.flank(k, cell, next));
                    }
                    if k == 0 {
                        out.extend(self.outer_flank(k, cell, -1.0));
                    }
                    if k + 1 == self.m.cells.len() {
                        out.extend(self.outer_flank(k, cell, 1.0));
                    }
                }
                Joint::Tab { .. } => {
                    out.push(self.slot(k, cell));
                    out.push(self.end(k, cell));
                    out.extend(self.shoulder(k, cell));
                }
                Joint::Hook { .. } | Joint::Lap { .. } => out.push(self.slot(k, cell)),
                Joint::Rest => {}
            }
        }
    }

    fn contact(&self, cell: usize, kind: Kind, want_mm: f64) -> Contact {
        Contact { meeting: self.i, cell, kind, gap_mm: f64::NAN, want_mm, wedge_mm: 0.0, filled: false }
    }

    fn seed(&self, side: Side) -> DVec3 {
        match side {
            Side::A => self.m.seeds[0],
            Side::B => self.m.seeds[1],
        }
    }

    /// The owner's section at a place, cut down to the stretch of its material that reaches the
    /// other slab; empty when it is not there.
    fn owner_piece(&self, owner: Side, s: f64) -> Vec<DVec2> {
        let shared = self.pair.x.crossing();
        self.pair
            .across(owner, s)
            .into_iter()
            .map(|stretch| self.pair.within(&shared, owner, stretch))
            .filter(|p| p.len() >= 3)
            .max_by(|p, q| super::strip::area(p).total_cmp(&super::strip::area(q)))
            .unwrap_or_default()
    }

    fn is_filled(&self, owner: Side, piece: &[DVec2]) -> bool {
        let other = self.pair.x.slab(owner.other());
        let n = self.pair.x.flat_dir(other.frame.z);
        let (lo, hi) =
            piece.iter().map(|p| n.dot(*p)).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v), b.max(v)));
        piece.len() >= 3 && hi - lo >= FILLED_SHARE * other.thickness
    }

    /// Slot less what enters, across the line in the loser's plane.
    fn slot(&self, k: usize, cell: &Cell) -> Contact {
        let mut c = self.contact(k, Kind::Slot, self.m.fit_mm);
        let s = (cell.from + cell.to) / 2.0;
        let loser = cell.owner.other();
        let piece = self.owner_piece(cell.owner, s);
        if piece.len() < 3 {
            return c;
        }
        c.filled = self.is_filled(cell.owner, &piece);
        let (lo, hi) = self.pair.x.range(loser, &piece);
        if let Some((from, to)) = gap_around(&self.pair.across(loser, s), (lo + hi) / 2.0) {
            c.gap_mm = (to - from) - (hi - lo);
        }
        c
    }

    /// Slot less tab, along the line.
    fn end(&self, k: usize, cell: &Cell) -> Contact {
        let mut c = self.contact(k, Kind::End, END_PLAY_MM);
        let s = (cell.from + cell.to) / 2.0;
        let piece = self.owner_piece(cell.owner, s);
        if piece.len() < 3 {
            return c;
        }
        c.filled = true;
        let middle = |side| {
            let (lo, hi) = self.pair.x.range(side, &piece);
            (lo + hi) / 2.0
        };
        let loser = cell.owner.other();
        let tab = self.pair.along(cell.owner, middle(cell.owner)).into_iter().find(|i| i.0 <= s && s <= i.1);
        if let (Some(tab), Some(slot)) = (tab, gap_around(&self.pair.along(loser, middle(loser)), s)) {
            c.gap_mm = (slot.1 - slot.0) - (tab.1 - tab.0);
        }
        c
    }

    /// The shoulder beside a tab against the host's near face; nothing where the panel has no
    /// material beside the tab.
    fn shoulder(&self, k: usize, cell: &Cell) -> Option<Contact> {
        let owner = cell.owner;
        let (near, sign) = self.pair.x.near(owner, self.seed(owner));
        let beside = [cell.from - BESIDE_MM, cell.to + BESIDE_MM];
        let end = beside.into_iter().find_map(|s| {
            let host_there = !self.pair.across(owner.other(), s).is_empty();
            self.pair
                .across(owner, s)
                .into_iter()
                .find(|i| (i.0 - near).min(near - i.1).abs() < 1.0 || (i.0 < near && near < i.1))
                .filter(|_| host_there)
                .map(|i| if sign > 0.0 { i.1 } else { i.0 })
        })?;
        let mut c = self.contact(k, Kind::Shoulder, 0.0);
        c.gap_mm = (near - end) * sign;
        c.wedge_mm = wedge(&self.pair.x, owner);
        c.filled = true;
        Some(c)
    }

    /// The bottom of the loser's notch against the winner's near face.
    fn notch(&self, k: usize, cell: &Cell) -> Contact {
        let mut c = self.contact(k, Kind::Notch, 0.0);
        let s = self.clear_of_third(k, cell);
        let loser = cell.owner.other();
        let piece = self.owner_piece(cell.owner, s);
        if piece.len() < 3 {
            return c;
        }
        c.filled = self.is_filled(cell.owner, &piece);
        c.wedge_mm = wedge(&self.pair.x, loser);
        let (lo, hi) = self.pair.x.range(loser, &piece);
        let sign = self.pair.x.toward(loser, self.seed(loser));
        let near = if sign > 0.0 { lo } else { hi };
        let stretch = self.pair.across(loser, s).into_iter().min_by(|p, q| {
            let d = |i: &(f64, f64)| (if sign > 0.0 { i.1 } else { i.0 } - near).abs();
            d(p).total_cmp(&d(q))
        });
        if let Some(i) = stretch {
            c.gap_mm = (near - if sign > 0.0 { i.1 } else { i.0 }) * sign;
        }
        c
    }

    /// A place within a finger that no third panel's corner reaches: the middle, but in an end cell away
    /// from the end, where a floor as thick as half the finger would own it.
    fn clear_of_third(&self, k: usize, cell: &Cell) -> f64 {
        let (first, last) = (k == 0, k + 1 == self.m.cells.len());
        let share = match (first, last) {
            (true, false) => 0.75,
            (false, true) => 0.25,
            _ => 0.5,
        };
        cell.from + share * (cell.to - cell.from)
    }

    /// The flank between two neighbouring fingers.
    fn flank(&self, k: usize, cell: &Cell, next: &Cell) -> Contact {
        let mut c = self.contact(k, Kind::Flank, self.m.fit_mm / 2.0);
        let boundary = cell.to;
        let side_end = |owner: Side, s: f64| {
            let piece = self.owner_piece(owner, s);
            if piece.len() < 3 {
                return None;
            }
            let (lo, hi) = self.pair.x.range(owner, &piece);
            self.pair.along(owner, (lo + hi) / 2.0).into_iter().find(|i| i.0 <= s && s <= i.1)
        };
        // a little way into each finger, so that a neighbour clipped by a third panel is no matter
        let into = |cell: &Cell| ((cell.to - cell.from) / 4.0).min(2.0);
        let (here, there) = (side_end(cell.owner, boundary - into(cell)), side_end(next.owner, boundary + into(next)));
        if let (Some(a), Some(b)) = (here, there) {
            c.gap_mm = b.0 - a.1;
            c.filled = true;
        }
        c
    }

    /// Beyond an end cell, where the loser goes on past the owner's end as a high wall does over a low
    /// one; nothing where it does not.
    fn outer_flank(&self, k: usize, cell: &Cell, way: f64) -> Option<Contact> {
        let s = (cell.from + cell.to) / 2.0;
        let piece = self.owner_piece(cell.owner, s);
        if piece.len() < 3 {
            return None;
        }
        let middle = |side: Side| {
            let (lo, hi) = self.pair.x.range(side, &piece);
            (lo + hi) / 2.0
        };
        let loser = cell.owner.other();
        let own = self.pair.along(cell.owner, middle(cell.owner)).into_iter().find(|i| i.0 <= s && s <= i.1)?;
        let end = if way > 0.0 { own.1 } else { own.0 };
        let beyond = self
            .pair
            .along(loser, middle(loser))
            .into_iter()
            .map(|i| if way > 0.0 { i.0 } else { i.1 })
            .filter(|v| (v - s) * way > 0.0)
            .map(|v| (v - end) * way)
            .fold(f64::INFINITY, f64::min);
        beyond.is_finite().then(|| {
            let mut c = self.contact(k, Kind::Flank, self.m.fit_mm / 2.0);
            c.gap_mm = beyond;
            c.filled = true;
            c
        })
    }
}

/// What a square edge of the loser leaves open against the other slab's face: t·cosφ/sinφ, read
/// off the parallelogram.
fn wedge(x: &Section, loser: Side) -> f64 {
    let (lo, hi) = x.range(loser, &x.crossing());
    // the parallelogram's range is the other slab's own width across plus one wedge
    (hi - lo) - x.slab(loser.other()).thickness / x.sin
}

/// The empty stretch between two stretches of material, around `middle`.
fn gap_around(material: &[(f64, f64)], middle: f64) -> Option<(f64, f64)> {
    let below = material.iter().map(|i| i.1).filter(|v| *v <= middle).fold(f64::NEG_INFINITY, f64::max);
    let above = material.iter().map(|i| i.0).filter(|v| *v >= middle).fold(f64::INFINITY, f64::min);
    (below.is_finite() && above.is_finite()).then_some((below, above))
}
