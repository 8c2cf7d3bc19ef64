//! A case: walls, lid, way in, and how it is carried.

use super::case_shape::shape;
use super::free::flat_and;
use super::house::CASE_SIDE;
use super::lid::Lid;
use super::measures::{corner, pair, room_left};
use super::plan::Plan;
use super::slam::Loads;
use super::space::{Entry, Kind, Space};
use super::spec::{CaseSpec, Instrument, LidSpec, Side};
use super::walls::Walls;
use crate::finding::{Finding, Verdict};
use crate::things::Attitude;
use crate::units::{DefaultUsed, Row};

const FLOOR: Row =
    Row { name: "floor_mm", what: "Width and depth at the floor.", unit: "mm", min: 20.0, max: 3000.0, default: None };
const RIM: Row = Row { name: "rim_mm", what: "Width and depth at the rim.", ..FLOOR };
const OPENING: Row = Row { name: "opening_mm", what: "Width and depth of the narrowest place on the way in.", ..FLOOR };
pub(super) fn checked(spec: &CaseSpec, at: &str, out: &mut Vec<Finding>) -> Option<Space> {
    let before = out.len();
    pair(Some(spec.floor_mm), &FLOOR, at, out);
    pair(spec.rim_mm, &RIM, at, out);
    pair(spec.opening_mm, &OPENING, at, out);
    let clearance = spec.side_clearance_mm();
    CASE_SIDE.check(clearance, &format!("{at}/side_clearance_mm"), out);
    let u = spec.measured_with.unwrap_or(Instrument::ASSUMED).uncertainty_mm();
    // numbers out of range make no shape worth looking at
    let ranges_hold = out.iter().skip(before).all(|f| f.code != "out-of-range");
    let shape = if ranges_hold { shape(spec, u, at, out) } else { None };
    let attitudes = attitudes(spec, at, out);
    let loads = Loads::of(None, None, spec.ride.as_ref(), at, out);
    let (height_mm, [slope_x_rad, slope_y_rad]) = shape?;
    let [width_mm, depth_mm] = spec.floor_mm;
    let walls = Walls {
        floor: Plan { width_mm, depth_mm, corner_radius_mm: spec.corner_radius_floor_mm() },
        height_mm,
        slope_x_rad,
        slope_y_rad,
        rim_radius_mm: spec.corner_radius_rim_mm.unwrap_or_else(|| spec.corner_radius_floor_mm()),
        fillet_mm: spec.floor_fillet_mm(),
    };
    let rim = walls.at(height_mm);
    corner(walls.floor.corner_radius_mm, width_mm, depth_mm, &format!("{at}/corner_radius_floor_mm"), out);
    corner(walls.rim_radius_mm, rim.width_mm, rim.depth_mm, &format!("{at}/corner_radius_rim_mm"), out);
    let lid =
        (!spec.open_top).then(|| Lid::checked(spec.lid.as_ref().unwrap_or(&FLAT_LID), &rim, &format!("{at}/lid"), out));
    open_with_lid(spec, at, out);
    let usable_height_mm = height_mm + lid.map_or(0.0, |l| l.depth_mm - l.clearance_mm);
    let opening = spec.opening_mm.map_or(rim, |[width_mm, depth_mm]| rim.within(&Plan { width_mm, depth_mm, ..rim }));
    // what gets in is as much a limit as what stands in
    room_left(&walls.at(0.0).within(&opening).shrunk(clearance), usable_height_mm, at, out);
    Some(Space {
        kind: Kind::Case,
        walls,
        clearance_mm: clearance,
        usable_height_mm,
        entry: Entry::Above(opening.shrunk(clearance)),
        skew: None,
        reach_mm: rim.depth_mm,
        slam: None,
        yank: None,
        loads,
        attitudes,
        payload_g: None,
        lid,
        uncertainty_mm: u,
    })
}

/// A lid of which nothing was said: it lies flat on the rim.
const FLAT_LID: LidSpec = LidSpec { depth_mm: None, clearance_mm: None, side_clearance_mm: None, hinge: Side::Back };

fn open_with_lid(spec: &CaseSpec, at: &str, out: &mut Vec<Finding>) {
    if spec.open_top && spec.lid.is_some() {
        let patch = vec![crate::finding::PatchOp { op: "remove", path: format!("{at}/open_top"), value: None }];
        out.push(
            Finding::new("lid-contradicts-open-top", Verdict::Refuse, format!("{at}/lid"))
                .why("A lid was described, and the case was said to have none: which of the two?")
                .cure_with("Keep the lid.", patch),
        );
    }
}

fn attitudes(spec: &CaseSpec, at: &str, out: &mut Vec<Finding>) -> Vec<Attitude> {
    let Some(given) = &spec.attitudes else {
        out.push(
            Finding::new("attitudes-assumed", Verdict::Warn, format!("{at}/attitudes"))
                .have("attitudes", "flat, front-up")
                .why("Nothing was said about how the case is carried: it is taken to lie flat and to hang by a handle on its front. Liquids, noses and loose parts hang on this."),
        );
        return flat_and(&[Attitude::FrontUp]);
    };
    flat_and(given)
}

pub(super) fn note(spec: &CaseSpec, at: &str, list: &mut Vec<DefaultUsed>) {
    let mut line = |name: &str, absent: bool, value: f64, unit: &'static str| {
        if absent {
            list.push(DefaultUsed { at: format!("{at}/{name}"), value, unit });
        }
    };
    line("measured_with", spec.measured_with.is_none(), Instrument::ASSUMED.uncertainty_mm(), "mm");
    line("slope_deg", spec.slope_deg.is_none() && spec.rim_mm.is_none(), 0.0, "deg");
    line("corner_radius_rim_mm", spec.corner_radius_rim_mm.is_none(), spec.corner_radius_floor_mm(), "mm");
    if !spec.open_top {
        spec.lid.as_ref().unwrap_or(&FLAT_LID).note_defaults(&format!("{at}/lid"), list);
    }
    if let Some(ride) = &spec.ride {
        ride.note_defaults(&format!("{at}/ride"), list);
    }
}
