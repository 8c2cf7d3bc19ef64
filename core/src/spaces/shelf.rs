//! A shelf that is open at the front.

use super::house::{SIDE, TOP};
use super::measures::{room_left, smallest};
use super::plan::Plan;
use super::slam::Loads;
use super::space::{Entry, Kind, Space};
use super::spec::{Instrument, ShelfSpec};
use super::walls::Walls;
use crate::finding::Finding;
use crate::things::Attitude;
use crate::units::DefaultUsed;

pub(super) fn checked(spec: &ShelfSpec, at: &str, out: &mut Vec<Finding>) -> Option<Space> {
    let floor = Plan {
        width_mm: smallest(&spec.width_mm, &format!("{at}/width_mm"), out),
        depth_mm: smallest(&spec.depth_mm, &format!("{at}/depth_mm"), out),
        corner_radius_mm: 0.0,
    };
    let clearance = spec.side_clearance_mm();
    SIDE.check(clearance, &format!("{at}/side_clearance_mm"), out);
    TOP.check(spec.top_clearance_mm(), &format!("{at}/top_clearance_mm"), out);
    let height = spec.clear_height_mm.smallest();
    let usable_height_mm = height - spec.top_clearance_mm();
    let walls = Walls::upright(floor, height, 0.0);
    room_left(&floor.shrunk(clearance), usable_height_mm, at, out);
    let opening = spec.opening_width_mm.map_or(floor.width_mm, |w| w.min(floor.width_mm));
    Some(Space {
        kind: Kind::Shelf,
        walls,
        clearance_mm: clearance,
        usable_height_mm,
        entry: Entry::Front {
            width_mm: opening - 2.0 * clearance,
            height_mm: spec.opening_height_mm.map_or(height, |h| h.min(height)) - spec.top_clearance_mm(),
        },
        skew: None,
        reach_mm: floor.depth_mm,
        slam: None,
        yank: None,
        loads: Loads::of(None, None, spec.ride.as_ref(), at, out),
        attitudes: vec![Attitude::Flat],
        payload_g: None,
        lid: None,
        uncertainty_mm: spec.measured_with.unwrap_or(Instrument::ASSUMED).uncertainty_mm(),
    })
}

pub(super) fn note(spec: &ShelfSpec, at: &str, list: &mut Vec<DefaultUsed>) {
    if spec.measured_with.is_none() {
        let value = Instrument::ASSUMED.uncertainty_mm();
        list.push(DefaultUsed { at: format!("{at}/measured_with"), value, unit: "mm" });
    }
    if let Some(ride) = &spec.ride {
        ride.note_defaults(&format!("{at}/ride"), list);
    }
}
