//! Sheets on the bed: their size, the strip that stays free, the gap between parts.

use super::cutter::Cutter;
use super::profile::Process;
use super::sheet_spec::SheetSpec;
use super::spec::StockSpec;
use super::supply::Supply;
use crate::finding::{Finding, PatchOp, Verdict};
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
pub(super) fn sheet(given_mm: Option<[f64; 2]>, cutter: &Cutter, at: &str, out: &mut Vec<Finding>) -> [f64; 2] {
    let bed = cutter.bed_mm;
    let Some(sheet) = given_mm else { return bed };
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

/// The strip that stays free, what the head cannot reach included.
pub(super) fn margin(spec: &StockSpec, cutter: &Cutter, at: &str, out: &mut Vec<Finding>) -> f64 {
    MARGIN.check(spec.margin_mm(), &format!("{at}/margin_mm"), out);
    spec.margin_mm().max(cutter.edge_mm)
}

/// A margin must leave a sheet to cut from. `at` is the stock's place.
pub(super) fn room(sheet: &Supply, margin_mm: f64, at: &str, out: &mut Vec<Finding>) {
    let left = sheet.size_mm.map(|side| side - 2.0 * margin_mm);
    let least = left[0].min(left[1]);
    if least >= LEAST_ROOM_MM {
        return;
    }
    let most = (sheet.size_mm[0].min(sheet.size_mm[1]) - LEAST_ROOM_MM) / 2.0;
    let mut f = Finding::new("sheet-without-room", Verdict::Refuse, format!("{at}/margin_mm"))
        .have("left_mm", left.to_vec())
        .have("sheet_mm", sheet.size_mm.to_vec())
        .need("min", LEAST_ROOM_MM)
        .need("margin_max_mm", most.max(0.0))
        .why(format!(
            "Margins of {} mm leave {} mm of the smaller side of {}, {} short of anything that holds a part.",
            tidy(margin_mm),
            tidy(least),
            sheet.called(),
            tidy(LEAST_ROOM_MM - least)
        ));
    if most >= MARGIN.refuse_below {
        let good = most.min(MARGIN.good);
        f = f.cure(format!("Use a margin of {} mm.", tidy(good)), format!("{at}/margin_mm"), good);
    }
    out.push(f);
}

/// A keep-out that lies beside its sheet was measured from somewhere else.
pub(super) fn keep_outs(spec: &SheetSpec, size_mm: [f64; 2], at: &str, out: &mut Vec<Finding>) {
    for (i, k) in spec.keep_outs.iter().enumerate() {
        let off = (k.x_mm - size_mm[0]).max(k.y_mm - size_mm[1]);
        if off >= 0.0 {
            let here = format!("{at}/keep_outs/{i}");
            out.push(
                Finding::new("keep-out-off-sheet", Verdict::Refuse, here.as_str())
                    .have("corner_mm", vec![k.x_mm, k.y_mm])
                    .need("corner_max_mm", size_mm.to_vec())
                    .why(format!(
                        "This keep-out begins {} mm beyond the sheet of {} × {} mm. It is measured from the sheet's lower left corner.",
                        tidy(off),
                        tidy(size_mm[0]),
                        tidy(size_mm[1])
                    ))
                    .cure_with("Leave it out.", vec![PatchOp { op: "remove", path: here, value: None }]),
            );
        }
    }
}

/// The gap that the trade takes between parts: 3 mm, or the thickness when that is more.
pub(super) fn usual_gap_mm(thickness_mm: f64) -> f64 {
    GAP.good.max(thickness_mm)
}

/// The margin that the trade takes.
pub(super) const USUAL_MARGIN_MM: f64 = MARGIN.good;

/// The gap between parts, of sheets with this margin.
pub(super) fn gap(
    spec: &StockSpec,
    supplies: &[Supply],
    margin_mm: f64,
    process: Process,
    at: &str,
    out: &mut Vec<Finding>,
) -> f64 {
    let thickness_mm = supplies.iter().map(|s| s.thickness_mm).fold(0.0, f64::max);
    let usual = usual_gap_mm(thickness_mm);
    let gap = spec.gap_mm.unwrap_or(usual);
    let at = format!("{at}/gap_mm");
    let warn_below = if process == Process::Co2 { thickness_mm.max(GAP.refuse_below) } else { GAP.refuse_below };
    Band { warn_below, good: usual, ..GAP }.check(gap, &at, out);
    let longest = supplies.iter().flat_map(|s| s.usable_mm(margin_mm)).fold(0.0, f64::max);
    // two of the smallest parts lie beside each other
    let most = longest - 2.0 * LEAST_ROOM_MM;
    if gap > most && gap > usual {
        out.push(
            Finding::new("gap-without-room", Verdict::Refuse, at.as_str())
                .have("gap_mm", gap)
                .need("max", most.max(usual))
                .why(format!(
                    "With a gap of {} mm no two parts lie on one sheet: the longest has {} mm within its margins, {} mm too little.",
                    tidy(gap),
                    tidy(longest),
                    tidy(gap - most)
                ))
                .cure(format!("Use {} mm.", tidy(usual)), at, usual),
        );
    }
    gap
}
