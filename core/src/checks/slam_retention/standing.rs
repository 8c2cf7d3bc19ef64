//! What stands is held by what it leans against: a deck, a ring, a wall.

use super::{ALWAYS_G, FRICTION, Hold, Throw};
use crate::checks::boards::{Board, hits};
use crate::checks::held::Held;

/// A thing is thrown at most this far before it touches what holds it, beyond its clearance, mm.
const PLAY_MM: f64 = 3.0;
/// A contact this low is a lower ring: the base cannot swing out, mm (common practice: 8 to 12).
const RING_MM: f64 = 15.0;

/// With one contact at height h_d the thing levers out about it when a·(h_cm − h_d) > D/2; with a
/// second one below it does not.
pub(super) fn hold(h: &Held, boards: &[Board], throw: &Throw) -> Hold {
    let up = h.pose.z;
    let clearance = h.berth.openings.iter().map(|o| o.clearance_mm).fold(0.0, f64::max);
    let all = hits(h, boards, throw.way, clearance + PLAY_MM, up);
    let wide = 2.0 * h.berth.solid.extent(h.pose.dir_own(throw.way)).abs();
    let centre = h.thing.centre_of_mass_mm();
    if all.is_empty() {
        let tips = if centre > 0.0 { wide / (2.0 * centre) } else { ALWAYS_G };
        let (g, how) = if tips < FRICTION { (tips, "tips over") } else { (FRICTION, "slides away") };
        return Hold::new(g, how, "Nothing holds it: give it a deck with an opening.");
    }
    let how = "levers out of its opening";
    let upper = all.iter().map(|c| c.high).fold(f64::NEG_INFINITY, f64::max);
    let lower = all.iter().map(|c| c.low).fold(f64::INFINITY, f64::min);
    let over = centre - upper;
    let ringed = lower <= RING_MM && (all.len() > 1 || upper - lower > RING_MM);
    let g = if over <= 0.0 || ringed { ALWAYS_G } else { wide / (2.0 * over) };
    let needed = centre - wide / (2.0 * throw.g);
    let cure = format!("Raise the deck to {needed:.0} mm above its base, or put a second one below.");
    Hold { deck_mm: Some(needed), ..Hold::new(g, how, cure) }
}
