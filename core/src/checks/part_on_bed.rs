//! Every part lies within the usable part of its sheet, as drawn or turned a quarter.

use super::bound::Bound;
use super::outcome::{About, Outcome, Subject};
use super::place::{called, has_number, size_along, tenth_below};
use crate::finding::Finding;
use crate::finish::Built;
use crate::material::Stock;

/// What this check is about.
pub const ABOUT: About = About {
    name: "part-on-bed",
    rule: "Each part with the kerf that its file makes up for lies within the sheet less its margins, as drawn or turned a quarter.",
    source: "common practice, no source: sheet margin 5 mm, refused below 2",
};

/// Measures and judges.
pub fn run(subject: &Subject, out: &mut Outcome) {
    for built in subject.holders {
        for panel in 0..built.assembly.panels.len() {
            one(subject, built, panel, out);
        }
    }
}

fn one(subject: &Subject, built: &Built, panel: usize, out: &mut Outcome) {
    let p = &built.assembly.panels[panel];
    let stock = &subject.job.stocks[p.stock];
    let (lo, hi) = built.finished.panels[panel].region.bounds();
    let size = [hi.x - lo.x + stock.drawn_kerf_mm, hi.y - lo.y + stock.drawn_kerf_mm];
    let bed = stock.usable_mm();
    let over = |turned: bool| {
        let [w, h] = if turned { [bed[1], bed[0]] } else { bed };
        [size[0] - w, size[1] - h]
    };
    let worst = |o: [f64; 2]| o[0].max(o[1]);
    let (drawn, turned) = (over(false), over(true));
    let least = if worst(drawn) <= worst(turned) { drawn } else { turned };
    let code = built.part_code(panel);
    let bound = Bound::most("part-beyond-bed", "over_mm", 0.0, 0.0);
    let Some((f, off)) = bound.weigh(&code, worst(least), out) else { return };
    let f = f.have("part_mm", size.to_vec()).need("usable_mm", bed.to_vec()).why(format!(
        "Part {} is {:.1} × {:.1} mm with its kerf; of the sheet {:.1} × {:.1} can be used, so it is {off:.1} mm too large either way round.",
        called(built, panel),
        size[0],
        size[1],
        bed[0],
        bed[1]
    ));
    let f = smaller(f, built, panel, least);
    out.find(larger_sheet(f, subject, p.stock, stock));
}

/// The holder made smaller along each side that is too long.
fn smaller(mut f: Finding, built: &Built, panel: usize, over: [f64; 2]) -> Finding {
    let frame = &built.assembly.panels[panel].slab.frame;
    for (axis, over) in [frame.x, frame.y].into_iter().zip(over) {
        let field = size_along(axis);
        if over <= 0.0 || !has_number(built, field) {
            continue;
        }
        let now = match field {
            "width_mm" => built.size.width_mm,
            "depth_mm" => built.size.depth_mm,
            _ => built.size.height_mm,
        };
        // a leaning side is longer than what it rises over
        let lean = axis.abs().max_element().max(0.1);
        let then = tenth_below(now - over * lean);
        if then > 0.0 {
            f = f.cure(
                format!("Make the holder {then:.1} mm instead of {now:.1} ({field}), and two of them if need be."),
                format!("{}/{field}", built.at),
                then,
            );
        }
    }
    f
}

/// A sheet as large as the bed, where the one given is smaller.
fn larger_sheet(f: Finding, subject: &Subject, s: usize, stock: &Stock) -> Finding {
    let bed = subject.job.cutter.bed_mm;
    if stock.sheet_mm[0] >= bed[0] && stock.sheet_mm[1] >= bed[1] {
        return f;
    }
    f.cure(
        format!("Cut it from a sheet as large as the bed, {:.0} × {:.0} mm.", bed[0], bed[1]),
        format!("/stocks/{s}/sheet_mm"),
        bed.to_vec(),
    )
}

#[cfg(test)]
mod tests {
    use super::super::testing::{Scene, tray};
    use super::*;
    use serde_json::json;

    fn wide(width: f64) -> serde_json::Value {
        let mut request = tray();
        request["space"]["width_mm"] = json!(900.0);
        request["holders"][0]["width_mm"] = json!(width);
        request
    }

    // a bed of 600 × 400 with 5 mm margins: 590 × 390; kerf 0.18 is drawn on
    #[test]
    fn the_bed_less_margins_and_kerf_is_the_limit() {
        assert!(Scene::of(wide(589.8)).run(run).findings.is_empty());
        let out = Scene::of(wide(589.9)).run(run);
        let long: Vec<&str> = out.findings.iter().map(|f| f.place.as_str()).collect();
        // front, back, floor, and the divider across
        assert_eq!(long.len(), 4, "{long:?}");
        let f = &out.findings[0];
        assert!((out.worst_measured()[0].value - 0.08).abs() < 1e-6);
        assert_eq!(f.cures[0].patch[0].path, "/holders/0/width_mm");
        assert_eq!(f.cures[0].patch[0].value, Some(589.8.into()));
    }

    #[test]
    fn a_part_may_be_turned_a_quarter() {
        let mut request = tray();
        request["space"]["depth_mm"] = json!(600.0);
        request["holders"][0]["depth_mm"] = json!(580.0);
        assert!(Scene::of(request).run(run).findings.is_empty());
    }
}
