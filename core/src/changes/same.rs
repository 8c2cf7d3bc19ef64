//! Whether two outlines are the same part: one laid on the other, moved, and turned end for end if need be.

use crate::geom::{DVec2, Region, to_boundary};

/// How an old outline is laid on a new one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laid {
    /// Turned by half a turn in its plane.
    pub turned: bool,
    /// Moved after that, mm.
    pub shift: DVec2,
    /// How far the two are then apart at the most, mm.
    pub off_mm: f64,
}

/// Outlines closer than this are the same, mm: half of what files are rounded to and cutters repeat.
pub const SAME_MM: f64 = 0.005;

impl Laid {
    /// The old outline where the new one is.
    #[must_use]
    pub fn put(&self, old: &Region) -> Region {
        let (x, y) = if self.turned { (-DVec2::X, -DVec2::Y) } else { (DVec2::X, DVec2::Y) };
        old.mapped(self.shift, x, y)
    }
}

/// Lays `old` on `new` both ways; the nearer one. Parts are never mirrored: their marked face would be hidden.
#[must_use]
pub fn laid(old: &Region, new: &Region) -> Laid {
    let one = |turned: bool| {
        let start = Laid { turned, shift: DVec2::ZERO, off_mm: f64::INFINITY };
        let shift = new.bounds().0 - start.put(old).bounds().0;
        let here = Laid { shift, ..start };
        Laid { off_mm: apart(&here.put(old), new), ..here }
    };
    let straight = one(false);
    if straight.off_mm <= SAME_MM {
        return straight;
    }
    let turned = one(true);
    if turned.off_mm < straight.off_mm { turned } else { straight }
}

/// The farthest that a corner or the middle of an edge of one lies from the boundary of the other, mm.
fn apart(a: &Region, b: &Region) -> f64 {
    let one_way = |p: &Region, q: &Region| {
        p.segments().flat_map(|s| [s.a, s.mid()]).map(|v| to_boundary(q, v).0).fold(0.0, f64::max)
    };
    let sizes = |r: &Region| r.bounds().1 - r.bounds().0;
    // the outer sizes alone tell most parts apart
    let by_size = (sizes(a) - sizes(b)).abs().max_element();
    if by_size > SAME_MM { by_size } else { one_way(a, b).max(one_way(b, a)) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Contour;

    fn plate(slot_x: f64) -> Region {
        let outer = Contour::rect(DVec2::ZERO, DVec2::new(100.0, 40.0));
        Region::new(outer, vec![Contour::rect(DVec2::new(slot_x, 10.0), DVec2::new(slot_x + 3.1, 22.0))])
    }

    #[test]
    fn a_part_moved_or_turned_end_for_end_is_the_same_and_a_slot_moved_is_not() {
        let (a, moved) = (plate(20.0), plate(20.0).moved(DVec2::new(3.0, -7.0)));
        let l = laid(&a, &moved);
        assert!(l.off_mm < 1e-9 && !l.turned && apart(&l.put(&a), &moved) < 1e-9);
        let turned = a.mapped(DVec2::new(100.0, 40.0), -DVec2::X, -DVec2::Y);
        let l = laid(&a, &turned);
        assert!(l.turned && l.off_mm < 1e-9, "{l:?}");
        let l = laid(&a, &plate(20.4));
        assert!((l.off_mm - 0.4).abs() < 1e-9, "{l:?}");
    }
}
