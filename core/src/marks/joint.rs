//! Where a panel meets another, in the panel's own plane: beside that strip its letters stand.

use super::lettering::Lettering;
use super::room::Room;
use super::{CLEAR_MM, HEIGHTS_MM};
use crate::finish::Built;
use crate::geom::{DVec2, DVec3, Frame};
use crate::joints::{Section, Side};

/// The strip of a panel in which a partner stands or against which it rests.
pub struct Beside {
    /// Middle of the strip.
    middle: DVec2,
    /// Unit vector along the common line.
    along: DVec2,
    /// Half the length that both panels share.
    half_length: f64,
    /// Half the strip's width.
    half_width: f64,
    /// Unit vectors across the line on which letters may stand, the body's side first.
    ways: [DVec2; 2],
}

/// How many places along a joint are tried, its middle first: an even spread over 7/8 of it.
const PLACES: i32 = 15;

/// The strip of meeting `i` on a panel; `None` when the panel has no part in it, or the two have no
/// line or no length in common.
pub fn of(built: &Built, i: usize, panel: usize) -> Option<Beside> {
    let m = built.assembly.meetings.get(i)?;
    let side = match panel {
        p if p == m.a.0 => Side::A,
        p if p == m.b.0 => Side::B,
        _ => return None,
    };
    let (a, b) = (built.assembly.panels.get(m.a.0)?, built.assembly.panels.get(m.b.0)?);
    let x = Section::between(&a.slab, &b.slab)?;
    let reach = |p: usize| built.finished.panels.get(p).map(|f| f.blank.reach(x.e));
    let ((a0, a1), (b0, b1)) = (reach(m.a.0)?, reach(m.b.0)?);
    let (from, to) = (a0.max(b0), a1.min(b1));
    let own = built.assembly.panels.get(panel)?;
    let (lo, hi) = x.range(side, &x.crossing());
    let u = x.across(side);
    let flat = |p: DVec3| own_plane(&own.slab.frame, p);
    let dir = |d: DVec3| DVec2::new(own.slab.frame.x.dot(d), own.slab.frame.y.dot(d));
    // the partner stands on the far side of a panel that ends there
    let body = -dir(u) * x.toward(side, own.seed);
    (to > from).then(|| Beside {
        middle: flat(x.e * ((from + to) / 2.0) + u * ((lo + hi) / 2.0)),
        along: dir(x.e),
        half_length: (to - from) / 2.0,
        half_width: (hi - lo) / 2.0,
        ways: [body, -body],
    })
}

/// A point of the panel's plane in its own x and y; what stands off the plane falls onto it.
fn own_plane(frame: &Frame, p: DVec3) -> DVec2 {
    frame.into_own(p).truncate()
}

impl Beside {
    /// Takes the best place that is free: large letters well clear before small ones near the cut.
    pub fn place(&self, room: &mut Room, words: impl Fn(f64) -> Lettering) -> Option<Vec<Vec<DVec2>>> {
        for height in HEIGHTS_MM {
            let words = words(height);
            for clear in CLEAR_MM {
                for k in 0..PLACES {
                    // 0, +1, −1, +2, −2 …
                    let step = if k % 2 == 0 { -k / 2 } else { (k + 1) / 2 };
                    let s = self.half_length * f64::from(step) / 8.0;
                    for way in self.ways {
                        let off = self.half_width + clear + words.reach(way);
                        let at = self.middle + self.along * s + way * off;
                        // a hair less than the distance asked for: the place was computed with it
                        if room.take(&words, at, clear - HAIR_MM) {
                            return Some(words.at(at));
                        }
                    }
                }
            }
        }
        None
    }
}

/// Rounding of a computed place, mm.
const HAIR_MM: f64 = 1e-6;
