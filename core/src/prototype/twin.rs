//! A request in sheets becomes the same request in board.

use super::spec::{BOARD_AT, BoardSpec, DESIGN_AT};
use crate::arrange::{arrange, context};
use crate::families::Thicker;
use crate::job::{Job, Request};
use crate::material::{CutterOwn, CutterSpec, FitSpec, FitsSpec, KerfApplied, StandsFor, Stock, StockSpec, catalogue};
use crate::units::decode;

/// The listed cutter that takes nothing away.
const KNIFE: &str = "knife-600x400";

/// The same job in board: outer sizes, angles and patterns as decided for the design's own sheets.
///
/// `None` when the list has no knife: a fault of the data.
#[must_use]
pub fn twin(design: &Request, job: &Job, board: &BoardSpec) -> Option<Request> {
    let sheet_mm = sheet(board, job)?;
    let stocks: Vec<StockSpec> = job.stocks.iter().map(|s| stock(s, board)).collect::<Option<_>>()?;
    let holders = job
        .holders
        .iter()
        .zip(arrange(job))
        .map(|(h, stand)| {
            let cx = context(job, h, stand.room);
            let more = |stock| thickness_mm(board).map_or(0.0, |t| t - cx.t(stock));
            let by = Thicker { panels_mm: more(cx.panels), inner_mm: more(cx.inner) };
            h.spec.family().in_board(&cx, by)
        })
        .collect();
    let fit = board.squeeze_mm.map(|s| FitSpec::Mm(-s));
    Some(Request {
        cutter: Some(CutterSpec::Own(Box::new(knife(sheet_mm)?))),
        stocks,
        fits: FitsSpec { corner: fit, divider: fit, oblique: fit, floor: fit, ledge: fit },
        holders,
        ..design.clone()
    })
}

/// The board's true thickness: the mean of its readings, or what its label says; none of an unknown board.
fn thickness_mm(board: &BoardSpec) -> Option<f64> {
    let label = catalogue().profile(&board.material).map(|p| p.thickness.nominal_mm);
    board.readings_mm.as_ref().map(crate::units::Readings::mean).or(label)
}

/// As large as the design's own bed, so that what goes on that goes on this.
fn sheet(board: &BoardSpec, job: &Job) -> Option<[f64; 2]> {
    let knife = catalogue().cutter(KNIFE)?.bed_mm;
    let bed = job.cutter.bed_mm;
    Some(board.sheet_mm.unwrap_or([knife[0].max(bed[0]), knife[1].max(bed[1])]))
}

fn knife(bed_mm: [f64; 2]) -> Option<CutterOwn> {
    let mut own: CutterOwn = decode(serde_json::json!({ "base": KNIFE })).ok()?;
    own.bed_mm = Some(bed_mm);
    Some(own)
}

/// Board in the place of one of the design's stocks.
fn stock(stands_for: &Stock, board: &BoardSpec) -> Option<StockSpec> {
    let mut spec: StockSpec = decode(serde_json::json!({ "id": stands_for.id, "material": board.material })).ok()?;
    spec.readings_mm = board.readings_mm.clone();
    spec.kerf_mm = Some(0.0);
    spec.kerf_applied_by = KerfApplied::File;
    spec.margin_mm = Some(stands_for.margin_mm.clamp(0.0, 200.0));
    spec.stands_for = Some(StandsFor { label_mm: stands_for.label_mm, thickest_mm: stands_for.planned_mm });
    Some(spec)
}

/// Where a place of the twin stands in what was received.
#[must_use]
pub fn place_in(at: &str) -> String {
    let field = |prefix: &str| at.strip_prefix(prefix).map(str::to_owned);
    if let Some(rest) = field("/stocks/") {
        let within = rest.split_once('/').map_or("", |(_, f)| f);
        return match within.split('/').next().unwrap_or_default() {
            "readings_mm" | "material" | "sheet_mm" => format!("{BOARD_AT}/{within}"),
            _ => BOARD_AT.to_owned(),
        };
    }
    if at.starts_with("/cutter") {
        return format!("{BOARD_AT}/sheet_mm");
    }
    if at.starts_with("/fits") {
        return format!("{BOARD_AT}/squeeze_mm");
    }
    format!("{DESIGN_AT}{at}")
}
