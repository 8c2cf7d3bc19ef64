//! No liquid stands at an open tip, in any attitude and at any fill; leans keep off the ends of their window.

use super::bound::Bound;
use super::held::Held;
use super::outcome::{About, Outcome, Subject};
use super::place::has_number;
use crate::finding::{Finding, PatchOp};
use crate::geom::DVec3;
use crate::things::{Attitude, Vessel};
use std::collections::BTreeMap;

/// What this check is about.
pub const ABOUT: About = About {
    name: "lean-tip",
    rule: "In every attitude and at every fill from 5 % up to the stated one, the tip of an open bottle is 5 mm above its liquid; a lean keeps 2° off either end of its window.",
    source: "common practice, no source: tip refused under liquid, warned about below 5 mm; a window narrower than 4° is none",
};

/// The tip has to be this far above the liquid, mm.
const TIP_MM: f64 = 5.0;
/// A lean keeps this far off the ends of its window, degrees.
const OFF_ENDS_DEG: f64 = 2.0;
/// Fills are tried in steps of this share.
const FILL_STEP: f64 = 0.05;
/// Steeper than this a thing stands, flatter it lies: no lean to speak of, degrees.
const LEANS_DEG: (f64, f64) = (3.0, 87.0);

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let held = subject.held();
    tips(subject, &held, out);
    windows(subject, &held, out);
}

/// Smallest margin over all fills, and the fill at which it is.
fn worst_fill(vessel: &Vessel, elevation_deg: f64) -> (f64, f64) {
    let steps = (vessel.fill() / FILL_STEP).floor() as usize;
    let fills = (1..=steps).map(|i| i as f64 * FILL_STEP).chain([vessel.fill()]);
    fills
        .map(|f| (vessel.tip_margin_mm(elevation_deg, f), f))
        .fold((f64::INFINITY, 0.0), |w, m| if m.0 < w.0 { m } else { w })
}

fn tips(subject: &Subject, held: &[Held], out: &mut Outcome) {
    let mut known: BTreeMap<(usize, u64), (f64, f64)> = BTreeMap::new();
    for attitude in &subject.job.space.attitudes {
        let mut worst: BTreeMap<(usize, usize), (f64, f64, f64, &Held)> = BTreeMap::new();
        for h in held {
            let Some(vessel) = h.thing.liquid().filter(|_| h.thing.can_drip()) else { continue };
            let elevation = attitude.nose_elevation_deg(h.pose.z);
            let (margin, fill) =
                *known.entry((h.berth.thing, elevation.to_bits())).or_insert_with(|| worst_fill(vessel, elevation));
            let slot = worst.entry((h.berth.thing, h.holder)).or_insert((f64::INFINITY, 0.0, 0.0, h));
            if margin < slot.0 {
                *slot = (margin, fill, elevation, h);
            }
        }
        for (margin, fill, elevation, h) in worst.values() {
            let bound = Bound::least("tip-under-liquid", "tip_above_liquid_mm", 0.0, TIP_MM);
            if let Some((f, short)) = bound.weigh(&h.at(), *margin, out) {
                let f = f
                    .have("attitude", attitude.word())
                    .have("nose_deg", *elevation)
                    .have("fill", *fill)
                    .need("better_mm", TIP_MM)
                    .why(said(h, *attitude, *margin, *elevation, *fill, short));
                out.find(cures(f, h, *attitude));
            }
        }
    }
}

fn said(h: &Held, attitude: Attitude, margin: f64, elevation: f64, fill: f64, short: f64) -> String {
    let where_to = if elevation >= 0.0 { format!("{elevation:.0}° up") } else { format!("{:.0}° down", -elevation) };
    let tip = if margin < 0.0 {
        format!("its tip is {:.1} mm under liquid", -margin)
    } else {
        format!("its tip is only {margin:.1} mm above liquid")
    };
    format!(
        "\"{}\" {}: its nose points {where_to}, and {:.0} % full {tip}, {short:.1} mm too low.",
        h.thing.id(),
        if attitude == Attitude::Flat { "as it stands".to_owned() } else { format!("turned {}", attitude.word()) },
        fill * 100.0
    )
}

fn cures(f: Finding, h: &Held, attitude: Attitude) -> Finding {
    let mut f = f;
    let lean = h.thing.liquid().and_then(|v| v.lean_min_for_margin(TIP_MM));
    if let (Attitude::Flat, Some(least), true) = (attitude, lean, has_number(h.built, "lean_deg")) {
        let steeper = (least + OFF_ENDS_DEG).ceil();
        f = f.cure(format!("Lean it {steeper:.0}°."), format!("{}/lean_deg", h.built.at), steeper);
    }
    let capped = PatchOp { op: "add", path: format!("{}/shape/capped", h.at()), value: Some(true.into()) };
    f.cure_with("Put it away capped.", vec![capped])
}

