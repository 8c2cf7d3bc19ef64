//! Beside a half-lap or a hook enough of the panel's height is left.

use super::bound::Bound;
use super::features::Joined;
use super::outcome::{About, Outcome, Subject};
use super::place::called;
use crate::assembly::Joint;
use crate::joints::{Cell, Side};

/// What this check is about.
pub const ABOUT: About = About {
    name: "lap-remainder",
    rule: "Beside the slot of a lap or hook at least 2 thicknesses of the panel's height are left, better 3 and at least 10 mm.",
    source: "common practice, no source: refused below 2 t, warned about below 3 t or 10 mm",
};

/// Less than this many thicknesses is refused …
const REFUSE_PER_THICKNESS: f64 = 2.0;
/// … and warned about below this many, or below …
const WARN_PER_THICKNESS: f64 = 3.0;
/// … this many mm.
const WARN_MM: f64 = 10.0;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for (h, built) in subject.holders.iter().enumerate() {
        for j in Joined::all(built) {
            let id = subject.joint_id(h, j.index);
            for cell in j.cells {
                match j.meeting.joint {
                    // what a panel keeps is its own cell
                    Joint::Lap { .. } => judge(&j, cell.owner, j.width_mm(cell), &id, out),
                    Joint::Hook { .. } => judge(&j, Side::B, beside(&j, cell), &id, out),
                    _ => {}
                }
            }
        }
    }
}

/// What is left of the host beside a hook's slot.
fn beside(j: &Joined, cell: &Cell) -> f64 {
    let middle = (cell.from + cell.to) / 2.0;
    let off = |i: &(f64, f64)| (i.0 - middle).max(middle - i.1);
    let stretches = j.along(Side::B, j.half_way(Side::B));
    stretches.into_iter().min_by(|p, q| off(p).total_cmp(&off(q))).map_or(0.0, |i| i.1 - i.0)
}

fn judge(j: &Joined, side: Side, left: f64, id: &str, out: &mut Outcome) {
    let t = j.thickness(side);
    let bound = Bound::least(
        "lap-leaves-too-little",
        "remainder_mm",
        REFUSE_PER_THICKNESS * t,
        (WARN_PER_THICKNESS * t).max(WARN_MM),
    );
    if let Some((f, short)) = bound.weigh(id, left, out) {
        out.find(f.have("thickness_mm", t).why(format!(
            "Beside its slot part {} keeps {left:.1} mm of its height, {short:.1} mm too little: it breaks there when it is pressed in.",
            called(j.built, j.panel(side))
        )));
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use crate::finding::Verdict;
    use serde_json::json;

    fn at_height(height: f64, dividers: &str) -> Outcome {
        let mut request = tray();
        request["holders"][0]["height_mm"] = json!(height);
        request["holders"][0]["dividers"] = json!(dividers);
        request["holders"][0]["things"] = json!([]);
        request["things"] = json!([]);
        Scene::of(request).run(run)
    }

    // dividers stand on the floor's upper side, 3.0875, and end at 45: each keeps half of that less half
    // the lap's play of 0.5
    #[test]
    fn dividers_of_a_tray_48_high_keep_more_than_10() {
        let out = at_height(48.0, "fixed");
        assert!(out.findings.is_empty(), "{:#?}", out.findings);
        let least = out.worst_measured()[0].value;
        assert!((least - ((45.0 - 3.0875) / 2.0 - 0.25)).abs() < 1e-6, "{least}");
    }

    #[test]
    fn in_a_low_tray_a_lap_leaves_too_little() {
        let low = at_height(15.0, "fixed");
        assert!(low.findings.iter().any(|f| f.verdict == Verdict::Refuse), "{:?}", low.worst_measured());
        let hooks = at_height(24.0, "removable");
        assert!(!hooks.findings.is_empty(), "{:?}", hooks.worst_measured());
    }
}
