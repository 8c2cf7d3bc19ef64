//! What is cut first, and how many minutes it takes.
//!
//! Marks come first; then openings before the edge of their part, and what lies in an opening before the
//! opening, at any depth (`visit`). Within that the way between cuts is made short: nearest next (`tour`),
//! then downhill (`descend`), then parts of the tour are taken off and put back (`recreate`), and the places
//! at which contours are entered are chosen together (`gates`). Work is counted in distances, not in time,
//! so the same sheet gets the same route on any machine. `speed` and `minutes` say how long it takes.
//!
//! May import: `units`, `finding`, `geom`, `nest` (how hard to try).

mod descend;
mod gates;
mod minutes;
mod recreate;
mod speed;
#[cfg(test)]
mod tests;
mod tour;
mod types;
mod visit;

pub use types::{Motion, Role, Route, RouteContour};

use crate::geom::DVec2;
use crate::nest::Effort;
use descend::Descent;
use recreate::Search;
use tour::{Ground, Step};

/// Distances that may be asked for on one sheet, round by round: about 1.5, 10 and 35 ms of one core in all.
/// Each round starts from the best of those before, so more effort never gives a longer way.
fn rounds(effort: Effort) -> &'static [u64] {
    const WORK: [u64; 3] = [500_000, 3_000_000, 8_000_000];
    match effort {
        Effort::Quick => &WORK[..1],
        Effort::Normal => &WORK[..2],
        Effort::Thorough => &WORK,
    }
}

/// The order of a sheet: every contour once, marks first, inner before outer. Never longer on the way than
/// going to the nearest next.
#[must_use]
pub fn route(contours: &[RouteContour], motion: &Motion, effort: Effort) -> Route {
    let mut order = Vec::with_capacity(contours.len());
    let mut here = DVec2::ZERO;
    for marks in [true, false] {
        let visits = visit::visits(contours, marks);
        let ground = Ground { visits: &visits, start: here };
        let mut tour = ground.nearest_next();
        let spent = ground.all_gates(&mut tour);
        tour = shortened(&ground, tour, spent, effort);
        here = ground.before(&tour, tour.len());
        order.extend(tour.iter().map(|s| (visits[s.visit].contour, visits[s.visit].gates[s.gate].vertex)));
    }
    minutes::added_up(contours, order, motion)
}

/// A tour made shorter within an effort, of which some work is spent.
fn shortened(ground: &Ground, tour: Vec<Step>, spent: u64, effort: Effort) -> Vec<Step> {
    let mut search: Option<Search> = None;
    let mut tour = tour;
    for (k, work) in rounds(effort).iter().enumerate() {
        let mut left = if k == 0 { work.saturating_sub(spent) } else { *work };
        let mut down = Descent::new(ground, tour, left);
        down.run();
        (tour, left) = (down.tour, down.work);
        if left > 0 {
            tour = search.get_or_insert_with(|| Search::new(ground)).run(tour, left);
        }
    }
    tour
}
