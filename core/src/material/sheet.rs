//! Sheets on the bed: their size, the strip that stays free, the gap between parts.

use super::cutter::Cutter;
use super::profile::Process;
use super::spec::StockSpec;
use crate::finding::{Finding, Verdict};
use crate::units::{Band, tidy};

/// Strip of the sheet that stays free. Common practice, no source.
const MARGIN: Band = Band {
    code: "sheet-margin",
    key: "margin_mm",
    unit: "mm",
    refuse_below: 2.0,
    warn_below: 4.0,
    warn_above: f64::INFINITY,
    refuse_above: f64::INFINITY,
    good: 5.0,
    why: "Edges of sheets are crushed, and no sheet lies exactly where it should.",
};

/// Least gap between parts; the thickness is put in where it is burnt. Common practice; the space of
/// one thickness is also a published rule (CLEAPSS guidance, read in a university's copy).
const GAP: Band = Band {
    code: "part-gap",
    key: "gap_mm",
    unit: "mm",
    refuse_below: 1.0,
    warn_below: 1.0,
    warn_above: f64::INFINITY,
    refuse_above: f64::INFINITY,
    good: 3.0,
    why: "Burnt lines that lie nearer than the sheet is thick can set it on fire.",
};

/// The sheet's size; it must lie on the bed.
pub(super) fn sheet(spec: &StockSpec, cutter: &Cutter, at: &str, out: &mut Vec<Finding>) -> [f64; 2] {
    let bed = cutter.bed_mm;
    let Some(sheet) = spec.sheet_mm else { return bed };
    let over = [(sheet[0] - bed[0]).max(0.0), (sheet[1] - bed[1]).max(0.0)];
    if over == [0.0, 0.0] {
        return sheet;
    }
    let here = format!("{at}/sheet_mm");
    let mut f = Finding::new("sheet-larger-than-bed", Verdict::Refuse, here.as_str())
        .have("sheet_mm", sheet.to_vec())
        .need("max_mm", bed.to_vec())
        .why(format!(
            "The sheet of {} × {} mm reaches beyond the bed of {} × {} mm by {} and {} mm.",
            tidy(sheet[0]),
            tidy(sheet[1]),
            tidy(bed[0]),
            tidy(bed[1]),
            tidy(over[0]),
            tidy(over[1])
        ));
    let put = |f: Finding, what: &str, size: [f64; 2]| f.cure(what, here.as_str(), size.to_vec());
    if sheet[1] <= bed[0] && sheet[0] <= bed[1] {
        f = put(f, "Lay the sheet on the bed the other way round.", [sheet[1], sheet[0]]);
    }
    out.push(put(f, "Cut the sheet down to the bed first.", [sheet[0].min(bed[0]), sheet[1].min(bed[1])]));
    sheet
}

/// A sheet whose margins leave less than this to each side holds no part.
const LEAST_ROOM_MM: f64 = 10.0;

/// The strip that stays free, what the head cannot reach included; it must leave a sheet to cut from.
pub(super) fn margin(spec: &StockSpec, cutter: &Cutter, sheet: [f64; 2], at: &str, out: &mut Vec<Finding>) -> f64 {
    MARGIN.check(spec.margin_mm(), &format!("{at}/margin_mm"), out);
    let margin_mm = spec.margin_mm().max(cutter.edge_mm);
    let left = sheet.map(|side| side - 2.0 * margin_mm);
    let least = left[0].min(left[1]);
    if least < LEAST_ROOM_MM {
        out.push(
            Finding::new("sheet-without-room", Verdict::Refuse, format!("{at}/margin_mm"))
                .have("left_mm", left.to_vec())
                .need("min", LEAST_ROOM_MM)
                .why(format!(
                    "Margins of {} mm leave {} mm of the sheet's smaller side, {} short of anything that holds a part.",
                    tidy(margin_mm),
                    tidy(least),
                    tidy(LEAST_ROOM_MM - least)
                )),
        );
    }
    margin_mm
}

/// The gap between parts; what is left out is 3 mm, or the thickness when that is more.
pub(super) fn gap(spec: &StockSpec, thickness_mm: f64, process: Process, at: &str, out: &mut Vec<Finding>) -> f64 {
    let usual = GAP.good.max(thickness_mm);
    let gap = spec.gap_mm.unwrap_or(usual);
    let warn_below = if process == Process::Co2 { thickness_mm.max(GAP.refuse_below) } else { GAP.refuse_below };
    Band { warn_below, good: usual, ..GAP }.check(gap, &format!("{at}/gap_mm"), out);
    gap
}
