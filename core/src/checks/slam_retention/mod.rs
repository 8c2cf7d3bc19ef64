//! Things stay in their places when the drawer is slammed or the case rides.

mod leaning;
mod lying;
mod standing;
#[cfg(test)]
mod tests;

use super::boards::Board;
use super::bound::Bound;
use super::held::Held;
use super::outcome::{About, Outcome, Subject};
use super::place::{has_number, tenth_above};
use crate::finding::{Finding, PatchOp};
use crate::geom::DVec3;
use crate::spaces::Space;
use std::collections::BTreeMap;

/// What this check is about.
pub const ABOUT: About = About {
    name: "slam-retention",
    rule: "Each thing stays in its place under the decelerations of its space: what leans does not fly out, what stands does not lever out, what lies does not roll or slide out.",
    source: "calculated; friction 0.3 is common practice, no source. A block tips at b/h, a cylinder leaves a V at cot of its half angle (references: university physics)",
};

/// Friction of a thing on plywood, as the trade reckons with it.
const FRICTION: f64 = 0.3;

/// More than any drawer makes: a thing that no deceleration moves is given this, g.
const ALWAYS_G: f64 = 99.0;

/// Steeper than this a thing stands, flatter than the other it lies, degrees.
const STANDS_DEG: f64 = 80.0;
const LIES_DEG: f64 = 10.0;

/// One way in which things are thrown.
#[derive(Clone, Copy)]
struct Throw {
    way: DVec3,
    g: f64,
    /// How high a thing climbs with the speed it has, mm; unknown on the road.
    climb_mm: Option<f64>,
    name: &'static str,
}

fn throws(space: &Space) -> Vec<Throw> {
    let l = &space.loads;
    // the road has no one speed: only where a slam or yank is the harder one does its climb count
    let climb = |s: Option<crate::spaces::Slam>, g: f64| s.filter(|s| s.g() >= g - 1e-9).map(|s| s.climb_mm());
    let all = [
        Throw { way: DVec3::Y, g: l.to_back_g, climb_mm: climb(space.slam, l.to_back_g), name: "the back" },
        Throw { way: -DVec3::Y, g: l.to_front_g, climb_mm: climb(space.yank, l.to_front_g), name: "the front" },
        Throw { way: -DVec3::X, g: l.to_side_g, climb_mm: None, name: "the left" },
        Throw { way: DVec3::X, g: l.to_side_g, climb_mm: None, name: "the right" },
    ];
    all.into_iter().filter(|t| t.g > 0.0).collect()
}

/// What holds a thing against a throw.
struct Hold {
    /// Up to this deceleration it stays.
    g: f64,
    /// What happens beyond, for people.
    how: &'static str,
    /// What would hold it.
    cure: String,
    /// Height of a deck above the thing's base that would hold it, mm.
    deck_mm: Option<f64>,
}

impl Hold {
    fn new(g: f64, how: &'static str, cure: impl Into<String>) -> Self {
        Self { g: if g.is_finite() { g.clamp(0.0, ALWAYS_G) } else { ALWAYS_G }, how, cure: cure.into(), deck_mm: None }
    }
}

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    let boards = subject.boards();
    let held = subject.held();
    for throw in throws(&subject.job.space) {
        let mut known: BTreeMap<[i64; 6], Hold> = BTreeMap::new();
        let mut worst: BTreeMap<(usize, usize), ([i64; 6], &Held)> = BTreeMap::new();
        for h in &held {
            let key = alike(h, throw.way);
            let hold = known.entry(key).or_insert_with(|| hold(h, &boards, &throw));
            let g = hold.g;
            let slot = worst.entry((h.berth.thing, h.holder)).or_insert((key, h));
            if known.get(&slot.0).is_some_and(|w| g < w.g) {
                *slot = (key, h);
            }
        }
        for (key, h) in worst.values() {
            let Some(hold) = known.get(key) else { continue };
            let bound = Bound::least("thing-leaves-place", "holds_g", f64::NEG_INFINITY, throw.g);
            if let Some((f, short)) = bound.weigh(&h.at(), hold.g, out) {
                let f = f.have("thrown_g", throw.g).have("thrown_to", throw.name).why(format!(
                    "\"{}\" {} at {:.2} g when it is thrown to {}, and {:.2} g are to be held: {short:.2} too little. {}",
                    h.thing.id(),
                    hold.how,
                    hold.g,
                    throw.name,
                    throw.g,
                    hold.cure
                ));
                out.find(cures(f, h, hold));
            }
        }
    }
}

/// A deck at the height that holds it, or a second one.
fn cures(f: Finding, h: &Held, hold: &Hold) -> Finding {
    let (Some(deck), true) = (hold.deck_mm, has_number(h.built, "deck_height_mm")) else { return f };
    // a deck's height counts from the holder's underside
    let high = tenth_above(deck + h.berth.pose.origin.z);
    let second = PatchOp { op: "add", path: format!("{}/lower_deck", h.built.at), value: Some(true.into()) };
    f.cure(format!("Raise the deck to {high:.1} mm."), format!("{}/deck_height_mm", h.built.at), high)
        .cure_with("Put in a second deck below.", vec![second])
}

/// Equal things of one row are held alike: places along the throw and upward count, not across.
fn alike(h: &Held, way: DVec3) -> [i64; 6] {
    let fine = |v: f64| (v * 1e3).round() as i64;
    let o = h.pose.origin;
    let a = h.pose.z;
    [h.holder as i64 * 1_000_000 + h.berth.thing as i64, fine(o.dot(way)), fine(o.z), fine(a.x), fine(a.y), fine(a.z)]
}

fn hold(h: &Held, boards: &[Board], throw: &Throw) -> Hold {
    let lean = h.lean_deg().abs();
    if lean >= STANDS_DEG {
        standing::hold(h, boards, throw)
    } else if lean <= LIES_DEG {
        lying::hold(h, boards, throw)
    } else {
        leaning::hold(h, throw)
    }
}
