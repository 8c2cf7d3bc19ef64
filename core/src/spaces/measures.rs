//! Readings that several kinds of space have in common, and how far they may disagree.

use super::house::{BOW_MM, BOW_SHARE, LEAST_HEIGHT_MM, LEAST_SIDE_MM, SLIP_SHARE};
use super::plan::Plan;
use crate::finding::{Finding, Verdict};
use crate::units::{Readings, Row, tidy};

/// The smallest of several readings of an inside dimension; readings that cannot be of the same
/// dimension are refused, and a strong bow is warned about.
pub(super) fn smallest(readings: &Readings, at: &str, out: &mut Vec<Finding>) -> f64 {
    let (low, high) = (readings.smallest(), readings.largest());
    let spread = high - low;
    let bow = BOW_MM.max(BOW_SHARE * low);
    let (verdict, most) = if spread > (SLIP_SHARE * low).max(bow) {
        (Verdict::Refuse, (SLIP_SHARE * low).max(bow))
    } else if spread > bow {
        (Verdict::Warn, bow)
    } else {
        return low;
    };
    out.push(
        Finding::new("readings-disagree", verdict, at)
            .have("smallest_mm", low)
            .have("largest_mm", high)
            .need("max_difference_mm", most)
            .why(format!(
                "Readings of the same dimension lie between {} and {} mm: {} mm apart, {} more than a bowed wall explains. Measure again; the smallest rules.",
                tidy(low),
                tidy(high),
                tidy(spread),
                tidy(spread - most)
            )),
    );
    low
}

/// Inside and outside of the same dimension: the wall between them must be there.
pub(super) fn outside(
    inside: &Readings,
    outside_mm: Option<f64>,
    name: &'static str,
    at: &str,
    out: &mut Vec<Finding>,
) {
    let Some(outer) = outside_mm else { return };
    let inner = inside.largest();
    let wall = (outer - inner) / 2.0;
    if wall > 0.0 {
        return;
    }
    let mut f = Finding::new("walls-negative", Verdict::Refuse, format!("{at}/outside_{name}"))
        .have("outside_mm", outer)
        .have("inside_mm", inner)
        .have("wall_mm", wall)
        .need("wall_above_mm", 0.0)
        .why(format!(
            "{} mm outside and {} mm inside means walls of {} mm. One of the two was measured or typed wrong: measure again.",
            tidy(outer),
            tidy(inner),
            tidy(wall)
        ));
    if wall < 0.0 && inside.all().len() == 1 {
        let put = |path: String, v: f64| crate::finding::PatchOp { op: "add", path, value: Some(v.into()) };
        let swap = vec![put(format!("{at}/{name}"), outer), put(format!("{at}/outside_{name}"), inner)];
        f = f.cure_with("If the two were swapped, swap them back.", swap);
    }
    out.push(f);
}

/// Width and depth against one row, each with its own place.
pub(super) fn pair(sides: Option<[f64; 2]>, row: &Row, at: &str, out: &mut Vec<Finding>) {
    for (i, side) in sides.iter().flatten().enumerate() {
        row.check(*side, &format!("{at}/{}/{i}", row.name), out);
    }
}

/// A corner cannot be rounder than the smaller side allows.
pub(super) fn corner(radius_mm: f64, width_mm: f64, depth_mm: f64, at: &str, out: &mut Vec<Finding>) {
    let most = width_mm.min(depth_mm) / 2.0;
    if radius_mm > most {
        out.push(
            Finding::new("corner-too-round", Verdict::Refuse, at)
                .have("corner_radius_mm", radius_mm)
                .need("max", most)
                .why(format!(
                    "A radius of {} mm is more than half of the smaller side by {} mm: measure the corner again.",
                    tidy(radius_mm),
                    tidy(radius_mm - most)
                )),
        );
    }
}

/// What is left after all clearances must hold something.
pub(super) fn room_left(plan: &Plan, height_mm: f64, at: &str, out: &mut Vec<Finding>) {
    let left = [
        ("width", plan.width_mm, LEAST_SIDE_MM),
        ("depth", plan.depth_mm, LEAST_SIDE_MM),
        ("height", height_mm, LEAST_HEIGHT_MM),
    ];
    for (what, left, least) in left {
        if left < least {
            out.push(
                Finding::new("space-too-small", Verdict::Refuse, at).have("left_mm", left).need("min", least).why(
                    format!(
                        "After clearances {} mm of the {what} are left: {} mm short of anything that a holder needs.",
                        tidy(left),
                        tidy(least - left)
                    ),
                ),
            );
        }
    }
}