fn windows(subject: &Subject, held: &[Held], out: &mut Outcome) {
    let mut seen: BTreeMap<(usize, usize, u64), &Held> = BTreeMap::new();
    for h in held {
        let lean = h.lean_deg();
        if h.thing.can_drip() && lean > LEANS_DEG.0 && lean < LEANS_DEG.1 {
            seen.entry((h.berth.thing, h.holder, lean.to_bits())).or_insert(h);
        }
    }
    for h in seen.values() {
        let lean = h.lean_deg();
        let clear = subject.job.space.usable_height_mm() + h.extent(-DVec3::Z);
        let window = h.berth.solid.lean_window(h.thing.liquid(), TIP_MM, clear);
        let Some((lo, hi)) = window.open_deg.iter().copied().find(|w| w.0 <= lean && lean <= w.1) else {
            // outside of any window: too high or under liquid, which other checks have measured
            continue;
        };
        // lying and standing are no ends: there a window is closed by nothing
        let off = (if lo > 0.0 { lean - lo } else { 90.0 }).min(if hi < 90.0 { hi - lean } else { 90.0 });
        let bound = Bound::least("lean-near-end", "off_end_deg", f64::NEG_INFINITY, OFF_ENDS_DEG);
        if let Some((f, short)) = bound.weigh(&h.at(), off, out) {
            let mut f = f.have("lean_deg", lean).need("window_deg", vec![lo, hi]).why(format!(
                "\"{}\" leans {lean:.1}° where {lo:.1} to {hi:.1}° would do: {short:.1}° nearer to an end than measures are sure.",
                h.thing.id()
            ));
            if has_number(h.built, "lean_deg") {
                let middle = ((lo + hi) / 2.0).round();
                f = f.cure(format!("Lean it {middle:.0}°."), format!("{}/lean_deg", h.built.at), middle);
            }
            out.find(f);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, lay, tray_for};
    use super::*;
    use crate::finding::Verdict;
    use crate::geom::Frame;
    use crate::things::nose_direction;
    use serde_json::{Value, json};

    /// A lube bottle of Ø38 × 92, overall 138, tip 6, bore 2, wall 1.1, 95 % full.
    fn bottle(capped: bool) -> Value {
        json!({"id": "wet lube", "fill": 0.95, "shape": {"kind": "bottle", "diameter_mm": 38, "body_mm": 92,
            "overall_mm": 138, "tip_diameter_mm": 6, "bore_mm": 2, "wall_mm": 1.1, "capped": capped}})
    }

    fn leaning(space: Value, lean: f64, heading: f64, capped: bool) -> Outcome {
        let mut scene = Scene::of(tray_for(space, json!([bottle(capped)]), 40.0));
        let nose = nose_direction(lean, heading);
        let pose = Frame::new(DVec3::new(150.0, 130.0, 20.0), nose, DVec3::X).unwrap();
        lay(&mut scene, 0, pose, nose);
        scene.run(run)
    }

    fn drawer(height: f64) -> Value {
        json!({"kind": "drawer", "width_mm": 330, "depth_mm": 260, "clear_height_mm": height})
    }

    // trade scenario A08: at 30° the tip is 20.0 above the liquid (sliced elsewhere)
    #[test]
    fn at_thirty_degrees_the_tip_is_clear() {
        let out = leaning(drawer(120.0), 30.0, 270.0, false);
        let tip = out.measured.iter().find(|m| m.what == "tip_above_liquid_mm").unwrap();
        assert!((tip.value - 20.0).abs() < 0.2, "{}", tip.value);
        assert!(out.findings.is_empty(), "{:#?}", out.findings);
    }

    // trade scenario A11: a case that is carried by a handle on its front; noses at 35° to the hinge, along
    // the side, to the handle (sliced elsewhere: 24.61 flat, −14.34 level less axis, 39.85)
    #[test]
    fn carried_on_its_edge_only_noses_to_the_handle_are_dry() {
        let case = || json!({"kind": "case", "floor_mm": [372, 262], "slope_deg": 5, "height_mm": 140, "attitudes": ["flat", "front-up"]});
        let tip = |heading: f64| {
            let out = leaning(case(), 35.0, heading, false);
            let all: Vec<f64> =
                out.measured.iter().filter(|m| m.what == "tip_above_liquid_mm").map(|m| m.value).collect();
            (all[0], all[1], out.findings.iter().map(|f| f.verdict).collect::<Vec<_>>())
        };
        let (flat, hinge, verdicts) = tip(90.0);
        assert!((flat - 24.61).abs() < 0.2, "{flat}");
        assert!(hinge < -50.0 && verdicts == [Verdict::Refuse], "{hinge}");
        // axis −14.34 above the level; the lower lip of the bore of 2 is 1 below its middle
        let (_, along, verdicts) = tip(0.0);
        assert!((along - (-14.34 - 1.0)).abs() < 0.2 && verdicts == [Verdict::Refuse], "{along}");
        let (_, handle, verdicts) = tip(270.0);
        assert!((handle - 39.85).abs() < 0.2 && verdicts.is_empty(), "{handle}");
        assert!(leaning(case(), 35.0, 0.0, true).findings.is_empty());
    }

    #[test]
    fn a_lean_at_the_end_of_its_window_is_warned_about() {
        let codes = |out: Outcome| out.findings.iter().map(|f| f.code).collect::<Vec<_>>();
        let solid = 138.0_f64;
        // 30° under a height that allows 31°: no room for the measures
        let top = solid * 31.0_f64.to_radians().sin() + 22.0 * 31.0_f64.to_radians().cos();
        let low = 19.0 * 30.0_f64.to_radians().cos();
        assert_eq!(codes(leaning(drawer(top + 20.0 - low + 4.0), 30.0, 270.0, false)), ["lean-near-end"]);
    }
}
