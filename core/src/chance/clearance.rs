//! One place where something enters something: what its clearance hangs on.

use crate::assembly::{Assembly, Joint, Meeting};
use crate::finish::Built;
use crate::job::Job;
use crate::joints::{Ends, Section, Side, tab};
use crate::material::{Span, Spread, closes};
use crate::statistics::{Prediction, Term, chance_between};

/// What scatters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// Thickness of a stock's sheets.
    Thickness(usize),
    /// Kerf in a stock's sheets.
    Kerf(usize),
}

impl Source {
    /// How it scatters.
    pub fn spread(self, job: &Job) -> Option<&Spread> {
        match self {
            Self::Thickness(s) => job.stocks.get(s).map(|s| &s.next_thickness),
            Self::Kerf(s) => job.stocks.get(s).map(|s| &s.next_kerf),
        }
    }

    /// JSON Pointer of its readings.
    pub fn place(self, spread: &Spread) -> String {
        let (Self::Thickness(s) | Self::Kerf(s)) = self;
        format!("/stocks/{s}/{}", spread.place)
    }
}

/// Clearances of a kind: fit, slot, and how the clearance follows each source.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearance {
    /// Finished slot less what enters, as asked, mm.
    pub fit_mm: f64,
    /// Slot as drawn, mm; none at fingers, which are many widths.
    pub drawn_mm: Option<f64>,
    /// By how much the clearance grows with each source.
    pub follows: Vec<(Source, f64)>,
}

/// What stands in for a source's own spread when a reading is left out.
pub struct Instead<'a> {
    /// Which source.
    pub source: Source,
    /// How it scatters then.
    pub next: &'a Prediction,
}

impl Clearance {
    /// The clearances with which it closes as asked, mm.
    pub fn closes(&self) -> Span {
        closes(self.fit_mm)
    }

    /// Chance to close when drawn for `fit_mm`, with one source perhaps known otherwise.
    pub fn chance(&self, job: &Job, fit_mm: f64, instead: Option<&Instead>) -> f64 {
        let terms: Vec<Term> = self
            .follows
            .iter()
            .filter_map(|(source, times)| {
                let own = source.spread(job)?.next;
                let next = instead.filter(|i| i.source == *source).map_or(own, |i| *i.next);
                // deviations from what was drawn for
                Some(Term { times: *times, value: Prediction { centre: next.centre - own.centre, ..next } })
            })
            .collect();
        let band = self.closes();
        chance_between(&terms, band.min - fit_mm, band.max - fit_mm)
    }
}

/// The clearances of a meeting: one of a tab, a hook or a corner, two of a lap, none where nothing enters.
pub fn of(job: &Job, built: &Built, m: &Meeting) -> Vec<Clearance> {
    let a = &built.assembly;
    let (Some(pa), Some(pb)) = (a.panels.get(m.a.0), a.panels.get(m.b.0)) else { return vec![] };
    let Some(x) = Section::between(&pa.slab, &pb.slab) else { return vec![] };
    let one = |drawn_mm, follows| Clearance { fit_mm: m.fit_mm, drawn_mm, follows };
    match m.joint {
        Joint::Rest => vec![],
        // notch less finger: half a kerf at each of four flanks, and no thickness
        Joint::Corner => vec![one(None, merged(&[(Source::Kerf(pa.stock), 1.0), (Source::Kerf(pb.stock), 1.0)]))],
        Joint::Lap { .. } => [(Side::A, pa.stock, pb.stock), (Side::B, pb.stock, pa.stock)]
            .into_iter()
            .map(|(side, host, enters)| {
                let (lo, hi) = x.range(side, &x.crossing());
                one(drawn(job, host, hi - lo + m.fit_mm), slot(host, enters, 1.0 / x.sin, x.cos / x.sin))
            })
            .collect(),
        Joint::Tab { .. } | Joint::Hook { .. } => {
            let Some(wide) = entering(built, a, m, &x) else { return vec![] };
            // (t + T·cosφ)/sinφ for a tab of any length, T·cotφ + t·sinφ for a flush one
            let whole = (x.slab(Side::A).thickness + x.slab(Side::B).thickness * x.cos) / x.sin;
            let per_enters = if wide < whole - SAME_MM { x.sin } else { 1.0 / x.sin };
            let follows = slot(pb.stock, pa.stock, per_enters, x.cos / x.sin);
            vec![one(drawn(job, pb.stock, wide + m.fit_mm), follows)]
        }
    }
}

/// Slots that differ by less are the same formula's.
const SAME_MM: f64 = 1e-6;

/// The width across the host that the entering panel takes, without its fit.
fn entering(built: &Built, assembly: &Assembly, m: &Meeting, x: &Section) -> Option<f64> {
    let blank = &built.finished.panels.get(m.a.0)?.blank;
    let (lo, hi) = tab::slot_range(x, &Ends { blank, seed: assembly.panel(m.a).seed }, 0.0);
    Some(hi - lo)
}

fn slot(host: usize, enters: usize, per_enters: f64, per_host: f64) -> Vec<(Source, f64)> {
    merged(&[(Source::Kerf(host), 1.0), (Source::Thickness(enters), -per_enters), (Source::Thickness(host), -per_host)])
}

fn drawn(job: &Job, host: usize, finished_mm: f64) -> Option<f64> {
    job.stocks.get(host).map(|s| finished_mm - s.drawn_kerf_mm)
}

/// What is cut from the same sheet at the same place moves together: its shares add up.
fn merged(all: &[(Source, f64)]) -> Vec<(Source, f64)> {
    /// At right angles the host's thickness does not count; rounding leaves this much of it.
    const NONE: f64 = 1e-9;
    let mut sums: std::collections::BTreeMap<Source, f64> = std::collections::BTreeMap::new();
    for (source, times) in all {
        *sums.entry(*source).or_default() += times;
    }
    sums.into_iter().filter(|(_, times)| times.abs() > NONE).collect()
}
