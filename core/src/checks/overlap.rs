//! No two finished parts stand in one another, of one holder or of two.

use super::bound::Bound;
use super::outcome::{About, Outcome, Subject};
use super::place::{called, placed_slab};
use crate::assembly::{Joint, PanelId};
use crate::finish::Built;
use crate::geom::{DVec3, Slab};
use crate::solid::{Plate, overlap};
use std::collections::BTreeMap;

/// What this check is about.
pub const ABOUT: About = About {
    name: "overlap",
    rule: "No two finished parts stand in one another by more than 0.02 mm beyond what their fit squeezes.",
    source: "common practice, no source: two hundredths are a third of the closest step between fits",
};

/// How deep parts may stand in one another, mm.
const DEEPEST_MM: f64 = 0.02;

/// One finished part where it stands in the space.
struct Standing<'a> {
    holder: usize,
    panel: usize,
    built: &'a Built,
    slab: Slab,
    lo: DVec3,
    hi: DVec3,
}

impl Standing<'_> {
    fn plate(&self) -> Plate<'_> {
        Plate { slab: &self.slab, region: &self.built.finished.panels[self.panel].region }
    }
}

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let mut parts: Vec<Standing> = vec![];
    for (holder, built) in subject.holders.iter().enumerate() {
        for panel in 0..built.assembly.panels.len() {
            let slab = placed_slab(built, panel);
            let (lo, hi) = Plate { slab: &slab, region: &built.finished.panels[panel].region }.bounds();
            parts.push(Standing { holder, panel, built, slab, lo, hi });
        }
    }
    // swept from the left: a part is compared with those that begin before it ends
    parts.sort_by(|a, b| a.lo.x.total_cmp(&b.lo.x).then((a.holder, a.panel).cmp(&(b.holder, b.panel))));
    let mut found: BTreeMap<(usize, usize, usize, usize), (f64, DVec3)> = BTreeMap::new();
    for (i, a) in parts.iter().enumerate() {
        for b in parts[i + 1..].iter().take_while(|b| b.lo.x <= a.hi.x) {
            let apart = a.lo.cmpgt(b.hi).any() || b.lo.cmpgt(a.hi).any();
            if apart || uncut(subject, (a.holder, a.panel), (b.holder, b.panel)) {
                continue;
            }
            if let Some(o) = overlap(a.plate(), b.plate()) {
                let (p, q) = ((a.holder, a.panel), (b.holder, b.panel));
                let (p, q) = (p.min(q), p.max(q));
                found.insert((p.0, p.1, q.0, q.1), (o.depth_mm - squeeze(subject, p, q), o.at));
            }
        }
    }
    report(subject, &found, out);
}

/// How deep the fit of a pair lets them stand in one another.
fn squeeze(subject: &Subject, p: (usize, usize), q: (usize, usize)) -> f64 {
    if p.0 != q.0 {
        return 0.0;
    }
    let a = &subject.holders[p.0].assembly;
    a.meeting_of(PanelId(p.1), PanelId(q.1)).map_or(0.0, |m| (-a.meetings[m].fit_mm).max(0.0))
}

/// Whether one of a pair should have been joined to something and could not be: that has been refused
/// already, and what is not cut away stands in its neighbours.
fn uncut(subject: &Subject, p: (usize, usize), q: (usize, usize)) -> bool {
    [p, q].into_iter().any(|(holder, panel)| {
        let built = &subject.holders[holder];
        let pairs = built.assembly.meetings.iter().zip(&built.finished.meetings);
        pairs.into_iter().any(|(m, finished)| {
            let mine = m.a == PanelId(panel) || m.b == PanelId(panel);
            mine && m.joint != Joint::Rest && finished.cells.is_empty()
        })
    })
}

type Found = BTreeMap<(usize, usize, usize, usize), (f64, DVec3)>;

fn report(subject: &Subject, found: &Found, out: &mut Outcome) {
    let bound = Bound::most("parts-overlap", "overlap_mm", DEEPEST_MM, DEEPEST_MM);
    for (h, built) in subject.holders.iter().enumerate() {
        let mine = found.iter().filter(|(k, _)| k.0 == h || k.2 == h);
        let worst = mine.map(|(_, (depth, _))| *depth).fold(0.0, f64::max);
        out.measure(built.at.as_str(), "overlap_mm", worst, bound.limit());
    }
    for ((hp, p, hq, q), (depth, at)) in found {
        let (a, b) = (&subject.holders[*hp], &subject.holders[*hq]);
        if let Some((f, over)) = bound.finding(&a.part_code(*p), *depth) {
            out.find(f.have("other_part", b.part_code(*q)).have("at_mm", vec![at.x, at.y, at.z]).why(format!(
                "Parts {} and {} stand {depth:.2} mm in one another, {over:.2} mm more than may be: they cannot both be there.",
                called(a, *p),
                called(b, *q)
            )));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;

    #[test]
    fn a_tray_is_free_of_overlaps_until_a_divider_is_moved() {
        let mut scene = Scene::of(tray());
        assert!(scene.run(run).findings.is_empty());
        let divider = scene.panel(0, "divider along 1");
        scene.holders[0].assembly.panels[divider].slab.frame.origin.x += 0.3;
        let out = scene.run(run);
        assert!(!out.findings.is_empty());
        // its slots were 0.08 wide: 0.04 on either side, so 0.26 deep in their flanks
        let worst = out.worst_measured()[0].value;
        assert!((worst - 0.26).abs() < 0.01, "{worst}");
    }

    #[test]
    fn two_holders_may_touch_but_not_share_room() {
        let mut request = tray();
        request["space"]["width_mm"] = serde_json::json!(500.0);
        request["things"] = serde_json::json!([]);
        request["holders"] = serde_json::json!([
            {"family": "compartments", "width_mm": 200, "columns": 1, "rows": 1},
            {"family": "compartments", "width_mm": 200, "columns": 1, "rows": 1}
        ]);
        let mut scene = Scene::of(request);
        scene.holders[1].origin.x = 200.0;
        assert!(scene.run(run).findings.is_empty(), "{:?}", scene.run(run).findings);
        scene.holders[1].origin.x = 199.0;
        let out = scene.run(run);
        assert!(out.findings.iter().any(|f| f.have[1].1 == "B3".into() && f.place == "A4"), "{:#?}", out.findings);
    }
}
