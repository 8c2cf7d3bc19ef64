//! The drawer's slides carry what is put into it.

use super::bound::Bound;
use super::masses::sum_g;
use super::outcome::{About, Outcome, Subject};

/// What this check is about.
pub const ABOUT: About = About {
    name: "slide-load",
    rule: "Holders and things together weigh no more than the slides carry: half the printed figure in a drawer that is slammed.",
    source: "common practice, no source: half the printed figure for a slammed drawer",
};

/// A drawer that is stopped harder than this counts as slammed, g: a gentle closer makes 0.14.
const SLAMMED_G: f64 = 0.2;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let space = &subject.job.space;
    let Some(payload_g) = space.payload_g else { return };
    let most = payload_g / 1000.0;
    // half the figure is for the slam: the whole figure is what the slides bear at rest
    let printed = if space.slam_g() > SLAMMED_G { 2.0 * most } else { most };
    let kg = (0..subject.holders.len())
        .map(|h| sum_g(&subject.panel_lumps(h)) + sum_g(&subject.content_lumps(h)))
        .sum::<f64>()
        / 1000.0;
    let bound = Bound::most("slides-overloaded", "mass_kg", printed, most);
    if let Some((f, over)) = bound.weigh("/space/slide_capacity_kg", kg, out) {
        out.find(f.have("slides_carry_kg", printed).why(format!(
            "Holders and things weigh {kg:.1} kg, {over:.1} kg more than slides for {printed:.1} kg bear{}.",
            if printed > most { " when the drawer is slammed" } else { "" }
        )));
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use crate::finding::Verdict;
    use serde_json::json;

    #[test]
    fn half_the_figure_is_warned_about_and_the_whole_refused() {
        let at = |grams: f64| {
            let mut request = tray();
            request["space"]["slide_capacity_kg"] = json!(10.0);
            request["things"] =
                json!([{"id": "bolts", "mass_g": grams, "shape": {"kind": "loose", "piece_mm": [9, 9, 9]}}]);
            request["holders"][0]["things"] = json!(["bolts"]);
            Scene::of(request).run(run).findings.first().map(|f| f.verdict)
        };
        assert_eq!([at(3000.0), at(6000.0), at(11000.0)], [None, Some(Verdict::Warn), Some(Verdict::Refuse)]);
    }
}
