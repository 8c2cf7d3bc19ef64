//! What lies is held by the flanks of its saddles, by walls beside it, and by stops at its ends.

use super::{ALWAYS_G, FRICTION, Hold, Throw};
use crate::checks::boards::{Board, hits};
use crate::checks::held::Held;
use crate::geom::{DVec2, DVec3, Segment};
use crate::things::Solid;

/// Its axis runs with the throw when its cosine is above this, else across.
const ALONG_COS: f64 = 0.7;
/// A stop or wall this near to it, mm, still catches it.
const NEAR_MM: f64 = 12.0;
/// A panel whose normal is within this cosine of a direction counts as square to it.
const SQUARE_COS: f64 = 0.9;
/// A flank is touched when it is nearer than the clearance and this, mm.
const TOUCHES_MM: f64 = 0.15;
/// Places looked at on an edge of a flank: an arc's normal turns along it.
const PLACES: usize = 16;

pub(super) fn hold(h: &Held, boards: &[Board], throw: &Throw) -> Hold {
    if h.pose.z.dot(throw.way).abs() >= ALONG_COS { along(h, boards, throw) } else { across(h, boards, throw) }
}

/// Against a stop that is h high it tips over it when a > L/(2·(r − h)); without one it slides.
fn along(h: &Held, boards: &[Board], throw: &Throw) -> Hold {
    let how = "slides out endwise";
    let (r, length) = (h.berth.solid.max_radius(), h.berth.solid.height());
    let bottom = h.extent(-DVec3::Z) + h.pose.origin.z;
    let stop = hits(h, boards, throw.way, NEAR_MM, DVec3::Z)
        .iter()
        .filter(|c| boards[c.board].slab.frame.z.dot(throw.way).abs() >= ALONG_COS)
        .map(|c| c.high + bottom)
        .fold(0.0, f64::max);
    let needed = r - length / (2.0 * throw.g);
    let cure = format!("Give it an end stop {:.0} mm high above its underside.", needed.max(3.0));
    let g = if stop <= 0.0 {
        FRICTION
    } else if stop >= r {
        ALWAYS_G
    } else {
        (length / (2.0 * (r - stop))).max(FRICTION)
    };
    Hold::new(g, how, cure)
}

/// A round thing climbs a flank whose normal leans φ off the vertical when a > tan φ: a saddle of depth
/// s holds tan(acos(1 − s/r)), a V of half angle β holds cot β.
fn across(h: &Held, boards: &[Board], throw: &Throw) -> Hold {
    let Solid::Revolution(_) = h.berth.solid else { return flat(h, boards, throw) };
    let r = h.berth.solid.max_radius();
    let saddles = boards
        .iter()
        .filter(|b| b.slab.frame.z.dot(h.pose.z).abs() >= SQUARE_COS)
        .filter_map(|b| steepest_rad(h, b, throw.way))
        .map(libm::tan);
    let bottom = h.extent(-DVec3::Z) + h.pose.origin.z;
    let walls = hits(h, boards, throw.way, NEAR_MM, DVec3::Z)
        .into_iter()
        .filter(|c| boards[c.board].slab.frame.z.dot(throw.way).abs() >= SQUARE_COS)
        .map(|c| {
            let high = c.high + bottom;
            if high >= r { ALWAYS_G } else { libm::tan(libm::acos(1.0 - (high / r).max(0.0))) }
        });
    let g = saddles.chain(walls).fold(0.0, f64::max);
    let depth = r * (1.0 - libm::cos(libm::atan(throw.g)));
    Hold::new(
        g,
        "rolls out of its saddles",
        format!("Make the saddles {depth:.1} mm deep, or lay it along the travel."),
    )
}

/// What is not round slides, unless something upright is beside it.
fn flat(h: &Held, boards: &[Board], throw: &Throw) -> Hold {
    let stopped = !hits(h, boards, throw.way, NEAR_MM, DVec3::Z).is_empty();
    Hold::new(if stopped { ALWAYS_G } else { FRICTION }, "slides away", "Put a divider beside it.")
}

/// The steepest flank of a cross panel that the thing touches on the side to which it is thrown: the
/// angle of its normal off the vertical, up to a right angle. `None` where it touches none.
fn steepest_rad(h: &Held, b: &Board, way: DVec3) -> Option<f64> {
    let f = &b.slab.frame;
    let slope = f.z.dot(h.pose.z);
    let along = f.z.dot(f.origin + f.z * (b.slab.thickness / 2.0) - h.pose.origin) / slope;
    if along < 0.0 || along > h.berth.solid.height() {
        return None;
    }
    let r = h.berth.solid.radius_at(along);
    let middle = f.into_own(h.pose.out(DVec3::new(0.0, 0.0, along))).truncate();
    let (side, up) = (f.dir_own(way).truncate(), f.dir_own(DVec3::Z).truncate());
    let mine = h.holder == b.holder;
    let opening = h.berth.openings.iter().find(|o| mine && o.panel.0 == b.panel);
    let within = opening.map_or(0.0, |o| o.clearance_mm) + TOUCHES_MM;
    let flank = |s: Segment| {
        (0..=PLACES).filter_map(move |k| {
            let t = k as f64 / PLACES as f64;
            let (p, n) = (s.at(t), out_of(&s, t));
            let touches = (p.distance(middle) - r).abs() <= within;
            // the flank looks back at the thing, and upward
            let (back, rise) = (-n.dot(side), n.dot(up));
            (touches && back > 0.0 && rise > -1e-9 && n.dot(middle - p) > 0.0).then(|| libm::atan2(back, rise.max(0.0)))
        })
    };
    b.region.segments().flat_map(flank).max_by(f64::total_cmp)
}

/// Unit normal of an edge out of the material, at a share of its length. Material is on its left.
fn out_of(s: &Segment, t: f64) -> DVec2 {
    match s.center() {
        None => -s.start_dir().perp(),
        Some(c) => (s.at(t) - c).normalize_or_zero() * s.bulge.signum(),
    }
}
