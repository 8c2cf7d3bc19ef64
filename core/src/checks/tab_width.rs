//! Tabs are wide enough not to break off.

use super::bound::Bound;
use super::features::Joined;
use super::outcome::{About, Outcome, Subject};
use super::place::called;
use crate::assembly::Joint;
use crate::finding::Verdict;

/// What this check is about.
pub const ABOUT: About = About {
    name: "tab-width",
    rule: "Each tab, and the ear of each hook, is at least 2 thicknesses of its own sheet wide, better 3.",
    source: "common practice, no source: refused below 2 t, warned about below 3 t",
};

/// A tab narrower than this many thicknesses is refused …
const REFUSE_PER_THICKNESS: f64 = 2.0;
/// … and warned about below this many.
const WARN_PER_THICKNESS: f64 = 3.0;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for (h, built) in subject.holders.iter().enumerate() {
        for j in Joined::all(built).filter(|j| matches!(j.meeting.joint, Joint::Tab { .. } | Joint::Hook { .. })) {
            let Some((narrowest, cell)) = j.cells.iter().map(|c| (j.width_mm(c), c)).min_by(|a, b| a.0.total_cmp(&b.0))
            else {
                continue;
            };
            let t = j.thickness(cell.owner);
            let bound = Bound::least("tab-too-narrow", "tab_mm", REFUSE_PER_THICKNESS * t, WARN_PER_THICKNESS * t);
            if let Some((f, short)) = bound.weigh(&subject.joint_id(h, j.index), narrowest, out) {
                let per = if f.verdict == Verdict::Refuse { REFUSE_PER_THICKNESS } else { WARN_PER_THICKNESS };
                out.find(f.have("thickness_mm", t).why(format!(
                    "A tab of part {} is {narrowest:.1} mm wide, {short:.1} mm less than {per} thicknesses of its sheet: it breaks off.",
                    called(built, j.panel(cell.owner)),
                )));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use crate::geom::{Contour, DVec2, subtract};

    #[test]
    fn a_tab_that_something_bites_into_is_measured_on_its_outline() {
        let mut scene = Scene::of(tray());
        let out = scene.run(run);
        assert!(out.findings.iter().all(|f| f.verdict < Verdict::Refuse), "{:#?}", out.findings);
        let divider = scene.panel(0, "divider along 1");
        let j = Joined::all(&scene.holders[0]).find(|j| j.meeting.a.0 == divider && j.cells.len() > 1).unwrap();
        let (cell, before) = (j.cells[0], j.width_mm(&j.cells[0]));
        let (from, half) = ((cell.from + cell.to) / 2.0 + 1.0, j.half_way(cell.owner));
        let f = j.x.slab(cell.owner).frame;
        let flat = |s: f64| {
            let p = f.into_own(j.x.e * s + j.x.across(cell.owner) * half);
            DVec2::new(p.x, p.y)
        };
        let (a, b) = (flat(from), flat(cell.to + 0.5));
        let wide = DVec2::splat(3.0) * (b - a).perp().normalize().abs();
        let bite = Contour::rect(a.min(b) - wide, a.max(b) + wide);
        let region = &scene.holders[0].finished.panels[divider].region;
        let bitten = subtract(region, &[bite]).remove(0);
        scene.holders[0].finished.panels[divider].region = bitten;
        let out = scene.run(run);
        let refused: Vec<_> = out.findings.iter().filter(|f| f.verdict == Verdict::Refuse).collect();
        assert_eq!(refused.len(), 1, "{:#?}", out.findings);
        let have = out.worst_measured()[0].value;
        assert!((have - (before / 2.0 + 1.0)).abs() < 1e-6, "{have} of {before}");
    }
}
