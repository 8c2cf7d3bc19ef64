//! What is refused before anything is placed.

use super::board::Bench;
use super::fault::{NestFault, TooLarge};
use super::nofit::NoFits;
use super::outline::is_sound;
use super::shape::Catalogue;
use super::spot::Sweep;
use super::stock::Stock;
use super::types::{NestPart, Rules, SheetSupply};

/// Longest side of a sheet or part: whole numbers of units stay far from overflow.
pub const LARGEST_MM: f64 = 20_000.0;

/// Checks every number and measures parts and sheets.
pub fn take_in(parts: &[NestPart], sheets: &[SheetSupply], rules: &Rules) -> Result<Bench, NestFault> {
    check_numbers(sheets, rules)?;
    let bad: Vec<usize> = parts.iter().filter(|p| !is_sound(&p.region, LARGEST_MM)).map(|p| p.id).collect();
    if !bad.is_empty() {
        return Err(NestFault::BadOutline { parts: bad });
    }
    if let Some(s) = sheets.iter().find(|s| s.width_mm.min(s.height_mm) <= 2.0 * rules.margin_mm) {
        return Err(NestFault::NoRoom {
            supply: s.id,
            width_mm: s.width_mm,
            height_mm: s.height_mm,
            margin_mm: rules.margin_mm,
        });
    }
    let catalogue = Catalogue::new(parts, rules);
    let stocks = sheets.iter().map(|s| Stock::new(s, rules, catalogue.fine)).collect();
    let bench = Bench {
        catalogue,
        stocks,
        sweep: Sweep::default(),
        no_fits: NoFits::default(),
        stretches: vec![],
        windows: vec![],
    };
    check_sizes(parts, &bench)?;
    Ok(bench)
}

fn check_numbers(sheets: &[SheetSupply], rules: &Rules) -> Result<(), NestFault> {
    let within = |field: &'static str, value: f64, max: f64| {
        if (0.0..=max).contains(&value) { Ok(()) } else { Err(NestFault::BadNumber { field, value, max }) }
    };
    within("gap_mm", rules.gap_mm, LARGEST_MM)?;
    within("margin_mm", rules.margin_mm, LARGEST_MM)?;
    for s in sheets {
        within("width_mm", s.width_mm, LARGEST_MM)?;
        within("height_mm", s.height_mm, LARGEST_MM)?;
        for v in s.keep_outs.iter().flat_map(|c| &c.vertices) {
            within("keep_outs x", v.p.x.abs(), LARGEST_MM)?;
            within("keep_outs y", v.p.y.abs(), LARGEST_MM)?;
            within("keep_outs bulge", v.bulge.abs(), f64::MAX)?;
        }
    }
    Ok(())
}

fn check_sizes(parts: &[NestPart], bench: &Bench) -> Result<(), NestFault> {
    if bench.stocks.is_empty() {
        return if parts.is_empty() { Ok(()) } else { Err(NestFault::NoSheets) };
    }
    let list: Vec<TooLarge> = parts.iter().enumerate().filter_map(|(i, p)| too_large(bench, i, p.id)).collect();
    if list.is_empty() { Ok(()) } else { Err(NestFault::TooLarge(list)) }
}

/// The turn and sheet that come nearest to taking the part, if none takes it.
fn too_large(bench: &Bench, index: usize, part: usize) -> Option<TooLarge> {
    let kind = &bench.catalogue.kinds[bench.catalogue.kind_of[index] as usize];
    let mut nearest: Option<TooLarge> = None;
    for shape in kind.shapes.iter().map(|&s| &bench.catalogue.shapes[s as usize]) {
        for stock in &bench.stocks {
            let (x, y) = stock.reach(shape);
            if x >= 0 && y >= 0 {
                return None;
            }
            let miss = TooLarge {
                part,
                width_mm: shape.size.x,
                height_mm: shape.size.y,
                room_width_mm: stock.room.x,
                room_height_mm: stock.room.y,
            };
            if nearest.is_none_or(|n| miss.over_mm() < n.over_mm()) {
                nearest = Some(miss);
            }
        }
    }
    nearest
}
