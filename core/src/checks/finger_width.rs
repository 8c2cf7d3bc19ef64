//! Fingers are wide enough not to break off.

use super::bound::Bound;
use super::features::Joined;
use super::outcome::{About, Outcome, Subject};
use super::place::called;
use crate::assembly::Joint;
use crate::finding::Verdict;

/// What this check is about.
pub const ABOUT: About = About {
    name: "finger-width",
    rule: "Each finger is at least 1.5 thicknesses of its own sheet wide, better 2; the end one, which a corner's cube shortens, 1.5.",
    source: "common practice, no source: refused below 1.5 t, warned about below 2 t",
};

/// A finger narrower than this many thicknesses is refused …
const REFUSE_PER_THICKNESS: f64 = 1.5;
/// … and warned about below this many. An end finger has the panel's whole edge on one side of it,
/// so it is warned about only where it is refused.
const WARN_PER_THICKNESS: f64 = 2.0;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for (h, built) in subject.holders.iter().enumerate() {
        for j in Joined::all(built).filter(|j| j.meeting.joint == Joint::Corner) {
            let last = j.cells.len().saturating_sub(1);
            // worst against its own limit, not the narrowest: the partners may differ in thickness
            let judged = j.cells.iter().enumerate().map(|(k, cell)| {
                let (width, t) = (j.width_mm(cell), j.thickness(cell.owner));
                let warn = if k == 0 || k == last { REFUSE_PER_THICKNESS } else { WARN_PER_THICKNESS };
                (width - warn * t, width, warn, cell.owner)
            });
            let Some((_, width, warn, owner)) = judged.min_by(|a, b| a.0.total_cmp(&b.0)) else { continue };
            let t = j.thickness(owner);
            let bound = Bound::least("finger-too-narrow", "finger_mm", REFUSE_PER_THICKNESS * t, warn * t);
            if let Some((f, short)) = bound.weigh(&subject.joint_id(h, j.index), width, out) {
                let per = if f.verdict == Verdict::Refuse { REFUSE_PER_THICKNESS } else { warn };
                out.find(f.have("thickness_mm", t).why(format!(
                    "A finger of part {} is {width:.1} mm wide, {short:.1} mm less than {per} thicknesses of its sheet: it breaks off.",
                    called(built, j.panel(owner)),
                )));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;

    // trade scenario A30, its corner of 70 mm: 7 fingers of 10.0 (calculated)
    #[test]
    fn fingers_of_a_box_70_high_are_10_wide_and_a_sliver_is_refused() {
        let mut request = tray();
        request["space"]["clear_height_mm"] = serde_json::json!(96.0);
        request["holders"][0]["height_mm"] = serde_json::json!(70.0);
        let scene = Scene::of(request);
        let out = scene.run(run);
        assert!(out.findings.is_empty(), "{:#?}", out.findings);
        let j = Joined::all(&scene.holders[0]).next().unwrap();
        assert_eq!(j.cells.len(), 7);
        for cell in &j.cells[1..6] {
            assert!((j.width_mm(cell) - 10.0).abs() < 0.02 + 1e-9, "{}", j.width_mm(cell));
        }
    }

    #[test]
    fn a_corner_too_low_for_three_fingers_is_measured_as_it_is() {
        let mut request = tray();
        request["holders"][0]["height_mm"] = serde_json::json!(15.0);
        request["holders"][0]["rows"] = serde_json::json!(1);
        request["holders"][0]["columns"] = serde_json::json!(1);
        request["things"] = serde_json::json!([]);
        request["holders"][0]["things"] = serde_json::json!([]);
        let mut scene = Scene::of(request);
        let worst = scene.run(run).worst_measured()[0].value;
        assert!((worst - 5.0).abs() < 0.02, "{worst}");
        // the same outline in a sheet of 6.2 would be too weak by far
        for p in &mut scene.holders[0].assembly.panels {
            p.slab.thickness = 3.6;
        }
        let out = scene.run(run);
        assert!(out.findings.iter().any(|f| f.verdict == Verdict::Refuse), "{:?}", out.worst_measured());
    }
}
