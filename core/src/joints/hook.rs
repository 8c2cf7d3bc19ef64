//! Hook: one slab ends at another and hangs in a slot of it that is open to the top.

use super::Ends;
use super::cells::{Cell, Cuts, beyond};
use super::lap::{DEPTH_PLAY_MM, common};
use super::section::{Rect, Section, Side};
use super::tab::slot_range;

/// B's slot takes `depth_share` of the common height from its open end (the end at the side of
/// `up`, ±1 along the line); A keeps its end there and gives up what lies below. `None` when the two
/// share no height.
#[must_use]
pub fn cut(x: &Section, a: &Ends, b: &Ends, up: f64, depth_share: f64, fit_mm: f64) -> Option<Cuts> {
    let (top, height) = common(x, a, b, up, (f64::NEG_INFINITY, f64::INFINITY))?;
    let mid = top - up * height * depth_share;
    let mut cuts = Cuts::default();
    let (near, sign) = x.near(Side::A, a.seed);
    cuts.cells.push(Cell { from: mid.min(top), to: mid.max(top), owner: Side::A });
    cuts.lose(Side::B, Rect { s: beyond(mid - up * DEPTH_PLAY_MM / 2.0, up), u: slot_range(x, a, fit_mm) });
    cuts.lose(Side::A, Rect { s: beyond(mid + up * DEPTH_PLAY_MM / 2.0, -up), u: beyond(near, sign) });
    Some(cuts)
}
