//! Every part is one sound piece: its outline is simple and closed, and nothing of it hangs on a point.

use super::outcome::{About, Limit, Outcome, Subject};
use super::place::called;
use crate::finding::{Finding, Verdict};
use crate::geom::faults;

/// What this check is about.
pub const ABOUT: About = About {
    name: "one-piece",
    rule: "Each finished part is one piece with a simple outline; nothing hangs on a point.",
    source: "OGC Simple Feature Access part 1 (ISO 19125-1), 6.1.11.1: rings are simple, touch at points at most, interior connected",
};

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for built in subject.holders {
        for (p, finished) in built.finished.panels.iter().enumerate() {
            let found = faults(&finished.region);
            let code = built.part_code(p);
            out.measure(code.as_str(), "outline_faults", found.len() as f64, Limit::Most(0.0));
            let Some(first) = found.first() else { continue };
            out.find(
                Finding::new("outline-unsound", Verdict::Refuse, code)
                    .have("outline_faults", found.len())
                    .need("outline_faults", 0.0)
                    .why(format!("The outline of part {} cannot be cut as one piece: {first}.", called(built, p))),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use crate::geom::{Contour, DVec2};

    #[test]
    fn a_tray_is_sound_and_a_hole_across_the_edge_is_not() {
        let mut scene = Scene::of(tray());
        assert!(scene.run(run).findings.is_empty());
        let region = &mut scene.holders[0].finished.panels[0].region;
        let (lo, _) = region.bounds();
        region.holes.push(Contour::circle(lo + DVec2::new(0.0, 20.0), 5.0).cw());
        let out = scene.run(run);
        assert_eq!(out.findings.len(), 1);
        assert_eq!(out.findings[0].place, "A1");
    }
}
