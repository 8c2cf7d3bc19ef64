//! All readings of one stock → its profile.

use super::combs::{self, LEVEL};
use super::profile::{FeelRow, FitEstimate, Quantity, StockProfile};
use super::request::ReadingsRequest;
use super::{doubts, strips};
use crate::finding::{Finding, Verdict, apply};
use crate::material::{
    Cutter, CutterSpec, FIT_ROW, Feel, FitSpec, FitsSpec, Role, Spread, SpreadFrom, Stock, USUAL_CUTTER, closes,
};
use crate::statistics::{Prediction, Sample, Term, chance_between};
use crate::units::{Readings, decode};

/// Most strips, combs, and slots a comb.
const MOST: [usize; 3] = [24, 8, 40];

/// The profile, when nothing in the readings was refused, and all findings, worst first. Cures were
/// tried: each clears its finding.
#[must_use]
pub fn take(request: &ReadingsRequest) -> (Option<StockProfile>, Vec<Finding>) {
    let mut out = vec![];
    let profile = taken(request, &mut out);
    let given = serde_json::to_value(request).unwrap_or_default();
    for f in &mut out {
        let (code, place) = (f.code, f.place.clone());
        f.cures.retain(|cure| {
            let mut patched = given.clone();
            let mut left = vec![];
            cure.patch.iter().all(|op| apply(&mut patched, op))
                && decode::<ReadingsRequest>(patched).is_ok_and(|r| {
                    let _ = taken(&r, &mut left);
                    !left.iter().any(|f| f.code == code && f.place == place)
                })
        });
    }
    out.sort_by_key(|f| std::cmp::Reverse(f.verdict));
    (profile, out)
}

fn taken(request: &ReadingsRequest, out: &mut Vec<Finding>) -> Option<StockProfile> {
    request.check("", out);
    if !counted(request, out) {
        return None;
    }
    for (i, comb) in request.combs.iter().enumerate() {
        comb.check(&format!("/combs/{i}"), out);
        for (k, slot) in comb.slots.iter().enumerate() {
            slot.check(&format!("/combs/{i}/slots/{k}"), out);
        }
    }
    request.fits.check("/fits", out);
    let usual = CutterSpec::Named(USUAL_CUTTER.to_owned());
    let cutter = Cutter::checked(request.cutter.as_ref().unwrap_or(&usual), "/cutter", out);
    let mut kerfs = request.stock.kerf_readings_mm.as_ref().map_or(vec![], |r| r.all().to_vec());
    kerfs.extend(strips::kerfs(&request.strips, out));
    let mut spec = request.stock.clone();
    spec.kerf_readings_mm = Readings::new(kerfs.clone());
    let before = out.len();
    let stock = Stock::checked(&spec, &cutter?, "/stock", out);
    point_at_strips(request, &mut out[before..]);
    let stock = stock?;
    doubts::find(request, &stock, &kerfs, out);
    let fit = combs::estimate(&request.combs, &stock, out);
    if out.iter().any(|f| f.verdict == Verdict::Refuse) {
        return None;
    }
    // what was measured now stands above what was typed, with which it agrees
    if spec.kerf_readings_mm.is_some() {
        (spec.kerf_mm, spec.strip) = (None, None);
    }
    let shift_mm = fit.as_ref().map_or(0.0, |f| f.shift_mm);
    Some(StockProfile {
        fits: if fit.is_some() { shifted(&request.fits, &stock, shift_mm) } else { request.fits },
        thickness: quantity(&stock.next_thickness),
        kerf: quantity(&stock.next_kerf),
        feels: Feel::ALL.map(|f| feel_row(f, &stock, shift_mm)).to_vec(),
        fit: fit.map(rounded),
        stock: spec,
    })
}

