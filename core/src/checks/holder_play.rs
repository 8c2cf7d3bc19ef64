//! A holder that is smaller than its space slides about in it.

use super::bound::Bound;
use super::nested::{Between, Corner, corners};
use super::outcome::{About, Outcome, Subject};
use super::place::{has_number, tenth_below};
use crate::geom::DVec3;
use crate::spaces::Plan;

/// What this check is about.
pub const ABOUT: About = About {
    name: "holder-play",
    rule: "Where a space is shaken, its holders have 2 mm of play at most on either side; friction never holds a slam.",
    source: "common practice, no source: side clearance warned about above 2 mm; a mat holds up to 0.9 g",
};

/// Play in all, mm: 2 on either side.
const MOST_MM: f64 = 4.0;

/// What the best mat holds, g.
const MAT_G: f64 = 0.9;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let (space, l) = (&subject.job.space, &subject.job.space.loads);
    let all: Vec<Vec<Corner>> = subject.holders.iter().enumerate().map(|(h, b)| corners(h, b)).collect();
    let together: Vec<Corner> = all.iter().flatten().copied().collect();
    let play = |own: &[Corner], along: fn(&DVec3) -> f64, side: fn(&Plan) -> f64| {
        2.0 * space.clearance_mm - Between::of(own, along, &|z| side(&space.usable(z))).over
    };
    if l.to_back_g.max(l.to_front_g) > 0.0 {
        for (built, own) in subject.holders.iter().zip(&all).filter(|(_, own)| !own.is_empty()) {
            let have = play(own, |p| p.y, |plan| plan.depth_mm);
            let most = built.size.depth_mm + have - 2.0 * space.clearance_mm;
            judge(
                &built.at,
                have,
                l.to_back_g.max(l.to_front_g),
                ("depth_mm", has_number(built, "depth_mm"), most),
                out,
            );
        }
    }
    if let (true, Some(last)) = (l.to_side_g > 0.0 && !together.is_empty(), subject.holders.last()) {
        let have = play(&together, |p| p.x, |plan| plan.width_mm);
        let most = last.size.width_mm + have - 2.0 * space.clearance_mm;
        judge(&last.at, have, l.to_side_g, ("width_mm", has_number(last, "width_mm"), most), out);
    }
}

fn judge(at: &str, have: f64, g: f64, (field, known, most): (&'static str, bool, f64), out: &mut Outcome) {
    let bound = Bound::most("holder-slides", "play_mm", f64::INFINITY, MOST_MM);
    let Some((f, over)) = bound.weigh(at, have, out) else { return };
    let mut f = f.have("thrown_g", g).why(format!(
        "The holder can travel {have:.1} mm, {over:.1} mm more than goes unnoticed. Thrown at {g:.1} g it does, and no mat holds more than {MAT_G} g: fill the gap with a frame."
    ));
    if known {
        let most = tenth_below(most);
        f = f.cure(format!("Make it {most:.1} mm, as large as the space allows."), format!("{at}/{field}"), most);
    }
    out.find(f);
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray_for};
    use super::*;
    use serde_json::json;

    // trade scenario A19: a tray 438.1 deep in a drawer of 440.2 has 2.1 of play; one of 300 has 140.2
    #[test]
    fn a_tray_in_a_slammed_drawer() {
        let play = |depth: f64| {
            let drawer = json!({"kind": "drawer", "width_mm": 330, "depth_mm": 440.2, "clear_height_mm": 96});
            let mut request = tray_for(drawer, json!([]), 50.0);
            request["holders"][0]["depth_mm"] = json!(depth);
            let out = Scene::of(request).run(run);
            (out.worst_measured()[0].value, out.findings)
        };
        let (v, findings) = play(438.1);
        assert!((v - 2.1).abs() < 0.05 && findings.is_empty(), "{v}");
        let (v, findings) = play(300.0);
        assert!((v - 140.2).abs() < 0.05, "{v}");
        assert_eq!(findings[0].cures[0].patch[0].value, Some(438.2.into()));
    }
}
