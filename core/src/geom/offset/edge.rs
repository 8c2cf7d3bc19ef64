//! One edge moved to its right, and what is left of it between its new neighbours.

use super::{NO_LENGTH_MM, OffsetError, OffsetFault};
use crate::geom::{DVec2, Segment};

/// An edge after the move, and the edge (or corner) it came from.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moved {
    pub new: Segment,
    pub old: Segment,
}

/// Unit normal to the right of a direction: into the void.
pub(super) fn right(dir: DVec2) -> DVec2 {
    -dir.perp()
}

/// The whole edge moved to its right by `d`, as if it had no neighbours. An arc keeps its centre and its angle:
/// its radius grows by `d` where it turns left, and falls where it turns right.
pub(super) fn carrier(s: &Segment, d: f64) -> Result<Segment, OffsetError> {
    let radius = s.radius() + d * s.bulge.signum();
    if !s.is_line() && radius <= NO_LENGTH_MM {
        return Err(OffsetError {
            fault: OffsetFault::ArcVanishes,
            contour: 0,
            at: s.mid(),
            distance_mm: d,
            by_mm: -radius,
        });
    }
    Ok(Segment::new(s.a + right(s.start_dir()) * d, s.b + right(s.end_dir()) * d, s.bulge))
}

/// The part of the moved edge between its new ends.
pub(super) fn between(old: &Segment, moved: &Segment, from: DVec2, to: DVec2, d: f64) -> Result<Moved, OffsetError> {
    let (length, bulge) = match moved.center() {
        None => ((to - from).dot(old.start_dir()), 0.0),
        Some(c) => {
            // the ends slide along the circle: the sweep changes by how far each of them went
            let slid = |was: DVec2, is: DVec2| {
                let (u, v) = (was - c, is - c);
                libm::atan2(u.perp_dot(v), u.dot(v))
            };
            let sweep = moved.sweep_rad() + slid(moved.b, to) - slid(moved.a, from);
            let kept = if moved.bulge > 0.0 { sweep } else { -sweep };
            (kept * moved.radius(), libm::tan(sweep / 4.0))
        }
    };
    let whole_circle = moved.radius() * 2.0 * core::f64::consts::PI;
    if length < -NO_LENGTH_MM || length >= whole_circle {
        let fault = if old.is_line() { OffsetFault::EdgeVanishes } else { OffsetFault::ArcVanishes };
        let by_mm = if length < 0.0 { -length } else { length - whole_circle };
        return Err(OffsetError { fault, contour: 0, at: old.mid(), distance_mm: d, by_mm });
    }
    Ok(Moved { new: Segment::new(from, to, bulge), old: *old })
}
