//! Single faults, each at least 0.1 mm beyond what the meeting's fit and play, or the opening's clearance, allows.

use crate::cutfile::CutFile;
use crate::dice::Dice;
use berth_core::assembly::Joint;
use berth_core::geom::{DVec2, DVec3};
use berth_core::joints::{Cell, Section, Side};
use berth_core::made::Made;
use berth_core::readback::Files;
use berth_core::solid::Pair;
use berth_core::solid::Plate;

/// Kinds of faults.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    SlotNarrowed,
    SlotWidened,
    SlotMovedAcross,
    SlotMovedAlong,
    TabLengthened,
    TabWidened,
    TabMoved,
    FingerMoved,
    FingerLengthened,
    LapSlotNarrowed,
    OpeningShrunk,
    OpeningMoved,
    PlacementTurned,
    PlacementMoved,
    PartsSwapped,
}

/// All of them.
pub const KINDS: &[Kind] = &[
    Kind::SlotNarrowed,
    Kind::SlotWidened,
    Kind::SlotMovedAcross,
    Kind::SlotMovedAlong,
    Kind::TabLengthened,
    Kind::TabWidened,
    Kind::TabMoved,
    Kind::FingerMoved,
    Kind::FingerLengthened,
    Kind::LapSlotNarrowed,
    Kind::OpeningShrunk,
    Kind::OpeningMoved,
    Kind::PlacementTurned,
    Kind::PlacementMoved,
    Kind::PartsSwapped,
];

/// What was planted, and so what has to be named.
#[derive(Debug)]
pub struct Planted {
    pub kind: Kind,
    /// Codes of the parts that were changed.
    pub parts: Vec<String>,
    /// The joint, where it is one joint's fault.
    pub joint: Option<String>,
    /// By how much, mm.
    pub by_mm: f64,
}

/// What a joint's faults are planted with.
struct Spot<'a> {
    made: &'a Made,
    /// Which joint of the job.
    joint: usize,
    cell: Cell,
    x: Section,
    pair: Pair,
}

/// Least that a fault goes beyond what is allowed, mm; and how much more it may be.
const BEYOND_MM: f64 = 0.1;
const MORE_MM: f64 = 0.5;

/// Plants a fault of this kind, if the job has a place for it.
pub fn plant(made: &Made, files: &mut Files, kind: Kind, dice: &mut Dice) -> Option<Planted> {
    match kind {
        Kind::OpeningShrunk | Kind::OpeningMoved => opening(made, files, kind, dice),
        Kind::PlacementTurned | Kind::PlacementMoved => placement(made, files, kind, dice),
        Kind::PartsSwapped => swapped(made, files, dice),
        _ => {
            let spot = Spot::of(made, kind, dice)?;
            spot.plant(files, kind, dice)
        }
    }
}

fn wanted(kind: Kind, joint: Joint) -> bool {
    match kind {
        Kind::SlotMovedAlong | Kind::TabLengthened | Kind::TabWidened => matches!(joint, Joint::Tab { .. }),
        Kind::SlotNarrowed | Kind::SlotWidened | Kind::SlotMovedAcross | Kind::TabMoved => {
            matches!(joint, Joint::Tab { .. })
        }
        Kind::FingerMoved | Kind::FingerLengthened => joint == Joint::Corner,
        Kind::LapSlotNarrowed => matches!(joint, Joint::Lap { .. } | Joint::Hook { .. }),
        _ => false,
    }
}

impl<'a> Spot<'a> {
    fn of(made: &'a Made, kind: Kind, dice: &mut Dice) -> Option<Self> {
        let meeting = |j: usize| {
            let h = made.parts[made.joints[j].a].holder;
            let before: usize = made.holders[..h].iter().map(|b| b.assembly.meetings.len()).sum();
            (&made.holders[h], j - before)
        };
        let all: Vec<usize> = (0..made.joints.len())
            .filter(|j| {
                let (h, m) = meeting(*j);
                wanted(kind, h.assembly.meetings[m].joint) && !h.finished.meetings[m].cells.is_empty()
            })
            .collect();
        if all.is_empty() {
            return None;
        }
        let joint = all[dice.index(all.len())];
        let (h, m) = meeting(joint);
        let cells = &h.finished.meetings[m].cells;
        // end fingers stand in a corner of three parts: their faults are three parts'
        let k = match kind {
            Kind::FingerMoved | Kind::FingerLengthened if cells.len() >= 3 => 1 + dice.index(cells.len() - 2),
            Kind::FingerMoved | Kind::FingerLengthened => return None,
            _ => dice.index(cells.len()),
        };
        let meet = &h.assembly.meetings[m];
        let plate = |id: usize| Plate { slab: &h.assembly.panels[id].slab, region: &h.finished.panels[id].region };
        let pair = Pair::of(plate(meet.a.0), plate(meet.b.0))?;
        Some(Self { made, joint, cell: cells[k], x: pair.x, pair })
    }

