//! Blanks: each panel as far as its own bounds and its meetings let it reach.

use crate::assembly::{Assembly, Joint, PanelId, Reach};
use crate::finding::{Finding, Verdict};
use crate::geom::HalfSpace;
use crate::joints::Blank;

/// One blank a panel; faults name the panel. `None` when a panel has none.
pub fn blanks(assembly: &Assembly, at: &str, out: &mut Vec<Finding>) -> Option<Vec<Blank>> {
    let mut all = Vec::with_capacity(assembly.panels.len());
    for (i, panel) in assembly.panels.iter().enumerate() {
        let mut bounds = panel.bounds.clone();
        bounds.extend(limits(assembly, PanelId(i)));
        match Blank::of(panel.slab, &bounds) {
            Some(blank) => all.push(blank),
            None => out.push(
                Finding::new("panel-unbounded", Verdict::Refuse, at)
                    .have("bounds", bounds.len())
                    .need("area_mm2", "more than 0, and finite")
                    .why(format!(
                        "Part \"{}\" has no room left between what it meets: the sizes asked for leave nothing of it.",
                        panel.name
                    )),
            ),
        }
    }
    (all.len() == assembly.panels.len()).then_some(all)
}

/// How far the meetings of a panel let it reach: each end adds the other's far face.
fn limits(assembly: &Assembly, id: PanelId) -> Vec<HalfSpace> {
    let seed = assembly.panel(id).seed;
    let face = |other: PanelId, proud: f64| {
        let mut h = assembly.panel(other).slab.far_face(seed);
        h.limit += proud;
        h
    };
    assembly
        .meetings
        .iter()
        .filter_map(|m| match (m.joint, m.a == id, m.b == id) {
            (Joint::Corner, true, _) => Some(face(m.b, 0.0)),
            (Joint::Corner, _, true) => Some(face(m.a, 0.0)),
            (Joint::Tab { reach: Reach::Flush } | Joint::Hook { .. }, true, _) => Some(face(m.b, 0.0)),
            (Joint::Tab { reach: Reach::Proud(by) }, true, _) => Some(face(m.b, by)),
            (Joint::Rest, true, _) => {
                let mut h = assembly.panel(m.b).slab.near_face(seed);
                h.limit -= m.fit_mm;
                Some(h)
            }
            _ => None,
        })
        .collect()
}
