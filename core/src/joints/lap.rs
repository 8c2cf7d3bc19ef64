//! Cross-lap: two slabs that both pass, each slotted for the other.

use super::Ends;
use super::cells::{Cell, Cuts, beyond};
use super::section::{Rect, Section, Side};

/// The two depths sum to the height plus this, so that the edges meet flush and not the slots'
/// bottoms (common practice, no source).
pub const DEPTH_PLAY_MM: f64 = 0.5;

/// The end at the side of `up` of the stretch that both slabs share within `clear`, and its length.
pub(super) fn common(x: &Section, a: &Ends, b: &Ends, up: f64, clear: (f64, f64)) -> Option<(f64, f64)> {
    let band = |side| x.range(side, &x.crossing());
    let ia = a.blank.outer(x.e, x.ua, band(Side::A))?;
    let ib = b.blank.outer(x.e, x.ub, band(Side::B))?;
    let both = (ia.0.max(ib.0).max(clear.0), ia.1.min(ib.1).min(clear.1));
    (both.1 > both.0).then_some((if up > 0.0 { both.1 } else { both.0 }, both.1 - both.0))
}

/// A is slotted from its end at the side of `up` (±1 along the line) over `depth_share` of the
/// common height, B from the other end over the rest; each slot is as wide as the other slab's
/// section plus the fit. Only the stretch within `clear` counts: beyond it both end in other panels and
/// have tabs at the most. `None` when the two share no height.
#[must_use]
pub fn cut(x: &Section, a: &Ends, b: &Ends, up: f64, depth_share: f64, fit_mm: f64, clear: (f64, f64)) -> Option<Cuts> {
    let (top, height) = common(x, a, b, up, clear)?;
    let mid = top - up * height * depth_share;
    let foot = top - up * height;
    let mut cuts = Cuts::default();
    let wide = |side: Side| {
        let (lo, hi) = x.range(side, &x.crossing());
        (lo - fit_mm / 2.0, hi + fit_mm / 2.0)
    };
    cuts.cells.push(Cell { from: mid.min(top), to: mid.max(top), owner: Side::B });
    cuts.cells.push(Cell { from: mid.min(foot), to: mid.max(foot), owner: Side::A });
    cuts.lose(Side::A, Rect { s: beyond(mid - up * DEPTH_PLAY_MM / 2.0, up), u: wide(Side::A) });
    cuts.lose(Side::B, Rect { s: beyond(mid + up * DEPTH_PLAY_MM / 2.0, -up), u: wide(Side::B) });
    Some(cuts)
}
