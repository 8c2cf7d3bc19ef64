//! No space: a holder that stands free, and may at most be so large.

use super::plan::Plan;
use super::slam::Loads;
use super::space::{Entry, Kind, Space};
use super::spec::FreeSpec;
use super::walls::Walls;
use crate::finding::Finding;
use crate::things::Attitude;
use crate::units::DefaultUsed;

pub(super) fn checked(spec: &FreeSpec, at: &str, out: &mut Vec<Finding>) -> Option<Space> {
    let floor = Plan { width_mm: spec.width_mm, depth_mm: spec.depth_mm, corner_radius_mm: 0.0 };
    Some(Space {
        kind: Kind::Free,
        walls: Walls::upright(floor, spec.height_mm, 0.0),
        clearance_mm: 0.0,
        usable_height_mm: spec.height_mm,
        entry: Entry::Anywhere,
        skew: None,
        reach_mm: spec.depth_mm,
        slam: None,
        yank: None,
        loads: Loads::of(None, None, spec.ride.as_ref(), at, out),
        attitudes: flat_and(spec.attitudes.as_deref().unwrap_or_default()),
        payload_g: None,
        lid: None,
        uncertainty_mm: 0.0,
    })
}

/// Flat first, then the others, each once, in their own order.
pub(super) fn flat_and(given: &[Attitude]) -> Vec<Attitude> {
    Attitude::ALL.into_iter().filter(|a| *a == Attitude::Flat || given.contains(a)).collect()
}

pub(super) fn note(spec: &FreeSpec, at: &str, list: &mut Vec<DefaultUsed>) {
    if let Some(ride) = &spec.ride {
        ride.note_defaults(&format!("{at}/ride"), list);
    }
}
