//! A panel without its fingers and tabs: what webs are measured on.

use crate::assembly::{Joint, PanelId};
use crate::finish::{Built, Why};
use crate::geom::{Contour, Region, between, narrowest_neck, subtract};
use crate::joints::{Rect, Section, Side};

/// A panel's body: its blank as far as its edges really reach, less openings, slots and open mouths.
pub(super) struct Body {
    /// The largest piece.
    pub(super) region: Region,
    /// Which of the region's holes are slots for tabs; the others are openings.
    pub(super) slots: Vec<bool>,
    /// Whether any mouth is open to the outside: a lap, a hook's slot, an opening at the edge.
    pub(super) mouths: bool,
}

/// Webs are looked for up to this many thicknesses; what is wider needs no number.
const WIDEST_PER_THICKNESS: f64 = 6.0;

/// Cuts that run off the blank end this far outside it, mm, each a little farther than the last, so
/// that no two share an edge out there.
const MARGIN_MM: f64 = 9.0;
const MARGIN_STEP_MM: f64 = 0.131;

impl Body {
    /// The body of a finished panel; `None` when nothing is left of it.
    pub(super) fn of(built: &Built, panel: usize) -> Option<Self> {
        let finished = &built.finished.panels[panel];
        let joint = |i: usize| built.assembly.meetings[i].joint;
        let inner: Vec<(&Contour, bool)> = finished
            .cuts
            .iter()
            .filter_map(|c| match c.why {
                Why::Slot(i) if !matches!(joint(i), Joint::Corner) => Some((&c.contour, true)),
                Why::Opening(_) | Why::Tool(_) => Some((&c.contour, false)),
                Why::Edge(i) if matches!(joint(i), Joint::Lap { .. }) => Some((&c.contour, false)),
                Why::Edge(i) if matches!(joint(i), Joint::Hook { .. }) && built.assembly.meetings[i].b.0 == panel => {
                    Some((&c.contour, false))
                }
                _ => None,
            })
            .collect();
        let cuts: Vec<Contour> = inner.iter().map(|c| c.0.clone()).chain(strips(built, panel)).collect();
        let whole = Region { outer: Contour::polygon(&finished.blank.outline), holes: vec![] };
        let region = subtract(&whole, &cuts).into_iter().max_by(|a, b| a.area().total_cmp(&b.area()))?;
        let is_slot = |hole: &Contour| inner.iter().any(|(c, slot)| *slot && c.contains(hole.centroid()));
        let slots: Vec<bool> = region.holes.iter().map(is_slot).collect();
        let mouths = inner.len() > region.holes.len();
        Some(Self { region, slots, mouths })
    }

    /// The narrowest of: between two holes, from an opening to the edge, beside an open mouth. `None`
    /// where nothing is nearer than six thicknesses.
    pub(super) fn web_mm(&self, thickness: f64) -> Option<f64> {
        let far = WIDEST_PER_THICKNESS * thickness;
        let holes = &self.region.holes;
        let mut least = far;
        for (i, a) in holes.iter().enumerate() {
            let near = |b: &Contour, least: f64| {
                let ((a0, a1), (b0, b1)) = (a.bounds(), b.bounds());
                (a0 - least).cmplt(b1).all() && (b0 - least).cmplt(a1).all()
            };
            for b in &holes[i + 1..] {
                if near(b, least) {
                    least = least.min(between(a, b).0);
                }
            }
            if !self.slots[i] {
                least = least.min(between(a, &self.region.outer).0);
            }
        }
        if self.mouths {
            let open = Region { outer: self.region.outer.clone(), holes: vec![] };
            least = narrowest_neck(&open, least).map_or(least, |n| n.0);
        }
        (least < far).then_some(least)
    }

    /// The shortest way from a slot to the edge; `None` without slots.
    pub(super) fn slot_to_edge_mm(&self) -> Option<f64> {
        let slots = self.region.holes.iter().zip(&self.slots).filter(|(_, slot)| **slot);
        slots.map(|(hole, _)| between(hole, &self.region.outer).0).min_by(f64::total_cmp)
    }
}

/// The strips along a panel's edges in which its fingers, tabs and ears stand: beyond the near face
/// of each panel at which it ends.
fn strips(built: &Built, panel: usize) -> Vec<Contour> {
    let a = &built.assembly;
    let id = PanelId(panel);
    let ends = a.meetings.iter().filter_map(|m| match (m.joint, m.a == id, m.b == id) {
        (Joint::Corner, true, _) => Some(m.b),
        (Joint::Corner, _, true) => Some(m.a),
        (Joint::Tab { .. } | Joint::Hook { .. }, true, _) => Some(m.b),
        _ => None,
    });
    let all = (f64::NEG_INFINITY, f64::INFINITY);
    ends.enumerate()
        .filter_map(|(k, other)| {
            let x = Section::between(&a.panel(id).slab, &a.panel(other).slab)?;
            let (near, sign) = x.near(Side::A, a.panel(id).seed);
            let u = if sign > 0.0 { (near, f64::INFINITY) } else { (f64::NEG_INFINITY, near) };
            let margin = MARGIN_MM + MARGIN_STEP_MM * k as f64;
            Some(x.rect_on(Side::A, &built.finished.panels[panel].blank, &Rect { s: all, u }, margin))
        })
        .collect()
}
