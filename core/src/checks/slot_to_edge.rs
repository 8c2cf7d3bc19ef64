//! Slots stay off the edges of their part.

use super::bound::Bound;
use super::core_part::Body;
use super::outcome::{About, Outcome, Subject};
use super::place::{called, has_number, tenth_above};

/// What this check is about.
pub const ABOUT: About = About {
    name: "slot-to-edge",
    rule: "From a slot to the edge of its part at least 1.5 thicknesses are left, better 2; the default is 3.",
    source: "common practice, no source: refused below 1.5 t, warned about below 2 t",
};

/// Less than this many thicknesses is refused …
const REFUSE_PER_THICKNESS: f64 = 1.5;
/// … and warned about below this many.
const WARN_PER_THICKNESS: f64 = 2.0;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for built in subject.holders {
        for (p, panel) in built.assembly.panels.iter().enumerate() {
            let t = panel.slab.thickness;
            let Some(left) = Body::of(built, p).and_then(|b| b.slot_to_edge_mm()) else { continue };
            let bound =
                Bound::least("slot-near-edge", "slot_to_edge_mm", REFUSE_PER_THICKNESS * t, WARN_PER_THICKNESS * t);
            let Some((f, short)) = bound.weigh(&built.part_code(p), left, out) else { continue };
            let mut f = f.have("thickness_mm", t).need("better_mm", WARN_PER_THICKNESS * t).why(format!(
                "In part {} a slot comes within {left:.2} mm of the edge, {short:.2} mm nearer than a sheet of {t:.2} bears: what is left splits off.",
                called(built, p)
            ));
            if has_number(built, "floor_raise_mm") {
                let raise = tenth_above(WARN_PER_THICKNESS * t);
                f = f.cure(
                    format!("Raise the floor by {raise:.1} mm off the walls' lower edges."),
                    format!("{}/floor_raise_mm", built.at),
                    raise,
                );
            }
            out.find(f);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use crate::finding::Verdict;
    use serde_json::json;

    fn raised(by: f64) -> Vec<(f64, Verdict)> {
        let mut request = tray();
        request["holders"][0]["floor"] = json!("captured");
        request["holders"][0]["floor_raise_mm"] = json!(by);
        let out = Scene::of(request).run(run);
        out.findings
            .iter()
            .map(|f| (out.measured.iter().find(|m| m.place == f.place).unwrap().value, f.verdict))
            .collect()
    }

    #[test]
    fn a_captured_floor_needs_two_thicknesses_below_it() {
        // the slot is wider than the floor by its fit of 0.02, half of it below
        let low = raised(4.0);
        assert_eq!(low.len(), 4, "{low:?}");
        assert!(low.iter().all(|(v, verdict)| (v - 3.99).abs() < 1e-6 && *verdict == Verdict::Refuse), "{low:?}");
        assert!(raised(6.0).iter().all(|(_, v)| *v == Verdict::Warn));
        assert_eq!(raised(6.3), vec![]);
    }
}
