//! Tabs through slots: one slab ends at another, which passes.

use super::Ends;
use super::cells::{Cell, Cuts, beyond, without};
use super::section::{Rect, Section, Side};

/// A tab is this many of the label's thicknesses wide where there is room: three true ones (common
/// practice, no source) in a sheet that is a tenth thicker than it says.
pub const TAB_PER_THICKNESS: f64 = 3.3;
/// No tab is made narrower than this: two true thicknesses (common practice), with the same tenth.
pub const MIN_TAB_PER_THICKNESS: f64 = 2.2;
/// Tabs stand at most this many thicknesses apart (common practice).
pub const SPACING_PER_THICKNESS: f64 = 30.0;
/// A slot is longer than its tab by this much in all, so that it can be pushed in (common practice).
pub const END_PLAY_MM: f64 = 0.2;

/// Places tabs on the free stretches of an edge: at least two where two fit, none farther apart
/// than the spacing rule, as wide as the rule allows. Tabs sit off the middle of the stretches, at
/// unequal distances from the two ends, so that a panel turned end for end misses its slots.
/// Empty when not even one tab of the smallest width fits.
#[must_use]
pub fn place(free: &[(f64, f64)], thickness: f64, between: f64) -> Vec<(f64, f64)> {
    for per in [TAB_PER_THICKNESS, MIN_TAB_PER_THICKNESS] {
        let width = per * thickness;
        let fits: Vec<_> = free.iter().copied().filter(|f| f.1 - f.0 >= width).collect();
        let mut tabs: Vec<(f64, f64)> = fits.iter().flat_map(|f| spread(*f, width, thickness, between, 1)).collect();
        if tabs.len() == 1 {
            tabs = fits.iter().flat_map(|f| spread(*f, width, thickness, between, 2)).collect();
        }
        let enough = tabs.len() >= 2 || per == MIN_TAB_PER_THICKNESS;
        if enough && !tabs.is_empty() {
            return tabs;
        }
        // one wide tab beats none, but two narrow ones beat one
        if per == TAB_PER_THICKNESS && !tabs.is_empty() {
            let narrow = place_narrow(free, thickness, between);
            return if narrow.len() >= 2 { narrow } else { tabs };
        }
    }
    vec![]
}

fn place_narrow(free: &[(f64, f64)], thickness: f64, between: f64) -> Vec<(f64, f64)> {
    let width = MIN_TAB_PER_THICKNESS * thickness;
    free.iter().filter(|f| f.1 - f.0 >= width).flat_map(|f| spread(*f, width, thickness, between, 2)).collect()
}

/// Tabs on one stretch.
fn spread(free: (f64, f64), width: f64, thickness: f64, between: f64, least: usize) -> Vec<(f64, f64)> {
    let room = free.1 - free.0;
    let most = (((room + between) / (width + between)).floor() as usize).max(1);
    let wanted = (room / (SPACING_PER_THICKNESS * thickness)).ceil() as usize + 1;
    let n = if room < 4.0 * width { least } else { wanted }.min(most);
    let slack = room - width * n as f64;
    if n == 1 {
        // a little off the middle: see above
        let at = free.0 + slack * 0.45;
        return vec![(at, at + width)];
    }
    // the outer tabs stay a sixth of a pitch off the ends, a little more at one end than the other
    let inset = (slack / n as f64 / 4.0).min(slack / 2.0);
    let (lo, hi) = (free.0 + inset * 0.9, free.1 - inset * 1.1 - width);
    (0..n).map(|i| lo + (hi - lo) * i as f64 / (n - 1) as f64).map(|at| (at, at + width)).collect()
}

/// Slots in B for the given tabs of A; A gives up all else beyond B's near face. The fit is added
/// once, in B's own plane, half a side.
#[must_use]
pub fn cut(x: &Section, a: &Ends, tabs: &[(f64, f64)], fit_mm: f64) -> Cuts {
    let mut cuts = Cuts::default();
    let slot = slot_range(x, a, fit_mm);
    for (from, to) in tabs {
        cuts.cells.push(Cell { from: *from, to: *to, owner: Side::A });
        let s = (from - END_PLAY_MM / 2.0, to + END_PLAY_MM / 2.0);
        cuts.lose(Side::B, Rect { s, u: slot });
    }
    let (near, sign) = x.near(Side::A, a.seed);
    for gap in without((f64::NEG_INFINITY, f64::INFINITY), tabs) {
        cuts.lose(Side::A, Rect { s: gap, u: beyond(near, sign) });
    }
    cuts
}

/// From and to, across the line in B's plane, of the slot that A's tabs need. For slabs `t` through
/// `T` at φ this is (t + T·cosφ)/sinφ wide for a tab of any length and T·cotφ + t·sinφ for a flush
/// one, as follows from clipping the slab's section (and is tested against these formulas).
#[must_use]
pub fn slot_range(x: &Section, a: &Ends, fit_mm: f64) -> (f64, f64) {
    let piece = x.ended(&x.crossing(), Side::A, a.toward(x, Side::A), a.outermost(x, Side::A));
    let (lo, hi) = x.range(Side::B, &piece);
    (lo - fit_mm / 2.0, hi + fit_mm / 2.0)
}
