//! Readings that are old, few, or scattered.

use super::request::ReadingsRequest;
use crate::finding::{Finding, Verdict};
use crate::material::{Spread, Stock, USUAL_KERF_SD_MM};
use crate::statistics::Sample;
use crate::units::tidy;

/// Older readings are measured again, days: four weeks (common practice, no source).
const STALE_DAYS: f64 = 28.0;
/// … and beyond a season ply has moved by as much as a fit (0.5 to 1.5 %, estimate, no source).
const VOID_DAYS: f64 = 91.0;
/// Readings that a sheet wants (common practice, no source).
const ENOUGH: usize = 8;
/// Strips at different places of the bed differ by no more, mm (common practice: 0.02 to 0.05).
const KERF_RANGE_MM: f64 = 0.05;

/// Adds what is doubtful.
pub fn find(request: &ReadingsRequest, stock: &Stock, kerfs: &[f64], out: &mut Vec<Finding>) {
    stale(request, out);
    if let Some(sample) = Sample::of(&stock.next_thickness.readings_mm) {
        few(&sample, stock, out);
        stands_out(&stock.next_thickness, out);
    }
    kerf_scatters(kerfs, out);
}

fn stale(request: &ReadingsRequest, out: &mut Vec<Finding>) {
    let Some(age) = request.age_days.filter(|a| *a > STALE_DAYS) else { return };
    let end = if age > VOID_DAYS {
        "Ply moves by as much as a fit within a season: they are void."
    } else {
        "The lens, its focus and the optics' film change the kerf, and the weather the thickness."
    };
    out.push(
        Finding::new("readings-stale", Verdict::Warn, "/age_days").have("age_days", age).need("max", STALE_DAYS).why(
            format!("The readings are {} days old, {} more than four weeks. {end}", tidy(age), tidy(age - STALE_DAYS)),
        ),
    );
}

fn few(sample: &Sample, stock: &Stock, out: &mut Vec<Finding>) {
    if sample.count >= ENOUGH {
        return;
    }
    let [low, high] = stock.next_thickness.next.interval(super::combs::LEVEL);
    let spread = if sample.count == 1 {
        " One reading says nothing of the spread: what is usual in such sheets is taken for it."
    } else {
        ""
    };
    out.push(
        Finding::new("few-readings", Verdict::Warn, format!("/stock/{}", stock.next_thickness.place))
            .have("readings", sample.count)
            .have("next_interval_mm", vec![low, high])
            .need("readings", ENOUGH)
            .why(format!(
                "{} readings are {} fewer than a sheet wants: the next joint's thickness is only known to lie between {low:.3} and {high:.3} mm (95 %).{spread}",
                sample.count,
                ENOUGH - sample.count
            )),
    );
}

fn stands_out(thickness: &Spread, out: &mut Vec<Finding>) {
    let readings = &thickness.readings_mm;
    let Some((place, by, most)) = Sample::stands_out(readings) else { return };
    out.push(
        Finding::new("reading-stands-out", Verdict::Warn, format!("/stock/{}/{place}", thickness.place))
            .have("reading_mm", readings[place])
            .have("deviations", by)
            .need("deviations_max", most)
            .why(format!(
                "{} mm lies {by:.2} standard deviations from the others' mean, {:.2} more than chance explains (Grubbs, 5 %). A burr or dust under a jaw? Take it again.",
                tidy(readings[place]),
                by - most
            )),
    );
}

fn kerf_scatters(kerfs: &[f64], out: &mut Vec<Finding>) {
    let Some(sample) = Sample::of(kerfs) else { return };
    let (low, high) = kerfs.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), k| (lo.min(*k), hi.max(*k)));
    if high - low > KERF_RANGE_MM {
        out.push(
            Finding::new("kerf-scatters", Verdict::Warn, "/strips")
                .have("kerf_least_mm", low)
                .have("kerf_most_mm", high)
                .need("range_max_mm", KERF_RANGE_MM)
                .why(format!(
                    "Strips say {} to {} mm, {} mm farther apart than a bed differs from corner to corner. Check level and focus, or cut at the strip's own place.",
                    tidy(low),
                    tidy(high),
                    tidy(high - low - KERF_RANGE_MM)
                )),
        );
    }
    if sample.count == 1 {
        out.push(
            Finding::new("one-strip", Verdict::Warn, "/strips")
                .have("strips", 1.0)
                .need("strips", 2.0)
                .why(format!(
                    "One strip says nothing of the kerf at other places of the bed: a standard deviation of {USUAL_KERF_SD_MM} mm is taken, which is usual. Cut a second one at the far corner."
                )),
        );
    }
}
