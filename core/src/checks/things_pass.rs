//! Things cut no panel and stand in no other thing, and each comes out.

use super::boards::{Board, SLIM_MM, Slim, TOUCH_MM2, area_mm2};
use super::convex::{Piece, collide, depth_mm};
use super::held::Held;
use super::outcome::{About, Limit, Outcome, Subject};
use super::place::called;
use crate::finding::{Finding, Verdict};
use crate::geom::DVec3;
use crate::solid::travel_mm;
use std::collections::BTreeMap;

/// What this check is about.
pub const ABOUT: About = About {
    name: "things-pass",
    rule: "No thing stands in a panel or in another thing, and each can be taken out along its way without passing through a panel or another thing.",
    source: "calculated; touching by up to 0.02 mm counts as passing",
};

/// A thing with everything that is asked of it.
struct Body<'a> {
    held: Held<'a>,
    slim: Slim,
    pieces: Vec<Piece>,
    lo: DVec3,
    hi: DVec3,
    /// The whole way out.
    out: DVec3,
}

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let boards = subject.boards();
    let held = subject.held();
    let top = boards.iter().map(|b| b.hi.z).fold(f64::NEG_INFINITY, f64::max);
    let bodies: Vec<Body> = held.iter().map(|h| Body::of(*h, top)).collect();
    let mut worst = Worst::default();
    for b in &bodies {
        panels(b, &boards, &mut worst);
    }
    // swept from the left; the way out may lead anywhere, so its box counts
    let mut order: Vec<usize> = (0..bodies.len()).collect();
    order.sort_by(|a, b| bodies[*a].reach().0.x.total_cmp(&bodies[*b].reach().0.x).then(a.cmp(b)));
    for (k, i) in order.iter().enumerate() {
        let right = bodies[*i].reach().1.x;
        for j in order[k + 1..].iter().take_while(|j| bodies[**j].reach().0.x <= right) {
            pair(&bodies, *i.min(j), *i.max(j), &mut worst);
        }
    }
    worst.report(subject, &boards, out);
}

impl<'a> Body<'a> {
    fn of(held: Held<'a>, top: f64) -> Self {
        let (lo, hi) = held.bounds();
        let way = held.berth.way_out;
        let travel = travel_mm(&held.berth.solid, lo.z, way, top);
        Self { slim: Slim::of(&held.berth.solid), pieces: Piece::of(&held), held, lo, hi, out: way * travel }
    }

    /// The box that it needs on its way out.
    fn reach(&self) -> (DVec3, DVec3) {
        (self.lo.min(self.lo + self.out), self.hi.max(self.hi + self.out))
    }
}

/// The worst case of each kind, for each thing of each holder.
#[derive(Default)]
struct Worst {
    /// Thing and board: material that it would cut, mm².
    cuts: BTreeMap<(usize, usize), f64>,
    /// Thing and board: material in its way out.
    walled: BTreeMap<(usize, usize), f64>,
    /// Two things: how deep they stand in one another, mm.
    clash: BTreeMap<(usize, usize), f64>,
    /// Thing, and the one in its way; in how many berths.
    blocked: BTreeMap<(usize, usize), usize>,
}

fn panels(b: &Body, boards: &[Board], worst: &mut Worst) {
    let (lo, hi) = b.reach();
    for (k, board) in boards.iter().enumerate().filter(|(_, board)| board.near(lo, hi)) {
        let thing = b.held.berth.thing;
        let note = |all: &mut BTreeMap<(usize, usize), f64>, area: f64| {
            if area > TOUCH_MM2 {
                let slot = all.entry((thing, k)).or_default();
                *slot = slot.max(area);
            }
        };
        let still = if board.near(b.lo, b.hi) {
            area_mm2(&board.swept(&b.slim, &b.held.pose, b.held.berth.way_out, 0.0))
        } else {
            0.0
        };
        note(&mut worst.cuts, still);
        if still <= TOUCH_MM2 {
            let travel = b.out.length();
            note(&mut worst.walled, area_mm2(&board.swept(&b.slim, &b.held.pose, b.held.berth.way_out, travel)));
        }
    }
}

fn pair(bodies: &[Body], i: usize, j: usize, worst: &mut Worst) {
    let (a, b) = (&bodies[i], &bodies[j]);
    let apart = |(l0, h0): (DVec3, DVec3), (l1, h1): (DVec3, DVec3)| l0.cmpgt(h1).any() || l1.cmpgt(h0).any();
    let own = |x: &Body| (x.lo, x.hi);
    if !apart(own(a), own(b)) && collide(&a.pieces, &b.pieces, DVec3::ZERO) {
        let key = (a.held.berth.thing, b.held.berth.thing);
        let between = b.held.pose.out(DVec3::Z) - a.held.pose.out(DVec3::Z);
        let away = between.try_normalize().unwrap_or(DVec3::X);
        let most = a.held.berth.solid.height() + b.held.berth.solid.height();
        let deep = depth_mm(&a.pieces, &b.pieces, away, most);
        let slot = worst.clash.entry((key.0.min(key.1), key.0.max(key.1))).or_default();
        *slot = slot.max(deep);
        return;
    }
    for (x, y) in [(a, b), (b, a)] {
        if !apart(x.reach(), own(y)) && collide(&x.pieces, &y.pieces, x.out) {
            *worst.blocked.entry((x.held.berth.thing, y.held.berth.thing)).or_default() += 1;
        }
    }
}

