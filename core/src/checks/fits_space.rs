//! Every holder fits its space, at every height, and passes the way in.

use super::bound::Bound;
use super::nested::{Between, Corner, Nested, corners};
use super::outcome::{About, Outcome, Subject};
use super::place::{called, has_number, tenth_below};
use crate::finish::Built;
use crate::geom::DVec3;
use crate::spaces::Entry;

/// What this check is about.
pub const ABOUT: About = About {
    name: "fits-space",
    rule: "All holders together lie within what the space leaves at every height after skew and clearances, \
           and each passes the way in.",
    source: "calculated; clearances are common practice, no source: drawer 1.0 a side, case 1.5 a side",
};

/// Sizes that are equal but for rounding, mm.
const ROUNDING_MM: f64 = 1e-6;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let all: Vec<Corner> = subject.holders.iter().enumerate().flat_map(|(h, b)| corners(h, b)).collect();
    if all.is_empty() {
        return;
    }
    let space = &subject.job.space;
    let inside = Nested::of(&all, &|z| space.usable(z));
    sides(subject, &inside, out);
    if inside.x.over.max(inside.y.over) <= ROUNDING_MM {
        round_corners(subject, &inside, out);
    }
    for (h, built) in subject.holders.iter().enumerate() {
        let own: Vec<Corner> = all.iter().filter(|c| c.holder == h).copied().collect();
        heights(subject, built, &own, out);
        way_in(subject, built, &own, out);
    }
}

fn sides(subject: &Subject, inside: &Nested, out: &mut Outcome) {
    for (b, field, code, what) in
        [(inside.x, "width_mm", "holder-too-wide", "in width"), (inside.y, "depth_mm", "holder-too-deep", "in depth")]
    {
        let built = &subject.holders[b.holder];
        let Some((f, over)) = Bound::most(code, "over_mm", 0.0, 0.0).weigh(&built.at, b.over, out) else { continue };
        let all = if subject.holders.len() > 1 { "The holders together are" } else { "The holder is" };
        let mut f = f.have(field, b.have).need(field, b.need).why(format!(
            "{all} {:.1} mm {what} where the space leaves {:.1} after clearances: {over:.1} mm too much.",
            b.have, b.need
        ));
        let now = if field == "width_mm" { built.size.width_mm } else { built.size.depth_mm };
        let then = tenth_below(now - over);
        if has_number(built, field) && then > 0.0 {
            f = f.cure(
                format!("Make this holder {then:.1} mm {what} instead of {now:.1}."),
                format!("{}/{field}", built.at),
                then,
            );
        }
        out.find(f);
    }
}

/// What stands within straight walls may still hit round corners.
fn round_corners(subject: &Subject, inside: &Nested, out: &mut Outcome) {
    let Some((worst, c)) = inside.round else { return };
    let built = &subject.holders[c.holder];
    let bound = Bound::most("holder-hits-corner", "over_mm", 0.0, 0.0);
    if let Some((f, over)) = bound.weigh(&built.at, worst, out) {
        let radius = subject.job.space.usable(c.p.z).corner_radius_mm;
        out.find(f.have("part", built.part_code(c.panel)).have("corner_radius_mm", radius).why(format!(
            "Part {} stands {over:.2} mm in the rounded corner of the space: a square corner must keep 0.293 of the radius off either side.",
            called(built, c.panel)
        )));
    }
}

fn heights(subject: &Subject, built: &Built, own: &[Corner], out: &mut Outcome) {
    let most = subject.job.space.usable_height_mm();
    let top = own.iter().map(|c| c.p.z).fold(f64::NEG_INFINITY, f64::max);
    let low = own.iter().map(|c| c.p.z).fold(f64::INFINITY, f64::min);
    if let Some((f, over)) = Bound::most("holder-too-high", "height_mm", most, most).weigh(&built.at, top, out) {
        let mut f =
            f.why(format!("The holder is {top:.1} mm high where the space leaves {most:.1}: {over:.1} mm too much."));
        let then = tenth_below(built.size.height_mm - over);
        if has_number(built, "height_mm") && then > 0.0 {
            f = f.cure(format!("Make it {then:.1} mm high."), format!("{}/height_mm", built.at), then);
        }
        out.find(f);
    }
    if let Some((f, under)) = Bound::least("holder-below-floor", "lowest_mm", 0.0, 0.0).weigh(&built.at, low, out) {
        out.find(f.why(format!("The holder reaches {under:.1} mm below the floor of its space.")));
    }
}

