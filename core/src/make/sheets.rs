//! Sheets: the drawn parts of each stock nested and routed.

use crate::finding::{Finding, Verdict};
use crate::geom::DVec2;
use crate::job::{EffortSpec, Job, Limits};
use crate::made::{Part, Placed, Sheet, laid};
use crate::nest::{Effort, NestFault, NestPart, Rules, SheetSupply, Turns, nest};
use crate::route::{self, Motion};

/// Nests and routes every stock's parts.
pub fn sheets(job: &Job, parts: &[Part], limits: &Limits, stop: &dyn Fn() -> bool) -> Result<Vec<Sheet>, Vec<Finding>> {
    let (mut all, mut faults) = (vec![], vec![]);
    for (s, stock) in job.stocks.iter().enumerate() {
        let mine: Vec<NestPart> = parts
            .iter()
            .enumerate()
            .filter(|(_, p)| p.stock == s)
            .map(|(id, p)| NestPart { id, region: p.drawn.clone(), turns: Turns::Free })
            .collect();
        if mine.is_empty() {
            continue;
        }
        let supply = SheetSupply {
            id: s,
            width_mm: stock.sheet_mm[0],
            height_mm: stock.sheet_mm[1],
            count: stock.count.map(|c| c as usize),
            keep_outs: vec![],
        };
        let rules = Rules { gap_mm: stock.gap_mm, margin_mm: stock.margin_mm };
        match nest(&mine, &[supply], &rules, effort(job.effort), stop) {
            Ok(layout) => {
                for sheet in layout.sheets {
                    let places: Vec<Placed> = sheet
                        .places
                        .iter()
                        .map(|p| Placed {
                            part: p.part,
                            turn_rad: p.turn_deg.to_radians(),
                            shift: DVec2::new(p.dx_mm, p.dy_mm),
                        })
                        .collect();
                    let o = sheet.largest_offcut;
                    all.push(Sheet {
                        stock: s,
                        number: all.len() + 1,
                        size_mm: (sheet.width_mm, sheet.height_mm),
                        route: routed(job, parts, s, &places),
                        places,
                        utilisation: sheet.utilisation,
                        offcut_mm: [o.x_mm, o.y_mm, o.width_mm, o.height_mm],
                    });
                }
            }
            Err(fault) => faults.extend(findings(job, parts, s, &fault)),
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

fn findings(job: &Job, parts: &[Part], stock: usize, fault: &NestFault) -> Vec<Finding> {
    let at = format!("/stocks/{stock}");
    match fault {
        NestFault::TooLarge(list) => list
            .iter()
            .map(|t| {
                Finding::new("part-larger-than-sheet", Verdict::Refuse, job.holders[parts[t.part].holder].at.clone())
                    .have("part_mm", vec![t.width_mm, t.height_mm])
                    .need("room_mm", vec![t.room_width_mm, t.room_height_mm])
                    .why(format!(
                        "Part {} \"{}\" is {:.1} × {:.1} mm, {:.1} mm more than a sheet of stock {} has within its margins.",
                        parts[t.part].code,
                        parts[t.part].name,
                        t.width_mm,
                        t.height_mm,
                        t.over_mm(),
                        job.stocks[stock].id
                    ))
            })
            .collect(),
        other => vec![
            Finding::new("sheets-do-not-do", Verdict::Refuse, at)
                .have("sheets", job.stocks[stock].count.map_or(f64::INFINITY, f64::from).min(1e9))
                .need("sheets", "enough for every part")
                .why(other.to_string()),
        ],
    }
}
