//! A hand reaches what stands at the back of a drawer that does not come out all the way.

use super::held::Held;
use super::outcome::{About, Limit, Outcome, Subject};
use crate::finding::{Finding, Verdict};
use crate::geom::DVec3;
use std::collections::BTreeMap;

/// What this check is about.
pub const ABOUT: About = About {
    name: "reach",
    rule: "When the drawer is pulled out, the place where a thing is taken is in the open; nothing stands wholly under what is above.",
    source: "common practice, no source",
};

/// A compartment of which less than this is in the open is reached with the fingertips only, mm (the
/// smallest side of a compartment that fingers reach into).
const OPEN_MM: f64 = 35.0;

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let space = &subject.job.space;
    // places count from the front of the usable floor, a clearance behind the inside front
    let open = space.reach_mm - space.clearance_mm;
    let mut worst: BTreeMap<usize, (f64, f64, usize)> = BTreeMap::new();
    for h in subject.held() {
        let (front, grip) = (-h.extent(-DVec3::Y), grip_y(&h));
        note(&mut worst, h.berth.thing, front - open, grip - open);
    }
    for l in subject.lying() {
        let front = l.bay.y.0 + l.built.origin.y;
        let back = l.bay.y.1 + l.built.origin.y;
        note(&mut worst, l.index, front - open, front + OPEN_MM.min(back - front) - open);
    }
    for (thing, (front, grip, places)) in worst {
        let at = format!("/things/{thing}");
        out.measure(at.as_str(), "out_of_reach_mm", grip, Limit::Most(0.0));
        if grip <= 1e-6 {
            continue;
        }
        let id = subject.job.things[thing].id();
        let (verdict, how) = if front > 0.0 {
            (Verdict::Refuse, format!("stands {front:.0} mm and more behind the opening"))
        } else {
            (Verdict::Warn, format!("is taken {grip:.0} mm behind the opening"))
        };
        out.find(
            Finding::new("out-of-reach", verdict, at)
                .have("out_of_reach_mm", grip)
                .have("places", places)
                .need("out_of_reach_mm", 0.0)
                .why(format!(
                    "\"{id}\" {how} that the drawer makes when it is pulled out {:.0} mm: put it farther to the front.",
                    space.reach_mm
                )),
        );
    }
}

fn note(worst: &mut BTreeMap<usize, (f64, f64, usize)>, thing: usize, front: f64, grip: f64) {
    let slot = worst.entry(thing).or_insert((f64::NEG_INFINITY, f64::NEG_INFINITY, 0));
    *slot = (slot.0.max(front), slot.1.max(grip), slot.2 + usize::from(grip > 1e-6));
}

/// How far back the hand takes a thing.
fn grip_y(h: &Held) -> f64 {
    h.pose.out(DVec3::new(0.0, 0.0, h.thing.grip().height_mm)).y
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use serde_json::json;

    fn pulled_out(extension: f64) -> Vec<(String, Verdict)> {
        let mut request = tray();
        // the thing in the second row
        request["holders"][0]["columns"] = json!(1);
        request["space"]["extension_mm"] = json!(extension);
        Scene::of(request).run(run).findings.into_iter().map(|f| (f.place, f.verdict)).collect()
    }

    // two rows in 260.2: the second one begins at about 131.6
    #[test]
    fn what_is_in_the_back_row_must_come_into_the_open() {
        assert_eq!(pulled_out(262.0), vec![]);
        assert_eq!(pulled_out(170.0), vec![]);
        assert_eq!(pulled_out(150.0), vec![("/things/1".to_owned(), Verdict::Warn)]);
        assert_eq!(pulled_out(120.0), vec![("/things/1".to_owned(), Verdict::Refuse)]);
    }
}