    fn part(&self, side: Side) -> usize {
        let j = &self.made.joints[self.joint];
        if side == Side::A { j.a } else { j.b }
    }

    /// s along and u across the line of a place in a part's own plane.
    fn su(&self, side: Side, p: DVec2) -> DVec2 {
        let q = self.x.slab(side).frame.out2(p);
        DVec2::new(self.x.e.dot(q), self.x.across(side).dot(q))
    }

    /// Own directions along and across the line.
    fn own(&self, side: Side) -> (DVec2, DVec2) {
        let f = &self.x.slab(side).frame;
        (f.dir_own(self.x.e).truncate(), f.dir_own(self.x.across(side)).truncate())
    }

    /// Middle of what stands in a side's plane at the cell's middle, across the line.
    fn band(&self, side: Side) -> (f64, f64) {
        self.x.range(side, &self.x.crossing())
    }

    fn plant(&self, files: &mut Files, kind: Kind, dice: &mut Dice) -> Option<Planted> {
        let fit = self.made.joints[self.joint].fit_mm;
        let more = BEYOND_MM + dice.within(0.0, MORE_MM);
        let (owner, loser) = (self.cell.owner, self.cell.owner.other());
        let mid = (self.cell.from + self.cell.to) / 2.0;
        let (side, by) = match kind {
            Kind::SlotNarrowed | Kind::LapSlotNarrowed => (loser, fit.max(0.0) + more),
            Kind::SlotWidened => (loser, more),
            Kind::SlotMovedAcross => (loser, fit.max(0.0) / 2.0 + more),
            Kind::SlotMovedAlong | Kind::TabMoved => (if kind == Kind::TabMoved { owner } else { loser }, 0.1 + more),
            Kind::TabWidened => (owner, 0.2 + more),
            Kind::FingerMoved => (owner, fit.max(0.0) / 2.0 + more),
            _ => (owner, more),
        };
        let part = self.part(side);
        let path = format!("parts/{}.dxf", self.made.parts[part].code);
        let mut file = CutFile::of(files.get(&path)?);
        let (e, u) = self.own(side);
        // the kerf has moved every drawn edge by half of it
        let near = 0.05 + self.made.parts[part].kerf_mm / 2.0;
        let (from, to) = (self.cell.from - 0.3 - near, self.cell.to + 0.3 + near);
        let way = dice.sign();
        let within = |s: f64| s > from && s < to;
        let (lo, hi) = self.slot(side)?;
        let moved = match kind {
            Kind::SlotNarrowed | Kind::SlotWidened | Kind::LapSlotNarrowed => {
                // one long side of the slot, from its bottom to its mouth
                let edge = if way > 0.0 { hi } else { lo };
                let inward = if kind == Kind::SlotWidened { way } else { -way };
                let open = kind == Kind::LapSlotNarrowed;
                let (slot_from, slot_to) = if open { self.stretch(side, mid, (lo + hi) / 2.0)? } else { (from, to) };
                file.shift(
                    |c| {
                        let p = self.su(side, c.p);
                        p.x > slot_from - 0.5 && p.x < slot_to + 0.5 && (p.y - edge).abs() < near
                    },
                    |p| p + u * (inward * by),
                )
            }
            Kind::SlotMovedAcross | Kind::SlotMovedAlong => {
                let d = if kind == Kind::SlotMovedAcross { u } else { e } * (way * by);
                file.shift(
                    |c| {
                        let p = self.su(side, c.p);
                        within(p.x) && p.y > lo - near && p.y < hi + near
                    },
                    |p| p + d,
                )
            }
            Kind::TabLengthened | Kind::FingerLengthened => {
                let (end, sign) = self.end(side, mid)?;
                file.shift(
                    |c| {
                        let p = self.su(side, c.p);
                        within(p.x) && (p.y - end).abs() < near
                    },
                    |p| p + u * (sign * by),
                )
            }
            Kind::TabWidened | Kind::TabMoved | Kind::FingerMoved => {
                // flanks: from the shoulder to the end
                let (end, sign) = self.end(side, mid)?;
                let (b0, b1) = self.band(side);
                let root = if sign > 0.0 { b0 } else { b1 };
                let (low, high) = (root.min(end) - near - 0.2, root.max(end) + near);
                let flank = |s: f64, at: f64| (s - at).abs() < near + 0.15;
                let both = kind != Kind::TabWidened;
                let (near_to, near_from) = (way > 0.0 || both, way < 0.0 || both);
                file.shift(
                    |c| {
                        let p = self.su(side, c.p);
                        let here = (near_to && flank(p.x, self.cell.to)) || (near_from && flank(p.x, self.cell.from));
                        here && p.y > low && p.y < high
                    },
                    |p| p + e * (way * by),
                )
            }
            _ => 0,
        };
        let expected = match kind {
            Kind::SlotMovedAcross | Kind::SlotMovedAlong | Kind::TabMoved | Kind::FingerMoved => moved == 4,
            _ => moved == 2,
        };
        if !expected {
            return None;
        }
        files.insert(path, file.bytes());
        let joint = self.made.joints[self.joint].id.clone();
        Some(Planted { kind, parts: vec![self.made.parts[part].code.clone()], joint: Some(joint), by_mm: by })
    }

