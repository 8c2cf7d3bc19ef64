//! Things stay under the rail, the shelf above, or the lid.

use super::bound::Bound;
use super::held::Held;
use super::outcome::{About, Outcome, Subject};
use super::place::tenth_above;
use crate::assembly::Role;
use crate::geom::DVec3;
use crate::spaces::Kind;
use std::collections::BTreeMap;

/// What this check is about.
pub const ABOUT: About = About {
    name: "height",
    rule: "The top of every thing, with the top clearance, is below the lowest thing that the space passes under.",
    source: "calculated; top clearance is common practice, no source: 4 mm under a drawer's rail, 3 under a lid",
};

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let space = &subject.job.space;
    let clear = clear_height_mm(subject);
    let clearance = clear - space.usable_height_mm();
    let mut highest: BTreeMap<(usize, usize), Held> = BTreeMap::new();
    for h in subject.held() {
        let slot = highest.entry((h.berth.thing, h.holder)).or_insert(h);
        if h.extent(DVec3::Z) > slot.extent(DVec3::Z) {
            *slot = h;
        }
    }
    for h in highest.values() {
        let top = h.extent(DVec3::Z);
        let bound = Bound::most("thing-too-high", "needed_mm", clear, clear);
        let Some((f, missing)) = bound.weigh(&h.at(), top + clearance, out) else { continue };
        let mut why = format!(
            "\"{}\" reaches {top:.1} mm above the space's floor; with {clearance:.1} above it that needs {:.1} mm, and there are {clear:.1}: {missing:.1} mm too low.",
            h.thing.id(),
            top + clearance
        );
        let mut f = f.have("missing_mm", missing);
        if let Some(floor) = floor_under(h) {
            let without = top + clearance - floor;
            f = f.have("needed_without_floor_mm", without);
            why += &format!(" With no floor under it {without:.1} would do.");
            f = f.cure("Leave the floor out: it stands on the space's own.", format!("{}/floor", h.built.at), "none");
        }
        if let Some(field) = height_field(space.kind) {
            let deep = tenth_above(top + clearance);
            f = f.cure(format!("Choose a space with {deep:.1} mm of height."), format!("/space/{field}"), deep);
        }
        out.find(f.why(why));
    }
}

/// Height before the top clearance is taken off.
pub(super) fn clear_height_mm(subject: &Subject) -> f64 {
    let space = &subject.job.space;
    match &space.lid {
        Some(lid) => space.usable_height_mm() + lid.clearance_mm,
        None => space.walls.height_mm.max(space.usable_height_mm()),
    }
}

fn height_field(kind: Kind) -> Option<&'static str> {
    match kind {
        Kind::Drawer | Kind::Shelf => Some("clear_height_mm"),
        Kind::Case | Kind::Free => Some("height_mm"),
    }
}

/// What a thing above a floor comes down by when the floor is left out: the height of its upper face.
fn floor_under(h: &Held) -> Option<f64> {
    let lowest = -h.extent(-DVec3::Z) - h.built.origin.z;
    let floors = h.built.assembly.panels.iter().filter(|p| p.role == Role::Floor);
    floors
        .map(|p| p.slab.frame.origin.z + (p.slab.frame.z.z * p.slab.thickness).max(0.0))
        .find(|top| lowest >= top - STANDS_MM)
}

/// A thing whose lowest point is this near to a floor's face stands on it or above it, mm.
const STANDS_MM: f64 = 0.5;

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, lay, tray_for};
    use super::*;
    use crate::geom::{DVec3, Frame};
    use serde_json::json;

    // trade scenario A07 (calculated): Ø65 × 205 lying under 62, floor 3.10, top clearance 4
    fn can_in(clear_height_mm: f64) -> Outcome {
        let drawer = json!({"kind": "drawer", "width_mm": 330, "depth_mm": 260, "clear_height_mm": clear_height_mm});
        let can = json!({"id": "degreaser", "shape": {"kind": "can", "diameter_mm": 65, "overall_mm": 205, "pressurised": true}});
        let mut scene = Scene::of(tray_for(drawer, json!([can]), 40.0));
        let pose = Frame::new(DVec3::new(50.0, 120.0, 3.1 + 32.5), DVec3::X, DVec3::Y).unwrap();
        lay(&mut scene, 0, pose, DVec3::Z);
        scene.run(run)
    }

    #[test]
    fn an_aerosol_lying_in_a_shallow_drawer() {
        let out = can_in(62.0);
        let f = &out.findings[0];
        let number = |key: &str, of: &[(&'static str, crate::finding::Amount)]| match of
            .iter()
            .find(|k| k.0 == key)
            .map(|k| &k.1)
        {
            Some(crate::finding::Amount::Number(v)) => *v,
            other => panic!("{key}: {other:?}"),
        };
        assert_eq!((f.code, f.place.as_str()), ("thing-too-high", "/things/0"));
        assert!((number("needed_mm", &f.have) - 72.1).abs() < 0.05);
        assert!((number("needed_without_floor_mm", &f.have) - 69.0).abs() < 0.05);
        assert!((number("missing_mm", &f.have) - 10.1).abs() < 0.05);
        assert!(
            f.cures
                .iter()
                .any(|c| c.patch[0].path == "/space/clear_height_mm" && c.patch[0].value == Some(72.1.into()))
        );
        assert!(can_in(72.1).findings.is_empty());
    }
}
