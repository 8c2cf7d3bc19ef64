//! How thickness and kerf scatter: from readings where there are several, else as the trade knows it.

use super::profile::{Kerf, Span, Thickness};
use super::spec::StockSpec;
use crate::statistics::{Prediction, Sample};
use crate::units::Readings;

/// Where a spread comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SpreadFrom {
    /// From so many readings: Student's t.
    Readings(usize),
    /// The caller's own number, taken as known: normal.
    Given,
    /// What is usual in the trade, taken as known: normal. Nobody has measured it here.
    Usual,
}

/// Where the next value of one quantity lies, mm, and how that is known.
#[derive(Clone, Debug, PartialEq)]
pub struct Spread {
    /// Where the next value lies.
    pub next: Prediction,
    /// Where that comes from.
    pub from: SpreadFrom,
    /// The readings, empty when there were none.
    pub readings_mm: Vec<f64>,
    /// Where readings stand, or would stand, within the stock (`readings_mm`, `sheets/1/readings_mm`).
    pub place: String,
}

/// Kerf over a bed differs by 0.02 to 0.05 (common practice, no source); as a standard deviation that
/// is no more than 0.02.
pub const USUAL_KERF_SD_MM: f64 = 0.02;

/// Calipers show steps of 0.01 mm: readings that agree better than a step spreads evenly say no more.
const CALIPER_SD_MM: f64 = 0.01 / 3.464;

/// Thickness at the next joint. Where only listed sheets have readings, the most scattered one speaks for all.
pub(super) fn next_thickness(spec: &StockSpec, known: &Thickness) -> Spread {
    // ± of the trade holds nearly all sheets: two standard deviations
    let within = known.scatter_mm / 2.0;
    let listed = spec
        .sheets
        .iter()
        .enumerate()
        .filter_map(|(i, s)| Some((format!("sheets/{i}/readings_mm"), s.readings_mm.as_ref()?)));
    let (place, readings) = match &spec.readings_mm {
        Some(own) => ("readings_mm".to_owned(), own.all()),
        None => listed
            .max_by(|a, b| range(a.1).total_cmp(&range(b.1)))
            .map_or(("readings_mm".to_owned(), &[][..]), |(at, r)| (at, r.all())),
    };
    let unread = Prediction::normal(known.nominal_mm, libm::hypot(even(known.usual_mm), within));
    Spread::of(readings, spec.thickness_spread_mm, within, unread, place)
}

fn range(r: &Readings) -> f64 {
    r.largest() - r.smallest()
}

/// Kerf at the next joint; `kerf_mm` is what was settled on.
pub(super) fn next_kerf(spec: &StockSpec, rule: Option<&Kerf>, kerf_mm: f64) -> Spread {
    let place = "kerf_readings_mm".to_owned();
    // a knife takes nothing away and scatters by nothing
    let Some(rule) = rule.filter(|r| r.default_mm > 0.0 || spec.says_kerf()) else {
        return Spread::of(&[], Some(0.0), 0.0, Prediction::normal(kerf_mm, 0.0), place);
    };
    let unknown = if spec.says_kerf() { 0.0 } else { even(rule.usual_mm) };
    let unread = Prediction::normal(kerf_mm, libm::hypot(unknown, USUAL_KERF_SD_MM));
    let readings = spec.kerf_readings_mm.as_ref().map_or(&[][..], |r| r.all());
    let spread = Spread::of(readings, spec.kerf_spread_mm, USUAL_KERF_SD_MM, unread, place);
    Spread { next: Prediction { centre: kerf_mm, ..spread.next }, ..spread }
}

impl Spread {
    /// Of readings. `own_sd` is the caller's, `usual_sd` the trade's for one reading; `unread` stands where
    /// there is none.
    fn of(readings: &[f64], own_sd: Option<f64>, usual_sd: f64, unread: Prediction, place: String) -> Self {
        let sample = Sample::of(readings);
        let of_mean = sample.map_or(1.0, |s| (1.0 + 1.0 / s.count as f64).sqrt());
        let centre = sample.map_or(unread.centre, |s| s.mean);
        let (next, from) = match (own_sd, sample, sample.and_then(|s| s.next())) {
            (Some(sd), ..) => (Prediction::normal(centre, sd * of_mean), SpreadFrom::Given),
            (None, Some(s), Some(next)) => (next.at_least(CALIPER_SD_MM * of_mean), SpreadFrom::Readings(s.count)),
            (None, Some(_), None) => (Prediction::normal(centre, usual_sd * of_mean), SpreadFrom::Usual),
            (None, None, _) => (unread, SpreadFrom::Usual),
        };
        Self { next, from, readings_mm: readings.to_vec(), place }
    }

    /// The same without one of its readings: what would be known if that one had not been taken. `None`
    /// where fewer than two would be left.
    #[must_use]
    pub fn without(&self, reading: usize) -> Option<Self> {
        let SpreadFrom::Readings(count) = self.from else { return None };
        let left: Vec<f64> =
            self.readings_mm.iter().enumerate().filter(|(i, _)| *i != reading).map(|(_, r)| *r).collect();
        (count > 2).then(|| Self::of(&left, None, 0.0, self.next, self.place.clone()))
    }
}

/// Standard deviation of a value of which only the range is known: width/√12.
fn even(range: Span) -> f64 {
    (range.max - range.min) / 12.0_f64.sqrt()
}