impl Worst {
    fn report(&self, subject: &Subject, boards: &[Board], out: &mut Outcome) {
        let name = |thing: usize| subject.job.things[thing].id();
        let board = |k: usize| (boards[k].built.part_code(boards[k].panel), called(boards[k].built, boards[k].panel));
        for (thing, _) in subject.job.things.iter().enumerate() {
            let at = format!("/things/{thing}");
            let most = |of: &BTreeMap<(usize, usize), f64>| {
                of.iter().filter(|(k, _)| k.0 == thing).map(|(_, v)| *v).fold(0.0, f64::max)
            };
            out.measure(at.as_str(), "cut_mm2", most(&self.cuts), Limit::Most(TOUCH_MM2));
            out.measure(at.as_str(), "clash_mm", most(&self.clash), Limit::Most(SLIM_MM));
        }
        for ((thing, k), area) in &self.cuts {
            let (code, part) = board(*k);
            out.find(
                Finding::new("thing-in-panel", Verdict::Refuse, format!("/things/{thing}"))
                    .have("cut_mm2", *area)
                    .have("part", code)
                    .need("cut_mm2", 0.0)
                    .why(format!("\"{}\" would stand in {area:.1} mm² of part {part}.", name(*thing))),
            );
        }
        for ((thing, k), area) in &self.walled {
            let (code, part) = board(*k);
            out.find(
                Finding::new("thing-walled-in", Verdict::Refuse, format!("/things/{thing}"))
                    .have("in_the_way_mm2", *area)
                    .have("part", code)
                    .need("in_the_way_mm2", 0.0)
                    .why(format!(
                        "\"{}\" cannot be taken out: part {part} is in its way with {area:.1} mm².",
                        name(*thing)
                    )),
            );
        }
        for ((a, b), deep) in &self.clash {
            out.find(
                Finding::new("things-clash", Verdict::Refuse, format!("/things/{a}"))
                    .have("clash_mm", *deep)
                    .have("other", name(*b))
                    .need("clash_mm", 0.0)
                    .why(format!("\"{}\" and \"{}\" stand {deep:.1} mm in one another.", name(*a), name(*b))),
            );
        }
        for ((a, b), berths) in &self.blocked {
            out.find(
                Finding::new("thing-behind-thing", Verdict::Warn, format!("/things/{a}"))
                    .have("berths", *berths)
                    .have("other", name(*b))
                    .need("berths", 0.0)
                    .why(format!(
                        "{berths} of \"{}\" come out only after \"{}\" has been taken out of the way.",
                        name(*a),
                        name(*b)
                    )),
            );
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, lay, tray_for};
    use super::*;
    use crate::geom::Frame;
    use serde_json::json;

    fn cans(places: &[DVec3], axis: DVec3, way: DVec3) -> Vec<(&'static str, f64)> {
        let drawer = json!({"kind": "drawer", "width_mm": 330, "depth_mm": 260, "clear_height_mm": 96});
        let can = json!({"id": "polish", "shape": {"kind": "can", "diameter_mm": 50, "overall_mm": 80}});
        let mut scene = Scene::of(tray_for(drawer, json!([can]), 40.0));
        for p in places {
            let hint = if axis == DVec3::X { DVec3::Y } else { DVec3::X };
            lay(&mut scene, 0, Frame::new(*p, axis, hint).unwrap(), way);
        }
        let out = scene.run(run);
        out.findings
            .iter()
            .map(|f| match f.have[0].1 {
                crate::finding::Amount::Number(v) => (f.code, v),
                _ => panic!("{f:?}"),
            })
            .collect()
    }

    #[test]
    fn cans_on_the_floor_of_a_tray_touch_and_pass() {
        let z = 3.1;
        let two = [DVec3::new(60.0, 60.0, z), DVec3::new(110.0, 60.0, z)];
        assert_eq!(cans(&two, DVec3::Z, DVec3::Z), vec![]);
        let close = [DVec3::new(60.0, 60.0, z), DVec3::new(109.0, 60.0, z)];
        let found = cans(&close, DVec3::Z, DVec3::Z);
        assert_eq!(found.len(), 1);
        assert!(found[0].0 == "things-clash" && (found[0].1 - (1.0 - 2.0 * SLIM_MM)).abs() < 0.02, "{found:?}");
    }

    #[test]
    fn a_can_may_not_stand_in_the_wall_nor_leave_through_it() {
        // the front wall ends at y = 3.1
        let found = cans(&[DVec3::new(60.0, 27.1, 3.1)], DVec3::Z, DVec3::Z);
        assert_eq!(found.iter().map(|f| f.0).collect::<Vec<_>>(), ["thing-in-panel"]);
        assert_eq!(cans(&[DVec3::new(60.0, 28.1, 3.1)], DVec3::Z, DVec3::Z), vec![]);
        let found = cans(&[DVec3::new(60.0, 60.0, 3.1)], DVec3::Z, -DVec3::Y);
        assert_eq!(found.iter().map(|f| f.0).collect::<Vec<_>>(), ["thing-walled-in"]);
    }

    #[test]
    fn one_can_lying_on_another_blocks_it() {
        let stacked = [DVec3::new(60.0, 60.0, 28.1), DVec3::new(60.0, 60.0, 78.1)];
        let found = cans(&stacked, DVec3::X, DVec3::Z);
        assert_eq!(found, vec![("thing-behind-thing", 1.0)]);
    }
}
