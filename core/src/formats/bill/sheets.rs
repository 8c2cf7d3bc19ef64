//! Sheets of the bill, and what everything adds up to.

use super::super::names;
use super::super::numbers::{mm, mm2, short};
use crate::made::{Made, Sheet};
use serde::Serialize;

/// One sheet.
#[derive(Serialize)]
pub struct SheetRow<'a> {
    /// Number over the whole job.
    pub number: usize,
    /// Its cut file, without the ending.
    pub file: String,
    /// The caller's name of the stock.
    pub stock: &'a str,
    /// The material.
    pub material: &'a str,
    /// What is written on it, where the request says so.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub written: Option<&'a str>,
    /// Thickness of the sheets that it has to be taken from.
    pub thickness_mm: f64,
    /// Which way its face grain runs: along its `width` or `height`; null where that does not matter.
    pub grain: Option<&'static str>,
    /// Width and height.
    pub size_mm: [f64; 2],
    /// Codes of the parts on it.
    pub parts: Vec<&'a str>,
    /// Share of its area that the parts take.
    pub utilisation: f64,
    /// Largest rectangle left: x, y, width, height.
    pub offcut_mm: [f64; 4],
    /// Length of all cuts, once each.
    pub cut_mm: f64,
    /// Length of all marks.
    pub mark_mm: f64,
    /// Way between cuts.
    pub travel_mm: f64,
    /// How often the beam burns through.
    pub pierces: usize,
    /// Minutes on the machine.
    pub minutes: f64,
    /// Price of sheet and minutes, as far as they were given; null when neither was.
    pub cost: Option<f64>,
}

/// Sums over the job.
#[derive(Serialize)]
pub struct Totals {
    /// Number of parts.
    pub parts: usize,
    /// Number of sheets.
    pub sheets: usize,
    /// Number of things with a berth of their own.
    pub things: usize,
    /// Length of all cuts.
    pub cut_mm: f64,
    /// Minutes on the machine.
    pub minutes: f64,
    /// Mass of all parts.
    pub mass_g: f64,
    /// Price of all sheets and minutes, as far as they were given.
    pub cost: Option<f64>,
}

/// All sheets.
pub fn rows(made: &Made) -> Vec<SheetRow<'_>> {
    made.sheets.iter().map(|s| row(made, s)).collect()
}

fn row<'a>(made: &'a Made, s: &'a Sheet) -> SheetRow<'a> {
    let stock = made.job.stocks.get(s.stock);
    let supply = stock.and_then(|k| k.supplies.get(s.supply));
    let runs = |upright: bool| if upright { "height" } else { "width" };
    SheetRow {
        number: s.number,
        file: names::of_sheet(made, s),
        stock: stock.map_or("", |k| k.id.as_str()),
        material: stock.map_or("", |k| k.material.as_str()),
        written: supply.and_then(|k| k.id.as_deref()),
        thickness_mm: mm(supply.map_or(0.0, |k| k.thickness_mm)),
        grain: supply.filter(|_| stock.is_some_and(|k| k.keeps_grain)).map(|k| runs(k.grain_upright)),
        size_mm: [mm2(s.size_mm.0), mm2(s.size_mm.1)],
        parts: s.places.iter().filter_map(|p| made.parts.get(p.part)).map(|p| p.code.as_str()).collect(),
        utilisation: short(s.utilisation),
        offcut_mm: s.offcut_mm.map(mm2),
        cut_mm: mm2(s.route.cut_mm),
        mark_mm: mm2(s.route.mark_mm),
        travel_mm: mm2(s.route.travel_mm),
        pierces: s.route.pierces,
        minutes: short(s.route.minutes),
        cost: cost(made, s).map(mm2),
    }
}

/// What a sheet costs: itself and its minutes, whichever of the two prices were given.
fn cost(made: &Made, s: &Sheet) -> Option<f64> {
    let sheet = made.job.stocks.get(s.stock).and_then(|k| k.supplies.get(s.supply)?.cost);
    let minutes = made.job.cutter.cost_per_minute.map(|c| c * s.route.minutes);
    match (sheet, minutes) {
        (None, None) => None,
        (a, b) => Some(a.unwrap_or(0.0) + b.unwrap_or(0.0)),
    }
}

/// Sums over the rows, so that they are what a reader of the rows gets.
pub fn totals(made: &Made, sheets: &[SheetRow]) -> Totals {
    let costs: Vec<f64> = sheets.iter().filter_map(|s| s.cost).collect();
    Totals {
        parts: made.parts.len(),
        sheets: sheets.len(),
        things: made.holders.iter().map(|h| h.assembly.berths.len()).sum(),
        cut_mm: mm2(sheets.iter().map(|s| s.cut_mm).sum()),
        minutes: short(sheets.iter().map(|s| s.minutes).sum()),
        mass_g: short(made.parts.iter().map(|p| short(p.mass_g)).sum()),
        cost: (!costs.is_empty()).then(|| mm2(costs.iter().sum())),
    }
}
