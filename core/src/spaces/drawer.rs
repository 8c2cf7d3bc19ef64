//! A drawer: the smallest true box that it leaves.

use super::house::{GENTLE_G, SIDE, SKEW, SLAMMED_SHARE, TOP};
use super::measures::{corner, outside, pair, room_left, smallest};
use super::plan::Plan;
use super::skew::Skew;
use super::slam::{Loads, Slam};
use super::space::{Entry, Kind, Space};
use super::spec::{DrawerSpec, Instrument, SlamSpec};
use super::walls::Walls;
use crate::finding::{Finding, Verdict};
use crate::things::Attitude;
use crate::units::{DefaultUsed, Row, tidy};

const DIAGONALS: Row = Row {
    name: "diagonals_mm",
    what: "Both diagonals of the floor.",
    unit: "mm",
    min: 28.0,
    max: 4300.0,
    default: None,
};

/// Diagonals that differ from what width and depth say by more than this share, besides the readings' own
/// uncertainty, are of another drawer or mistyped (common practice, no source).
const DIAGONAL_SHARE: f64 = 0.005;

/// The diagonal of a round corner loses (√2 − 1)·R at each end. Derived.
const ROUND_CORNER: f64 = std::f64::consts::SQRT_2 - 1.0;

pub(super) fn checked(spec: &DrawerSpec, at: &str, out: &mut Vec<Finding>) -> Option<Space> {
    let u = spec.measured_with.unwrap_or(Instrument::ASSUMED).uncertainty_mm();
    let width = smallest(&spec.width_mm, &format!("{at}/width_mm"), out);
    let depth = smallest(&spec.depth_mm, &format!("{at}/depth_mm"), out);
    outside(&spec.width_mm, spec.outside_width_mm, "width_mm", at, out);
    outside(&spec.depth_mm, spec.outside_depth_mm, "depth_mm", at, out);
    let clearance = spec.side_clearance_mm();
    SIDE.check(clearance, &format!("{at}/side_clearance_mm"), out);
    TOP.check(spec.top_clearance_mm(), &format!("{at}/top_clearance_mm"), out);
    corner(spec.corner_radius_mm(), width, depth, &format!("{at}/corner_radius_mm"), out);
    pair(spec.diagonals_mm, &DIAGONALS, at, out);
    let skew = spec.diagonals_mm.map(|d| skewed(spec, width, depth, d, u, at, out));
    let (width_lost, depth_lost) = skew.map_or((0.0, 0.0), |s| (s.width_lost_mm, s.depth_lost_mm));
    let floor = Plan {
        width_mm: (width - width_lost).max(0.0),
        depth_mm: (depth - depth_lost).max(0.0),
        corner_radius_mm: spec.corner_radius_mm(),
    };
    let height = spec.clear_height_mm.smallest();
    let walls = Walls::upright(floor, height, spec.floor_fillet_mm());
    let usable_height_mm = height - spec.top_clearance_mm();
    room_left(&walls.at(0.0).shrunk(clearance), usable_height_mm, at, out);
    let slam = Slam::checked(spec.slam.as_ref().unwrap_or(&SlamSpec::SILENT), &format!("{at}/slam"), out);
    let yank = spec.yank.as_ref().map(|y| Slam::checked(y, &format!("{at}/yank"), out));
    let share = if slam.g() > GENTLE_G { SLAMMED_SHARE } else { 1.0 };
    Some(Space {
        kind: Kind::Drawer,
        walls,
        clearance_mm: clearance,
        usable_height_mm,
        entry: Entry::Above(walls.at(height).shrunk(clearance)),
        skew,
        reach_mm: spec.extension_mm.map_or(depth, |e| e.min(depth)),
        slam: Some(slam),
        yank,
        loads: Loads::of(Some(slam), yank, spec.ride.as_ref(), at, out),
        attitudes: vec![Attitude::Flat],
        payload_g: spec.slide_capacity_kg.map(|kg| kg * 1000.0 * share),
        lid: None,
        uncertainty_mm: u,
    })
}

