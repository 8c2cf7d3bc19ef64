//! `report.json`: verdict, findings, every check with value, limit and source, defaults, minutes, cost.

use super::numbers::{fine, mm, short};
use super::together::{self, Together};
use super::{File, PackageFault, bill, chance, prototype, spec};
use crate::checks::{About, Limit, Measured, Outcome};
use crate::finding::{Finding, Verdict};
use crate::finish::Built;
use crate::made::Made;
use crate::order::Step;
use crate::units::DefaultUsed;
use serde::Serialize;

#[derive(Serialize)]
struct Report<'a> {
    format: &'static str,
    version: &'static str,
    name: &'a str,
    /// Hash of spec.json: the number by which the job is known.
    job: String,
    verdict: Verdict,
    findings: &'a [Finding],
    checks: Vec<CheckEntry<'a>>,
    /// Chances that joints close, from how thickness and kerf scatter.
    chances: Vec<chance::HolderEntry<'a>>,
    defaults: Vec<DefaultEntry<'a>>,
    minutes: f64,
    cost: Option<f64>,
    mass_g: f64,
    parts: usize,
    /// How each holder goes together; every push stands in assembly.json.
    order: Vec<OrderEntry<'a>>,
    /// Words for which there was no room on a part: they are written on by hand.
    marks_left_out: Vec<LeftOut<'a>>,
    cutter: Cutter<'a>,
    stocks: Vec<StockEntry<'a>>,
    sheets: Vec<bill::SheetRow<'a>>,
    /// Where sheets of one stock differ in thickness: what is cut from which, and nowhere else.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    cut_together: Vec<Together<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    prototype: Option<prototype::Entry<'a>>,
}

#[derive(Serialize)]
struct OrderEntry<'a> {
    holder: &'a str,
    /// Straight pushes from single parts to the whole.
    pushes: usize,
    /// In how many of them parts that are already joined move as one.
    groups_moved: usize,
    longest_push_mm: f64,
}

#[derive(Serialize)]
struct LeftOut<'a> {
    part: &'a str,
    words: &'a [String],
}

#[derive(Serialize)]
struct CheckEntry<'a> {
    name: &'static str,
    rule: &'static str,
    source: &'static str,
    verdict: Verdict,
    /// How many values were measured; of each kind the worst is listed.
    measured_count: usize,
    measured: Vec<MeasuredEntry<'a>>,
}

#[derive(Serialize)]
struct MeasuredEntry<'a> {
    what: &'static str,
    #[serde(rename = "where")]
    place: &'a str,
    value: Option<f64>,
    limit: LimitEntry,
    margin: Option<f64>,
}

#[derive(Serialize)]
#[serde(rename_all = "lowercase")]
enum LimitEntry {
    Least(Option<f64>),
    Most(Option<f64>),
}

#[derive(Serialize)]
struct DefaultEntry<'a> {
    #[serde(rename = "where")]
    at: &'a str,
    value: f64,
    unit: &'static str,
}

#[derive(Serialize)]
struct Cutter<'a> {
    id: &'a str,
    name: &'a str,
    process: &'static str,
    source: &'a str,
}

#[derive(Serialize)]
struct StockEntry<'a> {
    id: &'a str,
    material: &'a str,
    thickness_mm: f64,
    spread_mm: f64,
    kerf_mm: f64,
    kerf_applied_mm: f64,
}

/// One file.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    Ok(vec![("report.json".to_owned(), bytes(made)?)])
}

/// The report's bytes.
pub fn bytes(made: &Made) -> Result<Vec<u8>, PackageFault> {
    let bill = bill::of(made)?;
    let cutter = &made.job.cutter;
    let report = Report {
        format: "berth-report/1",
        version: spec::VERSION,
        name: &made.request.name,
        job: bill.job,
        verdict: made.verdict,
        findings: &made.findings,
        checks: made.checks.iter().map(check).collect(),
        chances: chance::entries(made),
        defaults: made.defaults.iter().map(default).collect(),
        minutes: bill.totals.minutes,
        cost: bill.totals.cost,
        mass_g: bill.totals.mass_g,
        parts: bill.totals.parts,
        order: made.holders.iter().zip(&made.orders).map(order).collect(),
        marks_left_out: made
            .parts
            .iter()
            .filter(|p| !p.marks_left_out.is_empty())
            .map(|p| LeftOut { part: &p.code, words: &p.marks_left_out })
            .collect(),
        cutter: Cutter { id: &cutter.id, name: &cutter.name, process: cutter.process.word(), source: &cutter.source },
        stocks: stocks(made),
        sheets: bill.sheets,
        cut_together: together::rows(made),
        prototype: made.prototype.as_ref().map(prototype::entry),
    };
    super::package::json_bytes("report.json", &report)
}

fn order<'a>((built, steps): (&'a Built, &Vec<Step>)) -> OrderEntry<'a> {
    OrderEntry {
        holder: &built.letter,
        pushes: steps.len(),
        groups_moved: steps.iter().filter(|s| s.moved.len() > 1).count(),
        longest_push_mm: mm(steps.iter().map(|s| s.travel_mm).fold(0.0, f64::max)),
    }
}

fn check((about, outcome): &(About, Outcome)) -> CheckEntry<'_> {
    CheckEntry {
        name: about.name,
        rule: about.rule,
        source: about.source,
        verdict: outcome.verdict(),
        measured_count: outcome.measured.len(),
        measured: outcome.worst_measured().into_iter().map(measured).collect(),
    }
}

/// JSON has no infinity: what has no bound is null.
fn number(v: f64) -> Option<f64> {
    v.is_finite().then(|| mm(v))
}

fn measured(m: &Measured) -> MeasuredEntry<'_> {
    let limit = match m.limit {
        Limit::Least(l) => LimitEntry::Least(number(l)),
        Limit::Most(l) => LimitEntry::Most(number(l)),
    };
    MeasuredEntry { what: m.what, place: &m.place, value: number(m.value), limit, margin: number(m.margin()) }
}

fn default(d: &DefaultUsed) -> DefaultEntry<'_> {
    DefaultEntry { at: &d.at, value: fine(d.value), unit: d.unit }
}

fn stocks(made: &Made) -> Vec<StockEntry<'_>> {
    made.job
        .stocks
        .iter()
        .map(|s| StockEntry {
            id: &s.id,
            material: &s.material,
            thickness_mm: mm(s.thickness_mm),
            spread_mm: short(s.spread_mm),
            kerf_mm: short(s.kerf_mm),
            kerf_applied_mm: short(s.drawn_kerf_mm),
        })
        .collect()
}
