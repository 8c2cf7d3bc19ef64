//! A holder that stands free does not tip over, full or with only some of its things in it.

use super::bound::Bound;
use super::masses::Lump;
use super::nested::{Corner, corners};
use super::outcome::{About, Limit, Outcome, Subject};
use crate::finding::{Finding, Verdict};
use crate::geom::{DVec2, hull};
use crate::spaces::Kind;

/// What this check is about.
pub const ABOUT: About = About {
    name: "tipping",
    rule: "A free-standing holder, full, can be tilted by 15° to any side before it tips, better 20; with only the worst of its things in it by 10.",
    source: "limits: common practice, no source; tan θ = b/h (university physics: a block tips when its centre of mass passes its edge)",
};

/// Refused below this angle …
const REFUSE_DEG: f64 = 10.0;
/// … warned about below this one.
const WARN_DEG: f64 = 15.0;

/// Corners this near to the lowest one stand on the ground, mm.
const STANDS_MM: f64 = 0.2;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    if !matches!(subject.job.space.kind, Kind::Free | Kind::Shelf) {
        return;
    }
    for (h, built) in subject.holders.iter().enumerate() {
        let feet = corners(h, built);
        let (panels, things) = (subject.panel_lumps(h), subject.content_lumps(h));
        let Some((full, least)) = angles(&feet, &panels, &things) else { continue };
        let bound = Bound::least("holder-tips", "tipping_deg", REFUSE_DEG, WARN_DEG);
        let found = bound.weigh(&built.at, full, out);
        if let Some((f, short)) = found {
            out.find(f.have("worst_deg", least).why(format!(
                "Full it tips at {full:.1}°, {short:.1}° too soon: it stands too narrow for its height."
            )));
            continue;
        }
        out.measure(built.at.as_str(), "tipping_half_empty_deg", least, Limit::Least(REFUSE_DEG));
        if least < REFUSE_DEG {
            out.find(
                Finding::new("holder-tips-half-empty", Verdict::Warn, built.at.as_str())
                    .have("tipping_deg", least)
                    .need("tipping_deg", REFUSE_DEG)
                    .why(format!(
                        "With some of its things taken out it tips at {least:.1}°, {:.1}° too soon (full: {full:.1}°): heavy things to the middle.",
                        REFUSE_DEG - least
                    )),
            );
        }
    }
}

/// Angle at which it tips full, and with the worst choice of things in it; `None` when it has no foot.
fn angles(all: &[Corner], panels: &[Lump], things: &[Lump]) -> Option<(f64, f64)> {
    let ground = all.iter().map(|c| c.p.z).fold(f64::INFINITY, f64::min);
    let feet: Vec<DVec2> = all.iter().filter(|c| c.p.z <= ground + STANDS_MM).map(|c| c.p.truncate()).collect();
    let base = hull(&feet);
    if base.len() < 3 {
        return None;
    }
    let (mut full, mut least) = (90.0_f64, 90.0_f64);
    for (i, a) in base.iter().enumerate() {
        let edge = base[(i + 1) % base.len()] - *a;
        let Some(inward) = edge.perp().try_normalize() else { continue };
        // lever arms: inside the edge, and above the ground
        let arms = |l: &Lump| (l.mass_g * inward.dot(l.at.truncate() - *a), l.mass_g * (l.at.z - ground));
        let sum = |s: (f64, f64), l: &Lump| {
            let (d, h) = arms(l);
            (s.0 + d, s.1 + h)
        };
        let own = panels.iter().fold((0.0, 0.0), sum);
        let all = things.iter().fold(own, sum);
        full = full.min(libm::atan2(all.0, all.1).to_degrees());
        // the worst choice: everything that lowers the ratio that it leads to (Dinkelbach's rounds)
        let mut ratio = own.0 / own.1.max(1e-9);
        for _ in 0..things.len() + 1 {
            let chosen = things.iter().filter(|l| arms(l).0 < ratio * arms(l).1).fold(own, sum);
            let next = chosen.0 / chosen.1.max(1e-9);
            if next >= ratio - 1e-12 {
                break;
            }
            ratio = next;
        }
        least = least.min(libm::atan(ratio).to_degrees());
    }
    Some((full, least))
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, lay, tray_for};
    use super::*;
    use crate::geom::{DVec3, Frame};
    use serde_json::json;

    fn lump(mass_g: f64, x: f64, y: f64, z: f64) -> Lump {
        Lump { mass_g, at: DVec3::new(x, y, z), low: 0.0 }
    }

    fn feet(w: f64, d: f64) -> Vec<Corner> {
        [(0.0, 0.0), (w, 0.0), (w, d), (0.0, d)]
            .map(|(x, y)| Corner { p: DVec3::new(x, y, 0.0), holder: 0, panel: 0 })
            .to_vec()
    }

    // Essential University Physics, 3rd ed., ch. 12, problem 48: a block whose half width is a quarter and whose
    // centre half of its height tips at 26.565°
    #[test]
    fn a_block_twice_as_high_as_wide() {
        let (full, _) = angles(&feet(50.0, 200.0), &[lump(1000.0, 25.0, 100.0, 50.0)], &[]).unwrap();
        assert!((full - 26.565).abs() < 1e-3, "{full}");
    }

    #[test]
    fn the_worst_choice_of_things_is_found() {
        let own = [lump(200.0, 100.0, 50.0, 20.0)];
        let things = [lump(500.0, 100.0, 4.0, 60.0), lump(500.0, 100.0, 96.0, 60.0), lump(50.0, 100.0, 50.0, 5.0)];
        let (full, least) = angles(&feet(200.0, 100.0), &own, &things).unwrap();
        let every: Vec<f64> = (0..8)
            .map(|mask: usize| {
                let some: Vec<Lump> = (0..3).filter(|i| mask & (1 << i) != 0).map(|i| things[i]).collect();
                angles(&feet(200.0, 100.0), &[&own[..], &some].concat(), &[]).unwrap().0
            })
            .collect();
        let want = every.iter().copied().fold(90.0, f64::min);
        assert!((least - want).abs() < 1e-9 && least < full - 5.0, "{least} of {every:?}, full {full}");
    }

    #[test]
    fn a_narrow_tray_with_a_tall_can_tips() {
        let tip = |depth: f64| {
            let free = json!({"kind": "free", "width_mm": 300, "depth_mm": 200, "height_mm": 400});
            let can = json!({"id": "polish", "shape": {"kind": "can", "diameter_mm": 40, "overall_mm": 250}});
            let mut request = tray_for(free, json!([can]), 40.0);
            request["holders"][0]["width_mm"] = json!(150.0);
            request["holders"][0]["depth_mm"] = json!(depth);
            let mut scene = Scene::of(request);
            let pose = Frame { origin: DVec3::new(75.0, depth / 2.0, 3.1), ..Frame::WORLD };
            lay(&mut scene, 0, pose, DVec3::Z);
            scene.run(run).findings.first().map(|f| f.verdict)
        };
        assert_eq!(tip(160.0), None);
        assert!(tip(48.0).is_some());
    }
}
