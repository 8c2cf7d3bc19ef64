//! Each thing's way out, and what that changes of what the check of straight ways has found.

use super::ways::{Around, Pull};
use super::words;
use crate::checks::{About, Outcome, Subject};
use crate::finding::{Finding, Verdict};

/// Findings of that check about a thing that does not come out along its own way.
const BARRED: [&str; 2] = ["thing-walled-in", "thing-behind-thing"];
/// For so many things in all other ways are searched; one search may try some hundred pulls.
const MOST_SEARCHED: usize = 60;

/// How each thing of each holder comes out, berth by berth: one or two straight pulls while all else
/// stays in place; none where there is no such way.
///
/// A thing of which the check found nothing amiss comes out along its own way. Others are searched for.
/// Where each berth of such a thing has another way, its findings give place to a warning that says it.
#[must_use]
pub fn things_out(subject: &Subject, checks: &mut [(About, Outcome)], stop: &dyn Fn() -> bool) -> Vec<Vec<Vec<Pull>>> {
    let around = Around::of(subject);
    let amiss = |t: usize, f: &Finding| BARRED.contains(&f.code) && f.place == at(t);
    let barred: Vec<bool> = (0..subject.job.things.len())
        .map(|t| checks.iter().any(|(_, o)| o.findings.iter().any(|f| amiss(t, f))))
        .collect();
    let mut ways: Vec<Vec<Vec<Pull>>> = vec![vec![]; subject.holders.len()];
    let mut others: Vec<Other> = vec![Other::default(); barred.len()];
    let mut searched = 0;
    for (i, held) in around.held().iter().enumerate() {
        let thing = held.berth.thing;
        let pulls = if !barred[thing] {
            vec![around.own(i)]
        } else if searched < MOST_SEARCHED {
            searched += 1;
            around.search(i, stop).unwrap_or_default()
        } else {
            vec![]
        };
        if barred[thing] {
            others[thing].note(&pulls);
        }
        ways[held.holder].push(pulls);
    }
    for (thing, other) in others.iter().enumerate().filter(|(_, o)| o.berths > 0 && o.without == 0) {
        for (_, outcome) in checks.iter_mut() {
            let before = outcome.findings.len();
            outcome.findings.retain(|f| !amiss(thing, f));
            if outcome.findings.len() < before {
                outcome.findings.push(other.finding(thing, subject));
            }
        }
    }
    ways
}

fn at(thing: usize) -> String {
    format!("/things/{thing}")
}

/// What was found for a thing whose own way is barred.
#[derive(Clone, Debug, Default)]
struct Other {
    berths: usize,
    without: usize,
    longest: Vec<Pull>,
}

impl Other {
    fn note(&mut self, pulls: &[Pull]) {
        self.berths += 1;
        self.without += usize::from(pulls.is_empty());
        if pulls.len() > self.longest.len() {
            self.longest = pulls.to_vec();
        }
    }

    fn finding(&self, thing: usize, subject: &Subject) -> Finding {
        let name = subject.job.things.get(thing).map_or("", crate::things::Thing::id);
        Finding::new("thing-leaves-otherwise", Verdict::Warn, at(thing))
            .have("pulls", self.longest.len())
            .need("pulls_max", 2.0)
            .why(format!("\"{name}\" is barred along its own way, and {}", words::pulls_out(&self.longest)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::checks::run_all;
    use crate::checks::testing::{Scene, lay, tray_for};
    use crate::geom::{DVec3, Frame};
    use serde_json::json;

    /// Cans of 50 × 80 in a tray 330 × 260 inside a drawer: their ways, and what is found of them.
    fn cans(places: &[DVec3], axis: DVec3, way: DVec3) -> (Vec<Vec<Pull>>, Vec<&'static str>) {
        let drawer = json!({"kind": "drawer", "width_mm": 330, "depth_mm": 260, "clear_height_mm": 160});
        let can = json!({"id": "polish", "shape": {"kind": "can", "diameter_mm": 50, "overall_mm": 80}});
        let mut scene = Scene::of(tray_for(drawer, json!([can]), 40.0));
        for p in places {
            let hint = if axis == DVec3::X { DVec3::Y } else { DVec3::X };
            lay(&mut scene, 0, Frame::new(*p, axis, hint).unwrap(), way);
        }
        let subject = Subject { job: &scene.job, holders: &scene.holders };
        let mut checks = run_all(&subject);
        let mut ways = things_out(&subject, &mut checks, &|| false);
        let codes = checks.iter().flat_map(|(_, o)| o.findings.iter().map(|f| f.code));
        let about = codes.filter(|c| BARRED.contains(c) || *c == "thing-leaves-otherwise").collect();
        (ways.remove(0), about)
    }

    #[test]
    fn what_stands_free_comes_out_along_its_own_way() {
        let (ways, about) = cans(&[DVec3::new(60.0, 60.0, 3.1)], DVec3::Z, DVec3::Z);
        assert_eq!(ways[0].len(), 1);
        assert_eq!(ways[0][0].way, DVec3::Z);
        // from the floor to above everything: the can itself is the highest, and 10 more
        assert!((ways[0][0].travel_mm - 90.0).abs() < 1e-9, "{ways:?}");
        assert_eq!(about, Vec::<&str>::new());
    }

    #[test]
    fn a_wall_in_front_leaves_the_way_up() {
        let (ways, about) = cans(&[DVec3::new(60.0, 60.0, 3.1)], DVec3::Z, -DVec3::Y);
        assert_eq!(ways[0].iter().map(|p| p.way).collect::<Vec<_>>(), [DVec3::Z]);
        assert_eq!(about, ["thing-leaves-otherwise"]);
    }

    #[test]
    fn the_lower_of_two_comes_out_by_two_pulls() {
        let stacked = [DVec3::new(60.0, 60.0, 28.1), DVec3::new(60.0, 60.0, 78.1)];
        let (ways, about) = cans(&stacked, DVec3::X, DVec3::Z);
        assert_eq!(ways.iter().map(Vec::len).collect::<Vec<_>>(), [2, 1]);
        assert!(ways[0][0].way.z.abs() < 1e-9 && ways[0][1].way == DVec3::Z, "{ways:?}");
        assert_eq!(about, ["thing-leaves-otherwise"]);
    }

    #[test]
    fn what_is_hemmed_in_has_no_way_and_the_finding_stays() {
        let z = 28.1;
        let beside = [(130.0, 79.0), (130.0, 181.0), (49.0, 130.0), (211.0, 130.0)].map(|(x, y)| DVec3::new(x, y, z));
        let mut places = vec![DVec3::new(130.0, 130.0, z), DVec3::new(130.0, 130.0, 78.1)];
        places.extend(beside);
        let (ways, about) = cans(&places, DVec3::X, DVec3::Z);
        assert_eq!(ways.iter().map(Vec::len).collect::<Vec<_>>(), [0, 1, 1, 1, 1, 1]);
        assert_eq!(about, ["thing-behind-thing"]);
    }
}
