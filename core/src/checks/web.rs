//! Enough material is left between openings, and from an opening or open slot to whatever is next.

use super::bound::Bound;
use super::core_part::Body;
use super::outcome::{About, Outcome, Subject};
use super::place::called;
use crate::finding::Verdict;
use crate::shadow::body::ARC_TOLERANCE_MM;

/// What this check is about.
pub const ABOUT: About = About {
    name: "web",
    rule: "Between two openings or slots, and from an opening to the part's edge, at least 1.5 thicknesses are left, better 2.",
    source: "common practice, no source: refused below 1.5 t, warned about below 2 t",
};

/// A web narrower than this many thicknesses is refused …
const REFUSE_PER_THICKNESS: f64 = 1.5;
/// … and warned about below this many.
const WARN_PER_THICKNESS: f64 = 2.0;

/// Curved openings are drawn by arcs within 0.01 mm, so a web between two is known to this, mm.
const ARCS_MM: f64 = 2.0 * ARC_TOLERANCE_MM;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for built in subject.holders {
        for (p, panel) in built.assembly.panels.iter().enumerate() {
            let t = panel.slab.thickness;
            let Some(web) = Body::of(built, p).and_then(|b| b.web_mm(t)) else { continue };
            let bound = Bound::least("web-too-narrow", "web_mm", REFUSE_PER_THICKNESS * t, WARN_PER_THICKNESS * t)
                .within(ARCS_MM);
            if let Some((f, short)) = bound.weigh(&built.part_code(p), web, out) {
                let refused = f.verdict == Verdict::Refuse;
                out.find(f.have("thickness_mm", t).need("better_mm", WARN_PER_THICKNESS * t).why(format!(
                    "In part {} a web of {web:.2} mm is left between openings, {short:.2} mm too little for a sheet of {t:.2}: it {} break.",
                    called(built, p),
                    if refused { "will" } else { "may" }
                )));
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::with_cuts;
    use super::*;
    use crate::geom::{Contour, DVec2};

    fn comb(pitch: f64) -> Vec<Contour> {
        // six slots 2.8 wide, open at the top of the front wall, whose own y runs up
        (0..6)
            .map(|i| 120.0 + pitch * f64::from(i))
            .map(|x| Contour::rect(DVec2::new(x, 20.0), DVec2::new(x + 2.8, 60.0)))
            .collect()
    }

    fn webs(cuts: Vec<Contour>) -> (f64, Option<Verdict>) {
        let scene = with_cuts("front", &cuts);
        let out = scene.run(run);
        let code = scene.holders[0].part_code(scene.panel(0, "front"));
        let worst = out.measured.iter().filter(|m| m.place == code).map(|m| m.value).fold(f64::INFINITY, f64::min);
        (worst, out.findings.iter().find(|f| f.place == code).map(|f| f.verdict))
    }

    // trade scenario A22: slots of 2.8 at pitch 5.0 in 3.10 leave 2.2 (calculated); 1.5 t = 4.65, 2 t = 6.2
    #[test]
    fn teeth_of_a_comb() {
        let (web, verdict) = webs(comb(5.0));
        assert!((web - 2.2).abs() < 1e-6, "{web}");
        assert_eq!(verdict, Some(Verdict::Refuse));
        assert_eq!(webs(comb(2.8 + 4.66)).1, Some(Verdict::Warn));
        assert_eq!(webs(comb(2.8 + 6.3)).1, None);
    }

    #[test]
    fn between_round_holes_and_to_the_edge() {
        let hole = |x: f64, y: f64| Contour::circle(DVec2::new(x, y), 8.0);
        let (web, verdict) = webs(vec![hole(130.0, 28.0), hole(150.0, 28.0)]);
        assert!((web - 4.0).abs() < 1e-6, "{web}");
        assert_eq!(verdict, Some(Verdict::Refuse));
        // 48 high: 5 is left above a hole whose middle is 13 below the top
        let (web, verdict) = webs(vec![hole(130.0, 35.0)]);
        assert!((web - 5.0).abs() < 1e-6, "{web}");
        assert_eq!(verdict, Some(Verdict::Warn));
        assert_eq!(webs(vec![hole(130.0, 28.0), hole(153.0, 28.0)]).1, None);
    }
}
