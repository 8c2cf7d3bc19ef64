//! Every part lies within the usable part of one of its sheets, its grain the way that it should run.

use super::bed::{Lie, grain_deg, nearest};
use super::bound::Bound;
use super::outcome::{About, Outcome, Subject};
use super::place::{called, has_number, size_along, tenth_below};
use crate::finding::{Finding, Verdict};
use crate::finish::Built;
use crate::material::Stock;

/// What this check is about.
pub const ABOUT: About = About {
    name: "part-on-bed",
    rule: "Each part with the kerf that its file makes up for lies within one of its sheets less the margins: as its grain has to run, or turned a quarter where that does not matter.",
    source: "common practice, no source: sheet margin 5 mm, refused below 2; grain along slender parts and across the short span of floors",
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
    let outline = &built.finished.panels[panel].region;
    let grain = grain_deg(stock, p, outline);
    let Some(lie) = nearest(stock, outline, grain) else { return };
    let code = built.part_code(panel);
    let bound = Bound::most("part-beyond-bed", "over_mm", 0.0, 0.0);
    let Some((f, off)) = bound.weigh(&code, lie.worst_mm(), out) else {
        let wish = p.grain.angle_deg().filter(|_| grain.is_some());
        if wish != grain {
            out.find(across(built, panel, p.stock, stock));
        }
        return;
    };
    let locked = if grain.is_some() { "with its grain along the sheet's" } else { "either way round" };
    let f = f.have("part_mm", lie.size_mm.to_vec()).need("usable_mm", lie.room_mm.to_vec()).why(format!(
        "Part {} is {:.1} × {:.1} mm with its kerf; of the sheet {:.1} × {:.1} can be used, so it is {off:.1} mm too large {locked}.",
        called(built, panel),
        lie.size_mm[0],
        lie.size_mm[1],
        lie.room_mm[0],
        lie.room_mm[1]
    ));
    let f = if grain.is_some() { any_grain(f, p.stock) } else { f };
    let f = smaller(f, built, panel, &lie);
    out.find(larger_sheet(f, subject, p.stock, stock));
}

/// A part that only fits with its grain across.
fn across(built: &Built, panel: usize, s: usize, stock: &Stock) -> Finding {
    let p = &built.assembly.panels[panel];
    let outline = &built.finished.panels[panel].region;
    let f = Finding::new("grain-across", Verdict::Warn, built.part_code(panel));
    let Some(wanted) = nearest(stock, outline, p.grain.angle_deg()) else { return f };
    let f = f
        .have("over_mm", wanted.worst_mm())
        .have("part_mm", wanted.size_mm.to_vec())
        .need("usable_mm", wanted.room_mm.to_vec())
        .why(format!(
            "Part {} should have its grain the other way; so it is {:.1} mm too large for the sheet and is laid across. It bends the more easily.",
            called(built, panel),
            wanted.worst_mm()
        ));
    let other = if stock.supplies.iter().any(|s| s.grain_upright) { "width" } else { "height" };
    f.cure(
        format!("Take sheets whose face grain runs along their {other}."),
        format!("/stocks/{s}/grain"),
        other,
    )
}

/// Grain that is not minded.
fn any_grain(f: Finding, s: usize) -> Finding {
    f.cure("Let the grain lie as it comes.", format!("/stocks/{s}/keep_grain"), false)
}

/// The holder made smaller along each side that is too long.
fn smaller(mut f: Finding, built: &Built, panel: usize, lie: &Lie) -> Finding {
    let frame = &built.assembly.panels[panel].slab.frame;
    let [x, y] = lie.over_mm();
    // what is too long on the sheet, along the part's own axes; a slanting turn cures nothing in one of them
    let quarters = (lie.turn_deg / 90.0).round();
    let over = if quarters.rem_euclid(2.0) == 0.0 { [x, y] } else { [y, x] };
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

/// A sheet as large as the bed, where all that are given are smaller.
fn larger_sheet(f: Finding, subject: &Subject, s: usize, stock: &Stock) -> Finding {
    let bed = subject.job.cutter.bed_mm;
    if stock.supplies.iter().any(|s| s.size_mm[0] >= bed[0] && s.size_mm[1] >= bed[1]) {
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
        request["stocks"][0]["keep_grain"] = json!(false);
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

    /// A tray 580 deep: its floor's grain should run along the short span, across a sheet of 600 × 400.
    fn deep() -> serde_json::Value {
        let mut request = tray();
        request["space"]["depth_mm"] = json!(600.0);
        request["holders"][0]["depth_mm"] = json!(580.0);
        request
    }

    #[test]
    fn a_part_may_be_turned_a_quarter_where_grain_does_not_matter() {
        let mut request = deep();
        request["stocks"][0]["keep_grain"] = json!(false);
        assert!(Scene::of(request).run(run).findings.is_empty());
    }

    #[test]
    fn grain_that_nobody_spoke_of_gives_way_with_a_warning() {
        let out = Scene::of(deep()).run(run);
        let said: Vec<_> = out.findings.iter().map(|f| (f.code, f.verdict)).collect();
        assert_eq!(said, [("grain-across", Verdict::Warn)]);
        // 580 and its kerf of 0.18 on the 390 of the sheet's shorter side
        assert!(out.findings[0].why.contains("190.2 mm too large"), "{}", out.findings[0].why);
        let mut request = deep();
        request["stocks"][0]["grain"] = json!("height");
        let other = Scene::of(request).run(run);
        assert!(other.findings.iter().all(|f| f.code == "part-beyond-bed"), "what is long does not fit across now");
        assert!(!other.findings.iter().any(|f| f.place == out.findings[0].place), "the floor does");
    }

    #[test]
    fn grain_that_was_asked_for_is_kept_or_refused_by_how_much() {
        let mut request = deep();
        request["stocks"][0]["grain"] = json!("width");
        let out = Scene::of(request).run(run);
        assert_eq!(out.findings.len(), 1);
        let f = &out.findings[0];
        assert_eq!((f.code, f.verdict), ("part-beyond-bed", Verdict::Refuse));
        assert!(f.why.contains("with its grain along the sheet's"), "{}", f.why);
        assert_eq!(f.cures[0].patch[0].path, "/stocks/0/keep_grain");
    }

    #[test]
    fn the_sheet_that_takes_a_part_is_found_among_many() {
        let mut request = wide(589.8);
        request["stocks"][0]["sheets"] = json!([{"sheet_mm": [300, 200]}, {"sheet_mm": [600, 400]}]);
        assert!(Scene::of(request.clone()).run(run).findings.is_empty());
        request["stocks"][0]["sheets"] = json!([{"sheet_mm": [300, 200]}, {"sheet_mm": [590, 400]}]);
        let out = Scene::of(request).run(run);
        assert!(out.findings.iter().all(|f| f.why.contains("10.0 mm too large")), "{:#?}", out.findings);
    }
}
