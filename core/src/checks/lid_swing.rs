//! Nothing stands in the way of a lid as it swings shut.

use super::bound::Bound;
use super::held::Held;
use super::nested::corners;
use super::outcome::{About, Outcome, Subject};
use crate::geom::DVec3;
use crate::spaces::Side;
use crate::things::Solid;

/// What this check is about.
pub const ABOUT: About = About {
    name: "lid-swing",
    rule: "What stands above the rim keeps 1.5 mm off the lid's far wall as the lid swings shut.",
    source: "calculated; clearance beside a swinging lid is common practice, no source: refused below 0.5, warned about below 1.5",
};

/// Refused below this, mm …
const REFUSE_MM: f64 = 0.5;
/// … warned about below this.
const WARN_MM: f64 = 1.5;

/// Places looked at on a round rim: between two of them it bulges by less than a thousandth of its radius.
const PLACES: usize = 72;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let space = &subject.job.space;
    let Some(lid) = &space.lid else { return };
    let (rim, bare) = (space.walls.height_mm, space.walls.at(space.walls.height_mm));
    let base = space.usable(0.0);
    let centre = DVec3::new(base.width_mm / 2.0, base.depth_mm / 2.0, 0.0);
    let margin = |p: DVec3| {
        let q = p - centre;
        let from_hinge = match lid.hinge {
            Side::Back => bare.depth_mm / 2.0 - q.y,
            Side::Front => bare.depth_mm / 2.0 + q.y,
            Side::Left => bare.width_mm / 2.0 + q.x,
            Side::Right => bare.width_mm / 2.0 - q.x,
        };
        lid.swing_margin_mm(from_hinge, p.z - rim)
    };
    for (h, built) in subject.holders.iter().enumerate() {
        let worst = corners(h, built).iter().map(|c| margin(c.p)).fold(f64::INFINITY, f64::min);
        judge(&built.at, "The holder", worst, out);
    }
    for h in subject.held() {
        if h.extent(DVec3::Z) > rim {
            let worst = outline(&h).into_iter().map(margin).fold(f64::INFINITY, f64::min);
            judge(&h.at(), &format!("\"{}\"", h.thing.id()), worst, out);
        }
    }
}

fn judge(at: &str, who: &str, worst: f64, out: &mut Outcome) {
    if worst == f64::INFINITY {
        return;
    }
    let bound = Bound::least("lid-hits", "beside_lid_mm", REFUSE_MM, WARN_MM);
    if let Some((f, short)) = bound.weigh(at, worst, out) {
        out.find(f.why(format!(
            "{who} comes within {worst:.1} mm of the lid's far wall as it swings shut, {short:.1} mm too near: put it nearer to the hinge, or lower."
        )));
    }
}

/// Points on the outside of a thing that stand out farthest.
fn outline(h: &Held) -> Vec<DVec3> {
    match &h.berth.solid {
        Solid::Revolution(r) => {
            let ring = |(z, r): &(f64, f64)| {
                let (z, r) = (*z, *r);
                (0..PLACES).map(move |k| {
                    let (s, c) = libm::sincos(std::f64::consts::TAU * k as f64 / PLACES as f64);
                    DVec3::new(r * c, r * s, z)
                })
            };
            r.profile().iter().flat_map(ring).map(|p| h.pose.out(p)).collect()
        }
        Solid::Prism(p) => {
            let corners = p.section().vertices.iter().map(|v| v.p);
            corners.flat_map(|c| [0.0, p.height()].map(|z| h.pose.out(c.extend(z)))).collect()
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, lay, tray_for};
    use super::*;
    use crate::finding::Verdict;
    use crate::geom::Frame;
    use serde_json::json;

    // a can whose top is 30 above the rim and whose front edge is d from the hinge needs √(d² + 30²) of lid:
    // in a case 262 deep (calculated)
    #[test]
    fn a_can_near_the_front_is_hit() {
        let at = |y: f64| {
            let case = json!({"kind": "case", "floor_mm": [372, 262], "height_mm": 98, "slope_deg": 0, "attitudes": ["flat"],
                "lid": {"depth_mm": 60, "hinge": "back"}});
            let can = json!({"id": "polish", "shape": {"kind": "can", "diameter_mm": 40, "overall_mm": 124.9}});
            let mut scene = Scene::of(tray_for(case, json!([can]), 60.0));
            lay(&mut scene, 0, Frame { origin: DVec3::new(100.0, y, 3.1), ..Frame::WORLD }, DVec3::Z);
            let out = scene.run(run);
            let m = out.measured.iter().find(|m| m.place == "/things/0").unwrap().value;
            (m, out.findings.first().map(|f| f.verdict))
        };
        // zero is 1.5 behind the inside front: the front edge at y − 20 is 262 − 1.5 − y + 20 from the hinge
        let (m, verdict) = at(60.0);
        let want = 262.0 - libm::hypot(262.0 - 1.5 - 40.0, 30.0);
        assert!((m - want).abs() < 0.02 && verdict.is_none(), "{m} for {want}");
        let (m, verdict) = at(21.6);
        assert!(m < 1.5 && verdict.is_some(), "{m}");
        assert_eq!(at(20.0).1, Some(Verdict::Refuse));
    }
}