/// The holder alone, as it is put in: through a rim from above, or through an opening from the front.
fn way_in(subject: &Subject, built: &Built, own: &[Corner], out: &mut Outcome) {
    let (over, through) = match subject.job.space.entry {
        Entry::Above(plan) => (Nested::of(own, &|_| plan).worst(), [plan.width_mm, plan.depth_mm]),
        Entry::Front { width_mm, height_mm } => {
            let room = |along: fn(&DVec3) -> f64, most: f64| Between::of(own, along, &|_| most).over;
            (room(|p| p.x, width_mm).max(room(|p| p.z, height_mm)), [width_mm, height_mm])
        }
        Entry::Anywhere => return,
    };
    if let Some((f, over)) = Bound::most("does-not-pass", "way_in_over_mm", 0.0, 0.0).weigh(&built.at, over, out) {
        out.find(f.need("way_in_mm", through.to_vec()).why(format!(
            "The holder is {over:.1} mm too large for the way in, which leaves {:.1} × {:.1} mm: inside there may be room for it, but it cannot be put there.",
            through[0], through[1]
        )));
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use serde_json::{Value, json};

    fn plain(space: Value, holder: Value) -> Value {
        let mut request = tray();
        request["space"] = space;
        request["things"] = json!([]);
        request["holders"] = json!([holder]);
        request
    }

    #[test]
    fn a_tray_made_for_its_drawer_fits_and_one_too_wide_does_not() {
        let scene = Scene::of(tray());
        assert!(scene.run(run).findings.is_empty(), "{:#?}", scene.run(run).findings);
        let drawer = json!({"kind": "drawer", "width_mm": 300, "depth_mm": 250, "clear_height_mm": 60});
        let out = Scene::of(plain(
            drawer,
            json!({"family": "compartments", "width_mm": 299.5, "depth_mm": 248, "height_mm": 57}),
        ))
        .run(run);
        let found: Vec<(&str, f64)> = out
            .findings
            .iter()
            .map(|f| {
                (
                    f.code,
                    out.measured
                        .iter()
                        .filter(|m| m.limit == super::super::Limit::Most(0.0))
                        .map(|m| m.value)
                        .fold(0.0, f64::max),
                )
            })
            .collect();
        // 300 − 2 · 1.0 = 298, and 60 − 4 = 56
        assert_eq!(
            found.iter().map(|f| f.0).collect::<Vec<_>>(),
            ["holder-too-wide", "holder-too-high", "does-not-pass"]
        );
        assert!((found[0].1 - 1.5).abs() < 1e-6, "{found:?}");
        let cure = &out.findings[0].cures[0].patch[0];
        assert_eq!((cure.path.as_str(), cure.value.clone()), ("/holders/0/width_mm", Some(298.0.into())));
    }

    // trade scenario A03 (calculated): floor 372 × 262, walls out by 5°, 1.5 a side: a straight tray on the
    // floor is at most 369.0 × 259.0
    #[test]
    fn in_a_case_the_lowest_edge_rules() {
        let case = || json!({"kind": "case", "floor_mm": [372, 262], "slope_deg": 5, "height_mm": 98});
        let tray = |w: f64| {
            plain(case(), json!({"family": "compartments", "width_mm": w, "depth_mm": 259.0, "height_mm": 60}))
        };
        assert!(Scene::of(tray(369.0)).run(run).findings.is_empty());
        let out = Scene::of(tray(369.4)).run(run);
        assert_eq!(out.findings.iter().map(|f| f.code).collect::<Vec<_>>(), ["holder-too-wide"]);
        assert!((out.worst_measured()[0].value - 0.4).abs() < 1e-6);
        // lifted by 60 a tray may be 379.5 wide (379.499)
        let mut scene = Scene::of(tray(379.49));
        scene.holders[0].origin = DVec3::new(-5.25, 0.0, 60.0);
        let out = scene.run(run);
        assert!(!out.findings.iter().any(|f| f.code == "holder-too-wide"), "{:#?}", out.findings);
    }

    #[test]
    fn a_round_corner_takes_0_293_of_its_radius() {
        let space = |r: f64| json!({"kind": "drawer", "width_mm": 302, "depth_mm": 252, "clear_height_mm": 60, "corner_radius_mm": r});
        let holder = |w: f64, d: f64| json!({"family": "compartments", "width_mm": w, "depth_mm": d, "height_mm": 40});
        // clearance makes the radius of 11 one of 10: 2.93 a side
        assert!(Scene::of(plain(space(11.0), holder(294.1, 244.1))).run(run).findings.is_empty());
        let out = Scene::of(plain(space(11.0), holder(300.0, 250.0))).run(run);
        let f = out.findings.iter().find(|f| f.code == "holder-hits-corner").unwrap();
        let over = out.measured.iter().find(|m| m.place == f.place && m.value > 1.0).unwrap().value;
        assert!((over - 10.0 * (2.0_f64.sqrt() - 1.0)).abs() < 1e-3, "{over}");
    }

    #[test]
    fn a_shelf_with_a_lip_must_be_passed() {
        let shelf =
            json!({"kind": "shelf", "width_mm": 400, "depth_mm": 260, "clear_height_mm": 200, "opening_height_mm": 80});
        let out = Scene::of(plain(
            shelf,
            json!({"family": "compartments", "width_mm": 300, "depth_mm": 200, "height_mm": 90}),
        ))
        .run(run);
        assert_eq!(out.findings.iter().map(|f| f.code).collect::<Vec<_>>(), ["does-not-pass"]);
    }
}