    /// From and to across the line of a side's slot at the cell's middle; for tabs and fingers, the band.
    fn slot(&self, side: Side) -> Option<(f64, f64)> {
        if side == self.cell.owner {
            return Some(self.band(side));
        }
        let mid = (self.cell.from + self.cell.to) / 2.0;
        let (lo, hi) = self.band(side);
        let middle = (lo + hi) / 2.0;
        let material = self.pair.across(side, mid);
        let below = material.iter().map(|i| i.1).filter(|v| *v <= middle).fold(f64::NEG_INFINITY, f64::max);
        let above = material.iter().map(|i| i.0).filter(|v| *v >= middle).fold(f64::INFINITY, f64::min);
        (below.is_finite() && above.is_finite()).then_some((below, above))
    }

    /// The empty stretch along the line about a place; to the part's end where the slot is open.
    fn stretch(&self, side: Side, s: f64, u: f64) -> Option<(f64, f64)> {
        let (lo, hi) = self.pair.laid(side).bounds();
        let material = self.pair.along(side, u);
        let below = material.iter().map(|i| i.1).filter(|v| *v <= s).fold(lo.x, f64::max);
        let above = material.iter().map(|i| i.0).filter(|v| *v >= s).fold(hi.x, f64::min);
        Some((below, above))
    }

    /// Where the owner's tab or finger ends across the line, and the way there.
    fn end(&self, side: Side, s: f64) -> Option<(f64, f64)> {
        let (lo, hi) = self.band(side);
        let stretch = self.pair.across(side, s).into_iter().find(|i| i.0 < hi && lo < i.1)?;
        let body = (stretch.0 + stretch.1) / 2.0;
        Some(if body < (lo + hi) / 2.0 { (stretch.1, 1.0) } else { (stretch.0, -1.0) })
    }
}

