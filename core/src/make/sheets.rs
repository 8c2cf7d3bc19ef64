//! Sheets: the drawn parts of each stock nested and routed.

use super::lay;
use super::shortage::{Place, Shortage};
use crate::job::{EffortSpec, Job, Limits};
use crate::made::{Part, Placed, Sheet, laid};
use crate::nest::{Effort, Layout, NestFault, NestPart, Rules, SheetLayout, SheetSupply, nest};
use crate::route::{self, Motion};

/// Nests and routes every stock's parts, each batch of equally thick sheets for itself.
pub fn sheets(job: &Job, parts: &[Part], limits: &Limits, stop: &dyn Fn() -> bool) -> Result<Vec<Sheet>, Shortage> {
    let (mut all, mut short) = (vec![], Shortage::default());
    for (stock, s) in job.stocks.iter().enumerate() {
        for batch in 0..s.batches.len() {
            let place = Place { job, stock, batch, parts };
            match laid_out(&place, stop) {
                Ok(layout) => all.extend(layout.sheets.iter().filter_map(|sheet| cut_sheet(&place, sheet))),
                Err(fault) => short.add(&place, &fault),
            }
        }
    }
    all.iter_mut().enumerate().for_each(|(i, sheet)| sheet.number = i + 1);
    Limits::check("too-many-sheets", "sheets", "/stocks", all.len(), limits.sheets, &mut short.findings);
    if short.findings.is_empty() { Ok(all) } else { Err(short) }
}

/// The nest of one batch.
fn laid_out(place: &Place, stop: &dyn Fn() -> bool) -> Result<Layout, NestFault> {
    let stock = &place.job.stocks[place.stock];
    let here = |p: &Part| p.stock == place.stock && stock.batch_of(p.thickness_mm) == place.batch;
    let parts = place.parts.iter().enumerate().filter(|(_, p)| here(p));
    let mine: Vec<NestPart> = parts.map(|(id, p)| lay::part(id, p, stock.turn_step_deg)).collect();
    if mine.is_empty() {
        return Ok(Layout::default());
    }
    let supplies: Vec<SheetSupply> =
        stock.batches[place.batch].supplies.iter().map(|&id| lay::supply(id, &stock.supplies[id])).collect();
    let rules = Rules { gap_mm: stock.gap_mm, margin_mm: stock.margin_mm };
    nest(&mine, &supplies, &rules, effort(place.job.effort), stop)
}

/// A sheet of a layout, routed; its number comes later.
fn cut_sheet(place: &Place, sheet: &SheetLayout) -> Option<Sheet> {
    let supply = place.job.stocks[place.stock].supplies.get(sheet.supply)?;
    let places = lay::places(sheet, place.parts, supply);
    Some(Sheet {
        stock: place.stock,
        supply: sheet.supply,
        number: 0,
        size_mm: (supply.size_mm[0], supply.size_mm[1]),
        route: routed(place.job, place.parts, place.stock, &places),
        places,
        utilisation: sheet.utilisation,
        offcut_mm: lay::offcut_mm(&sheet.largest_offcut, supply),
    })
}

fn effort(spec: EffortSpec) -> Effort {
    match spec {
        EffortSpec::Quick => Effort::Quick,
        EffortSpec::Normal => Effort::Normal,
        EffortSpec::Thorough => Effort::Thorough,
    }
}

/// Cutting order and minutes of one sheet.
fn routed(job: &Job, parts: &[Part], stock: usize, places: &[Placed]) -> route::Route {
    let (cutter, feed) = (&job.cutter, &job.stocks[stock].feed);
    let motion = Motion {
        feed_mm_s: feed.feed_mm_s,
        passes: feed.passes,
        travel_mm_s: cutter.travel_mm_s,
        accel_mm_s2: cutter.acceleration_mm_s2,
        pierce_s: cutter.pierce_s,
        mark_mm_s: cutter.mark_mm_s,
    };
    route::route(&laid(parts, places), &motion, effort(job.effort))
}