fn counted(request: &ReadingsRequest, out: &mut Vec<Finding>) -> bool {
    let before = out.len();
    let mut most = |at: String, have: usize, least: usize, most: usize| {
        if have < least || have > most {
            out.push(
                Finding::new("wrong-count", Verdict::Refuse, at.as_str())
                    .have("count", have)
                    .need("count_min", least)
                    .need("count_max", most)
                    .why(format!("{at} has {have} entries; {least} to {most} are read.")),
            );
        }
    };
    most("/strips".to_owned(), request.strips.len(), 0, MOST[0]);
    most("/combs".to_owned(), request.combs.len(), 0, MOST[1]);
    for (i, comb) in request.combs.iter().enumerate().take(MOST[1]) {
        most(format!("/combs/{i}/slots"), comb.slots.len(), 1, MOST[2]);
    }
    out.len() == before
}

/// What is said of kerf readings that came from strips is said of the strips.
fn point_at_strips(request: &ReadingsRequest, findings: &mut [Finding]) {
    if request.stock.kerf_readings_mm.is_none() {
        for f in findings.iter_mut().filter(|f| f.place.starts_with("/stock/kerf_readings_mm")) {
            f.place = "/strips".to_owned();
        }
    }
}

fn quantity(spread: &Spread) -> Quantity {
    let readings = &spread.readings_mm;
    let sample = Sample::of(readings);
    let n = readings.len().max(1) as f64;
    let from = match spread.from {
        SpreadFrom::Readings(_) => "readings",
        SpreadFrom::Given => "given",
        SpreadFrom::Usual => "usual",
    };
    Quantity {
        readings: readings.len(),
        mean_mm: micron(spread.next.centre),
        // the scale of a prediction holds the mean's own doubt: taken out again
        sd_mm: micron(if readings.is_empty() { spread.next.scale } else { spread.next.scale / (1.0 + 1.0 / n).sqrt() }),
        spread_from: from,
        mean_interval_mm: sample.and_then(|s| s.true_mean()).map(|p| p.interval(LEVEL).map(micron)),
        next_interval_mm: spread.next.interval(LEVEL).map(micron),
    }
}

/// The wanted fits with every one of them moved by the shift, within what a fit may be.
fn shifted(wanted: &FitsSpec, stock: &Stock, shift_mm: f64) -> FitsSpec {
    let moved = |role: Role| {
        let mm = match wanted.given(role).unwrap_or_else(|| role.default_fit()) {
            FitSpec::Mm(v) => v,
            FitSpec::Feel(f) => f.mm(),
        };
        Some(FitSpec::Mm(micron(bounded(mm + shift_mm, stock))))
    };
    FitsSpec {
        corner: moved(Role::Corner),
        divider: moved(Role::Divider),
        oblique: moved(Role::Oblique),
        floor: moved(Role::Floor),
        ledge: moved(Role::Ledge),
    }
}

fn bounded(fit_mm: f64, stock: &Stock) -> f64 {
    fit_mm.clamp(FIT_ROW.min.max(stock.profile.fit.tightest_mm), FIT_ROW.max)
}

fn feel_row(feel: Feel, stock: &Stock, shift_mm: f64) -> FeelRow {
    let fit_mm = bounded(stock.profile.fit.words_mm.unwrap_or(feel.mm()) + shift_mm, stock);
    let (kerf, thickness) = (stock.next_kerf.next, stock.next_thickness.next);
    let drawn = thickness.centre + fit_mm - kerf.centre;
    let terms = [Term { times: 1.0, value: kerf }, Term { times: -1.0, value: thickness }];
    let band = closes(fit_mm - shift_mm);
    FeelRow {
        feel: feel.word(),
        fit_mm: micron(fit_mm),
        drawn_slot_mm: micron(drawn),
        next_clearance_mm: Prediction::sum(&terms).interval(LEVEL).map(|v| micron(v + drawn)),
        chance: micron(chance_between(&terms, band.min + shift_mm - drawn, band.max + shift_mm - drawn)),
    }
}

fn rounded(f: FitEstimate) -> FitEstimate {
    FitEstimate { shift_mm: micron(f.shift_mm), shift_interval_mm: f.shift_interval_mm.map(micron), ..f }
}

/// Rounded to a micrometre, without −0.
fn micron(v: f64) -> f64 {
    (v * 1e3).round() / 1e3 + 0.0
}