fn opening(made: &Made, files: &mut Files, kind: Kind, dice: &mut Dice) -> Option<Planted> {
    let mut all = vec![];
    for (h, built) in made.holders.iter().enumerate() {
        for berth in &built.assembly.berths {
            all.extend(berth.openings.iter().filter(|o| !o.open).map(|o| (h, berth, *o)));
        }
    }
    if all.is_empty() {
        return None;
    }
    let (h, berth, o) = all[dice.index(all.len())];
    let slab = &made.holders[h].assembly.panels[o.panel.0].slab;
    // where the axis goes through the panel's middle
    let (at, dir) = (slab.frame.into_own(berth.pose.origin), slab.frame.dir_own(berth.pose.z));
    if dir.z.abs() < 0.2 {
        return None;
    }
    let t = (slab.thickness / 2.0 - at.z) / dir.z;
    if t < 0.0 || t > berth.solid.height() {
        return None;
    }
    let center = (at + dir * t).truncate();
    let part = made.parts.iter().position(|p| p.holder == h && p.panel == o.panel.0)?;
    let hole = made.parts[part].finished.holes.iter().find(|c| c.contains(center))?;
    let (lo, hi) = hole.bounds();
    let size = hi - lo;
    // an opening that is far wider than the thing was made for another one
    if size.min_element() > 2.0 * berth.solid.max_radius() + o.clearance_mm + 0.2 {
        return None;
    }
    let by = o.clearance_mm.max(0.0) / 2.0 + BEYOND_MM + dice.within(0.0, MORE_MM);
    let path = format!("parts/{}.dxf", made.parts[part].code);
    let mut file = CutFile::of(files.get(&path)?);
    let middle = (lo + hi) / 2.0;
    let first = file.corners.iter().filter(|c| c.p.cmpge(lo).all() && c.p.cmple(hi).all()).map(|c| c.contour).next()?;
    let across = if size.x < size.y { DVec2::X } else { DVec2::Y } * dice.sign();
    let share = 1.0 - by / (size.min_element() / 2.0);
    if share < 0.2 {
        return None;
    }
    let to = |p: DVec2| match kind {
        Kind::OpeningShrunk => middle + (p - middle) * share,
        _ => p + across * by,
    };
    file.shift(|c| c.contour == first, to);
    files.insert(path, file.bytes());
    Some(Planted { kind, parts: vec![made.parts[part].code.clone()], joint: None, by_mm: by })
}

/// Turns or moves a part where it stands: in the list, not in its file.
fn placement(made: &Made, files: &mut Files, kind: Kind, dice: &mut Dice) -> Option<Planted> {
    let part = dice.index(made.parts.len());
    let p = &made.parts[part];
    let mine: Vec<_> = made.joints.iter().filter(|j| j.a == part || j.b == part).collect();
    if mine.len() < 2 {
        return None;
    }
    let loosest = mine.iter().map(|j| j.fit_mm).fold(0.0, f64::max);
    let mut list: serde_json::Value = serde_json::from_slice(files.get("assembly.json")?).unwrap();
    let mut f = p.placement;
    let by = if kind == Kind::PlacementTurned {
        // about its own middle, by so much that its far corners move beyond any play
        let (lo, hi) = p.finished.bounds();
        let angle = dice.sign() * dice.within(1.5, 4.0).to_radians();
        let (sin, cos) = angle.sin_cos();
        let c = f.out2(p.finished.centroid());
        let turn = |v: DVec3| v * cos + f.z.cross(v) * sin + f.z * (f.z.dot(v) * (1.0 - cos));
        let (x, y, origin) = (turn(f.x), turn(f.y), c + turn(f.origin - c));
        (f.x, f.y, f.origin) = (x, y, origin);
        (hi - lo).length() / 2.0 * angle.abs()
    } else {
        // square to its plane: nothing but its thickness is free there
        let by = loosest + 0.2 + BEYOND_MM + dice.within(0.0, MORE_MM);
        f.origin += f.z * (dice.sign() * by);
        by
    };
    list["parts"][part]["placement"] = serde_json::json!(f.matrix());
    files.insert("assembly.json".into(), serde_json::to_vec(&list).unwrap());
    Some(Planted { kind, parts: vec![p.code.clone()], joint: None, by_mm: by })
}

/// Swaps the files of two parts that differ.
fn swapped(made: &Made, files: &mut Files, dice: &mut Dice) -> Option<Planted> {
    let (a, b) = (dice.index(made.parts.len()), dice.index(made.parts.len()));
    let (p, q) = (&made.parts[a], &made.parts[b]);
    let size = |p: &berth_core::made::Part| {
        let (lo, hi) = p.finished.bounds();
        hi - lo
    };
    let off = (size(p) - size(q)).abs().max_element();
    let corners = |p: &berth_core::made::Part| p.finished.contours().map(|c| c.vertices.len()).sum::<usize>();
    if a == b || (off < 2.0 * BEYOND_MM && corners(p) == corners(q)) {
        return None;
    }
    let (pa, pb) = (format!("parts/{}.dxf", p.code), format!("parts/{}.dxf", q.code));
    let (fa, fb) = (files.remove(&pa)?, files.remove(&pb)?);
    files.insert(pa, fb);
    files.insert(pb, fa);
    let parts = vec![p.code.clone(), q.code.clone()];
    Some(Planted { kind: Kind::PartsSwapped, parts, joint: None, by_mm: off })
}
