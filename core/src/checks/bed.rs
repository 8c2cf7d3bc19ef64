//! How a part may lie on its sheets: which way round, and by how much it is too large.

use crate::assembly::Panel;
use crate::geom::{DVec2, Region};
use crate::material::{Batch, Stock, Supply};

/// A part against the sheet and the turn that come nearest to taking it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lie {
    /// Turn about its own zero, degrees.
    pub turn_deg: f64,
    /// Its size as it is drawn, in that turn.
    pub size_mm: [f64; 2],
    /// What of the sheet may hold it.
    pub room_mm: [f64; 2],
}

impl Lie {
    /// By how much it is too large in each direction; negative where there is room.
    pub(super) fn over_mm(&self) -> [f64; 2] {
        [self.size_mm[0] - self.room_mm[0], self.size_mm[1] - self.room_mm[1]]
    }

    /// The worse of both.
    pub(super) fn worst_mm(&self) -> f64 {
        let [x, y] = self.over_mm();
        x.max(y)
    }
}

/// Quarter turns and half turns of which the bounds differ.
const QUARTERS: [f64; 2] = [0.0, 90.0];
/// A part may lie a ten-thousandth over: outlines are not exact to less.
const SAME_MM: f64 = 1e-4;

/// The direction of a part's face grain as it is cut, in degrees from its own x axis, from 0 to below 180;
/// `None` where it may be turned as one likes.
///
/// That is the family's wish, unless the part only fits its sheets with the grain across, and the caller said
/// nothing of grain. `outline` is the finished one.
#[must_use]
pub fn grain_deg(stock: &Stock, panel: &Panel, outline: &Region) -> Option<f64> {
    let wish = panel.grain.angle_deg().filter(|_| stock.keeps_grain)?;
    let fits = |angle: f64| nearest(stock, outline, Some(angle)).is_none_or(|lie| lie.worst_mm() <= SAME_MM);
    let across = (wish + 90.0).rem_euclid(180.0);
    Some(if !stock.insists_on_grain && !fits(wish) && fits(across) { across } else { wish })
}

/// The sheet and turn that come nearest to taking a part whose grain lies so; `None` for a stock without sheets.
pub(super) fn nearest(stock: &Stock, outline: &Region, grain_deg: Option<f64>) -> Option<Lie> {
    among(stock, stock.supplies.iter(), outline, grain_deg)
}

/// Whether a sheet of a batch is large enough for a panel.
#[must_use]
pub fn batch_takes(stock: &Stock, batch: &Batch, panel: &Panel, outline: &Region) -> bool {
    let supplies = batch.supplies.iter().filter_map(|&i| stock.supplies.get(i));
    among(stock, supplies, outline, grain_deg(stock, panel, outline)).is_some_and(|lie| lie.worst_mm() <= SAME_MM)
}

fn among<'a>(
    stock: &Stock,
    supplies: impl Iterator<Item = &'a Supply>,
    outline: &Region,
    grain_deg: Option<f64>,
) -> Option<Lie> {
    let lies = supplies.flat_map(|s| turns(stock, s, grain_deg).into_iter().map(move |t| (s, t)));
    lies.map(|(supply, turn_deg)| {
        let (low, high) = turned_bounds(outline, turn_deg);
        let size = high - low + DVec2::splat(stock.drawn_kerf_mm);
        Lie { turn_deg, size_mm: size.to_array(), room_mm: supply.usable_mm(stock.margin_mm) }
    })
    .min_by(|a, b| a.worst_mm().total_cmp(&b.worst_mm()))
}

/// The turns of which the bounds differ, on one sheet.
fn turns(stock: &Stock, supply: &Supply, grain_deg: Option<f64>) -> Vec<f64> {
    match grain_deg {
        Some(own) => vec![if supply.grain_upright { 90.0 } else { 0.0 } - own],
        None if stock.turn_step_deg < 90.0 => {
            let steps = (180.0 / stock.turn_step_deg).ceil() as usize;
            (0..steps).map(|i| i as f64 * stock.turn_step_deg).collect()
        }
        None => QUARTERS.to_vec(),
    }
}

fn turned_bounds(outline: &Region, turn_deg: f64) -> (DVec2, DVec2) {
    if turn_deg == 0.0 { outline.bounds() } else { outline.turned(turn_deg.to_radians()).bounds() }
}
