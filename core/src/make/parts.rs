//! Parts and joints: from finished panels to what is cut, with codes, marks and mass.

use crate::assembly::Joint;
use crate::checks::grain_deg;
use crate::finding::{Finding, Verdict};
use crate::finish::Built;
use crate::job::{Job, Limits};
use crate::kerf::drawn;
use crate::made::{JointLine, Part};
use crate::marks;

/// Every part of every holder, drawn.
pub fn parts(job: &Job, holders: &[Built], limits: &Limits) -> Result<Vec<Part>, Vec<Finding>> {
    let (mut parts, mut faults) = (vec![], vec![]);
    for (h, built) in holders.iter().enumerate() {
        for (p, (panel, finished)) in built.assembly.panels.iter().zip(&built.finished.panels).enumerate() {
            let stock = &job.stocks[panel.stock];
            let code = built.part_code(p);
            let marks = marks::of_panel(built, p);
            match drawn(&finished.region, stock.drawn_kerf_mm) {
                Ok(outline) => parts.push(Part {
                    marks: marks.lines,
                    marks_left_out: marks.left_out,
                    name: panel.name.clone(),
                    holder: h,
                    panel: p,
                    stock: panel.stock,
                    drawn: outline,
                    thickness_mm: panel.slab.thickness,
                    grain_deg: grain_deg(stock, panel, &finished.region),
                    kerf_mm: stock.drawn_kerf_mm,
                    placement: built.placement(p),
                    mass_g: stock.mass_g(finished.region.area(), panel.slab.thickness),
                    finished: finished.region.clone(),
                    code,
                }),
                Err(e) => faults.push(
                    Finding::new("kerf-eats-outline", Verdict::Refuse, built.at.clone())
                        .have("kerf_mm", stock.drawn_kerf_mm)
                        .need("kerf_mm", "less than the narrowest slot or hole")
                        .why(format!("Part {code} \"{}\" cannot be drawn: {e}", panel.name)),
                ),
            }
        }
    }
    let corners = parts.iter().flat_map(|p| p.drawn.contours()).map(|c| c.vertices.len()).sum();
    Limits::check("too-many-vertices", "corners of outlines", "/holders", corners, limits.vertices, &mut faults);
    if faults.is_empty() { Ok(parts) } else { Err(faults) }
}

/// Every joint of every holder, by part.
pub fn joints(holders: &[Built], parts: &[Part]) -> Vec<JointLine> {
    let mut all = vec![];
    for (h, built) in holders.iter().enumerate() {
        let first = parts.iter().position(|p| p.holder == h).unwrap_or(0);
        for (i, m) in built.assembly.meetings.iter().enumerate() {
            all.push(JointLine {
                id: format!("J{}", all.len() + 1),
                letters: Built::joint_letters(i),
                kind: kind(m.joint),
                a: first + m.a.0,
                b: first + m.b.0,
                fit_mm: m.fit_mm,
            });
        }
    }
    all
}

fn kind(joint: Joint) -> &'static str {
    match joint {
        Joint::Corner => "corner",
        Joint::Tab { .. } => "tab",
        Joint::Hook { .. } => "hook",
        Joint::Lap { .. } => "lap",
        Joint::Rest => "rest",
    }
}
