//! What leans leaves by sliding up its own slope, nose first.

use super::{ALWAYS_G, FRICTION, Hold, Throw};
use crate::checks::held::Held;
use crate::geom::DVec3;

/// A nose that points less than this to where it is thrown (cosine) is not thrown out.
const ASIDE_COS: f64 = 0.1;

/// A leaning thing leaves when the deceleration exceeds tan(θ + atan μ) and its speed carries it up
/// over what holds it (calculated: v²/2g).
pub(super) fn hold(h: &Held, throw: &Throw) -> Hold {
    let how = "slides out of its place, nose first,";
    let cure = "Turn the noses to the hand and the bases to the back: then it is pushed into its stop.";
    let level = DVec3::new(h.pose.z.x, h.pose.z.y, 0.0).normalize_or_zero() * h.pose.z.z.signum();
    let toward = level.dot(throw.way);
    if toward <= ASIDE_COS {
        return Hold::new(ALWAYS_G, how, cure);
    }
    let lean = h.lean_deg().abs().to_radians();
    let angle = lean + libm::atan(FRICTION);
    // at 90° and more no push along the floor lifts it
    let quasi = if angle >= std::f64::consts::FRAC_PI_2 { ALWAYS_G } else { libm::tan(angle) / toward };
    let climbs = throw.climb_mm.is_none_or(|c| c >= held_by_mm(h) * libm::sin(lean));
    Hold::new(if climbs { quasi } else { ALWAYS_G }, how, cure)
}

/// How far it must slide along its axis until its base has left the last panel that it passes through, mm.
fn held_by_mm(h: &Held) -> f64 {
    let axis = h.berth.pose.z;
    let up = if h.pose.z.z >= 0.0 { 1.0 } else { -1.0 };
    h.berth
        .openings
        .iter()
        .filter_map(|o| {
            let slab = h.built.assembly.panels.get(o.panel.0)?.slab;
            let n = slab.frame.z;
            let along = n.dot(axis) * up;
            let base = n.dot(h.berth.pose.origin - slab.frame.origin);
            let to = |level: f64| (level - base) / along;
            (along.abs() > 1e-6).then(|| to(0.0).max(to(slab.thickness)))
        })
        .fold(0.0, f64::max)
}
