//! Who bars whose way: asked pair by pair, and remembered.

use super::body::{Barred, Body};
use super::flat::Detail;
use crate::assembly::{Assembly, Joint, PanelId};
use crate::finish::Finished;
use crate::geom::{DVec3, HalfSpace};
use crate::solid::Plate;
use std::collections::BTreeMap;

/// So much is taken off every face before two parts are asked whether they share room, mm: half of the
/// 0.02 that counts as touching.
const SHRINK_MM: f64 = 0.01;

/// All that is known of a holder's parts in one another's way.
pub struct Bars<'a> {
    assembly: &'a Assembly,
    finished: &'a Finished,
    detail: Detail,
    /// Lines along which parts may be pushed, either way.
    pub lines: Vec<DVec3>,
    /// Parts by panel and by how much they were shrunk.
    bodies: BTreeMap<(usize, u64), Body>,
    /// Meeting of each pair that has one.
    meetings: BTreeMap<(usize, usize), usize>,
    /// Meetings whose tabs and fingers are thought to be cut off.
    loose: Vec<bool>,
    known: BTreeMap<Asked, Barred>,
}

/// A question: line, both panels (the lower one first), whether their joint is thought to be cut off.
type Asked = (usize, usize, usize, bool);

impl<'a> Bars<'a> {
    /// Nothing is asked yet.
    pub fn new(assembly: &'a Assembly, finished: &'a Finished, lines: Vec<DVec3>, detail: Detail) -> Self {
        let pair = |(i, m): (usize, &crate::assembly::Meeting)| ((m.a.0.min(m.b.0), m.a.0.max(m.b.0)), i);
        Self {
            assembly,
            finished,
            detail,
            lines,
            bodies: BTreeMap::new(),
            meetings: assembly.meetings.iter().enumerate().map(pair).collect(),
            loose: vec![false; assembly.meetings.len()],
            known: BTreeMap::new(),
        }
    }

    /// The joint of a pair, if they have one.
    pub fn meeting(&self, i: usize, j: usize) -> Option<usize> {
        self.meetings.get(&(i.min(j), i.max(j))).copied()
    }

    /// Thinks the tabs or fingers of a meeting to be cut off, or to be there again.
    pub fn set_loose(&mut self, meeting: usize, loose: bool) {
        if let Some(l) = self.loose.get_mut(meeting) {
            *l = loose;
        }
    }

    /// Whether part `j` bars part `i` the way along a line (`onward`) or against it. Parts that stand in
    /// one another already are another check's matter and bar nothing here, unless that may only be because
    /// an opening was filled up.
    pub fn bars(&mut self, line: usize, onward: bool, i: usize, j: usize) -> bool {
        let (p, q) = (i.min(j), i.max(j));
        let loose = self.meeting(p, q).filter(|m| self.loose[*m]);
        let asked = (line, p, q, loose.is_some());
        let found = match self.known.get(&asked) {
            Some(found) => *found,
            None => {
                let found = self.look(line, p, q, loose);
                self.known.insert(asked, found);
                found
            }
        };
        let found = if i == p { found } else { found.seen_back() };
        let counts = !found.already || self.detail == Detail::Filled;
        counts && if onward { found.onward } else { found.back }
    }

    /// Extent of a part along a direction.
    pub fn extent(&mut self, part: usize, along: DVec3) -> (f64, f64) {
        self.body(part, SHRINK_MM).extent(along).unwrap_or((0.0, 0.0))
    }

    fn look(&mut self, line: usize, p: usize, q: usize, loose: Option<usize>) -> Barred {
        let way = self.lines[line];
        if let Some(m) = loose {
            return self.without_joint(way, p, q, m);
        }
        let squeeze = self.meeting(p, q).map_or(0.0, |m| (-self.assembly.meetings[m].fit_mm).max(0.0) / 2.0);
        let shrink = SHRINK_MM + squeeze;
        self.body(p, shrink);
        self.body(q, shrink);
        match (self.bodies.get(&(p, shrink.to_bits())), self.bodies.get(&(q, shrink.to_bits()))) {
            (Some(a), Some(b)) => a.barred(b, way),
            _ => Barred::default(),
        }
    }

    fn body(&mut self, part: usize, shrink: f64) -> &Body {
        let (assembly, finished, detail) = (self.assembly, self.finished, self.detail);
        self.bodies
            .entry((part, shrink.to_bits()))
            .or_insert_with(|| Body::of(plate(assembly, finished, part), shrink, detail, &[]))
    }

    /// The same pair with what their joint keeps beyond each other's near face cut off. A lap has no such
    /// face: without it nothing is in the way.
    fn without_joint(&self, way: DVec3, p: usize, q: usize, m: usize) -> Barred {
        let meeting = &self.assembly.meetings[m];
        if matches!(meeting.joint, Joint::Lap { .. }) {
            return Barred::default();
        }
        let end_at = |own: PanelId, other: PanelId| -> Vec<HalfSpace> {
            let face = self.assembly.panel(other).slab.near_face(self.assembly.panel(own).seed);
            let ends = meeting.joint == Joint::Corner || own == meeting.a;
            if ends { vec![HalfSpace { limit: face.limit - 2.0 * SHRINK_MM, ..face }] } else { vec![] }
        };
        let cut = |own: usize, other: usize| {
            let ends = end_at(PanelId(own), PanelId(other));
            Body::of(plate(self.assembly, self.finished, own), SHRINK_MM, self.detail, &ends)
        };
        cut(p, q).barred(&cut(q, p), way)
    }
}

/// A finished panel as a solid.
fn plate<'a>(assembly: &'a Assembly, finished: &'a Finished, part: usize) -> Plate<'a> {
    Plate { slab: &assembly.panels[part].slab, region: &finished.panels[part].region }
}
