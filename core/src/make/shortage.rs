//! What the nest could not do, in the words and numbers of the request.

use crate::finding::{Finding, Verdict};
use crate::job::Job;
use crate::made::Part;
use crate::nest::{NestFault, TooLarge};

/// The findings of a fault of one stock's nest.
pub fn findings(job: &Job, parts: &[Part], stock: usize, fault: &NestFault) -> Vec<Finding> {
    let at = format!("/stocks/{stock}");
    match fault {
        NestFault::TooLarge(list) => list.iter().map(|t| too_large(job, parts, stock, t)).collect(),
        other => vec![
            Finding::new("sheets-do-not-do", Verdict::Refuse, at)
                .have("sheets", job.stocks[stock].supplies.len())
                .need("sheets", "enough for every part")
                .why(other.to_string()),
        ],
    }
}

fn too_large(job: &Job, parts: &[Part], stock: usize, t: &TooLarge) -> Finding {
    let part = &parts[t.part];
    Finding::new("part-larger-than-sheet", Verdict::Refuse, job.holders[part.holder].at.clone())
        .have("part_mm", vec![t.width_mm, t.height_mm])
        .need("room_mm", vec![t.room_width_mm, t.room_height_mm])
        .why(format!(
            "Part {} \"{}\" is {:.1} × {:.1} mm, {:.1} mm more than a sheet of stock {} has within its margins.",
            part.code,
            part.name,
            t.width_mm,
            t.height_mm,
            t.over_mm(),
            job.stocks[stock].id
        ))
}