/// The skew, and everything that is to be said about the diagonals.
fn skewed(spec: &DrawerSpec, width: f64, depth: f64, d: [f64; 2], u: f64, at: &str, out: &mut Vec<Finding>) -> Skew {
    let here = format!("{at}/diagonals_mm");
    let skew = Skew::from_diagonals(width, depth, d, u);
    if let Some(f) = diagonals_contradict(spec, d, u, &here) {
        out.push(f);
        return skew;
    }
    let clearance = spec.side_clearance_mm();
    let holder = [width - skew.width_lost_mm - 2.0 * clearance, depth - skew.depth_lost_mm - 2.0 * clearance];
    if let Some(mut f) = SKEW.finding(skew.angle_deg, &here) {
        let off = skew.angle_deg - if f.verdict == Verdict::Refuse { SKEW.refuse_above } else { SKEW.warn_above };
        f = f
            .have("width_lost_mm", skew.width_lost_mm)
            .have("uncertainty_mm", skew.uncertainty_mm)
            .have("holder_width_mm", holder[0])
            .have("holder_depth_mm", holder[1])
            .why(format!(
                "Drawer is {:.2}° out of square, {off:.2}° more than goes unsaid: holder narrowed by a further {:.1} mm (± {:.1}) to {:.1} × {:.1}.",
                skew.angle_deg, skew.width_lost_mm, skew.uncertainty_mm, holder[0], holder[1]
            ));
        out.push(f);
    }
    // the loss is as sure as the diagonals: a side clearance that it could eat is no clearance
    let sure = clearance - skew.uncertainty_mm / 2.0;
    if clearance >= SIDE.warn_below && sure < SIDE.refuse_below {
        let enough = ((SIDE.refuse_below + skew.uncertainty_mm / 2.0) * 10.0).ceil() / 10.0;
        let place = format!("{at}/side_clearance_mm");
        out.push(
            Finding::new("skew-uncertain", Verdict::Warn, here)
                .have("uncertainty_mm", skew.uncertainty_mm)
                .have("side_clearance_mm", clearance)
                .need("min", SIDE.refuse_below + skew.uncertainty_mm / 2.0)
                .why(format!(
                    "Diagonals read to ± {} mm leave the skew loss unsure by ± {} mm, which may eat all but {} mm of the side clearance.",
                    tidy(u),
                    tidy(skew.uncertainty_mm),
                    tidy(sure)
                ))
                .cure(format!("Leave {} mm at each side.", tidy(enough)), place, enough),
        );
    }
    skew
}

/// Width, depth and diagonals of one parallelogram: d₁² + d₂² = 2·(W² + D²). Derived.
fn diagonals_contradict(spec: &DrawerSpec, [d1, d2]: [f64; 2], u: f64, here: &str) -> Option<Finding> {
    let mean = ((d1 * d1 + d2 * d2) / 2.0).sqrt();
    let low = libm::hypot(spec.width_mm.smallest() - u, spec.depth_mm.smallest() - u);
    let high = libm::hypot(spec.width_mm.largest() + u, spec.depth_mm.largest() + u);
    let low = low * (1.0 - DIAGONAL_SHARE) - u - 2.0 * ROUND_CORNER * spec.corner_radius_mm();
    let high = high * (1.0 + DIAGONAL_SHARE) + u;
    let off = (low - mean).max(mean - high);
    (off > 0.0).then(|| {
        Finding::new("diagonals-contradict", Verdict::Refuse, here)
            .have("mean_diagonal_mm", mean)
            .have("from_width_and_depth_mm", libm::hypot(spec.width_mm.mean(), spec.depth_mm.mean()))
            .need("min", low)
            .need("max", high)
            .why(format!(
                "Diagonals of {} and {} mm, {} in the mean, do not belong to {} by {} mm, whose diagonals are {} to {}: off by {}. Measure again.",
                tidy(d1),
                tidy(d2),
                tidy(mean),
                tidy(spec.width_mm.mean()),
                tidy(spec.depth_mm.mean()),
                tidy(low),
                tidy(high),
                tidy(off)
            ))
    })
}

pub(super) fn note(spec: &DrawerSpec, at: &str, list: &mut Vec<DefaultUsed>) {
    let mut line = |name: &str, absent: bool, value: f64, unit: &'static str| {
        if absent {
            list.push(DefaultUsed { at: format!("{at}/{name}"), value, unit });
        }
    };
    line("measured_with", spec.measured_with.is_none(), Instrument::ASSUMED.uncertainty_mm(), "mm");
    line("extension_mm", spec.extension_mm.is_none(), spec.depth_mm.smallest(), "mm");
    // without diagonals the drawer is believed to be square
    line("diagonals_mm", spec.diagonals_mm.is_none(), 0.0, "deg");
    spec.slam.as_ref().unwrap_or(&SlamSpec::SILENT).note_used(&format!("{at}/slam"), list);
    if let Some(yank) = &spec.yank {
        yank.note_used(&format!("{at}/yank"), list);
    }
    if let Some(ride) = &spec.ride {
        ride.note_defaults(&format!("{at}/ride"), list);
    }
}
