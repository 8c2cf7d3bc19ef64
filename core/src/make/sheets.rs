//! Sheets: the drawn parts of each stock nested and routed.

use super::lay;
use super::shortage;
use crate::finding::Finding;
use crate::job::{EffortSpec, Job, Limits};
use crate::made::{Part, Placed, Sheet, laid};
use crate::nest::{Effort, NestPart, Rules, SheetSupply, nest};
use crate::route::{self, Motion};

/// Nests and routes every stock's parts.
pub fn sheets(job: &Job, parts: &[Part], limits: &Limits, stop: &dyn Fn() -> bool) -> Result<Vec<Sheet>, Vec<Finding>> {
    let (mut all, mut faults) = (vec![], vec![]);
    for (s, stock) in job.stocks.iter().enumerate() {
        let mine: Vec<NestPart> = parts
            .iter()
            .enumerate()
            .filter(|(_, p)| p.stock == s)
            .map(|(id, p)| lay::part(id, p, stock.turn_step_deg))
            .collect();
        if mine.is_empty() {
            continue;
        }
        let supplies: Vec<SheetSupply> = stock.supplies.iter().enumerate().map(|(id, k)| lay::supply(id, k)).collect();
        let rules = Rules { gap_mm: stock.gap_mm, margin_mm: stock.margin_mm };
        match nest(&mine, &supplies, &rules, effort(job.effort), stop) {
            Ok(layout) => {
                for sheet in layout.sheets {
                    let Some(supply) = stock.supplies.get(sheet.supply) else { continue };
                    let places = lay::places(&sheet, parts, supply);
                    all.push(Sheet {
                        stock: s,
                        supply: sheet.supply,
                        number: all.len() + 1,
                        size_mm: (supply.size_mm[0], supply.size_mm[1]),
                        route: routed(job, parts, s, &places),
                        places,
                        utilisation: sheet.utilisation,
                        offcut_mm: lay::offcut_mm(&sheet.largest_offcut, supply),
                    });
                }
            }
            Err(fault) => faults.extend(shortage::findings(job, parts, s, &fault)),
        }
    }
    Limits::check("too-many-sheets", "sheets", "/stocks", all.len(), limits.sheets, &mut faults);
    if faults.is_empty() { Ok(all) } else { Err(faults) }
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
