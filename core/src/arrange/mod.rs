//! Which holder stands where in the space: side by side along the width, from the left.
//!
//! May import: every room above. Knows no panel: it deals in outer sizes.

use crate::families::{Context, Room, Wanted};
use crate::geom::DVec3;
use crate::job::{HolderJob, Job};

/// Where one holder stands and the box that it was offered.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stand {
    /// The holder's zero in the space's frame: zero is the left front corner of the usable floor.
    pub origin: DVec3,
    /// The box that it may fill.
    pub room: Room,
    /// The box that it will fill.
    pub size: Room,
}

/// Clear gap between neighbouring holders, mm: the usual side clearance of a drawer (common practice).
pub const BETWEEN_MM: f64 = 1.0;

/// A family that takes all the width that it is offered takes at least this share of it.
const ELASTIC_SHARE: f64 = 0.999;

/// What a holder gets to see in a room.
#[must_use]
pub fn context<'a>(job: &'a Job, holder: &'a HolderJob, room: Room) -> Context<'a> {
    Context {
        at: &holder.at,
        space: &job.space,
        room,
        stocks: &job.stocks,
        fits: &job.fits,
        panels: holder.stocks[0],
        floor: holder.stocks[1],
        inner: holder.stocks[2],
        things: holder.things.iter().map(|i| Wanted { index: *i, thing: &job.things[*i] }).collect(),
    }
}

/// Places all holders. Those that know their size keep it; the others share what is left evenly.
/// Nothing is refused here: whether it all fits is a check.
#[must_use]
pub fn arrange(job: &Job) -> Vec<Stand> {
    let plan = job.space.usable(0.0);
    let whole = Room { width_mm: plan.width_mm, depth_mm: plan.depth_mm, height_mm: job.space.usable_height_mm() };
    let wants: Vec<Room> = job.holders.iter().map(|h| h.spec.family().size(&context(job, h, whole))).collect();
    let gaps = BETWEEN_MM * (job.holders.len().saturating_sub(1)) as f64;
    let elastic: Vec<bool> =
        wants.iter().map(|w| job.holders.len() > 1 && w.width_mm >= whole.width_mm * ELASTIC_SHARE).collect();
    let fixed: f64 = wants.iter().zip(&elastic).filter(|(_, e)| !**e).map(|(w, _)| w.width_mm).sum();
    let sharers = elastic.iter().filter(|e| **e).count().max(1);
    let share = ((whole.width_mm - gaps - fixed) / sharers as f64).max(0.0);
    let mut x = 0.0;
    job.holders
        .iter()
        .zip(wants.iter().zip(&elastic))
        .map(|(h, (want, elastic))| {
            let room = if *elastic { Room { width_mm: share, ..whole } } else { whole };
            let size = if *elastic { h.spec.family().size(&context(job, h, room)) } else { *want };
            let stand = Stand { origin: DVec3::new(x, 0.0, 0.0), room, size };
            x += size.width_mm + BETWEEN_MM;
            stand
        })
        .collect()
}
