//! Measures that must agree with each other: diameter, tape, spread, content.

use std::f64::consts::PI;

use crate::finding::{Finding, Verdict};
use crate::units::{Readings, tidy};

/// Tape and diameter may differ by this share (common practice, no source: more than 3 % = measure again).
const TAPE_SHARE: f64 = 0.03;
/// Readings of one diameter may spread by this share before it is said: squeeze bottles are oval by 1 to 2 mm
/// (common practice, no source).
const SPREAD_SHARE: f64 = 0.10;
/// Printed and computed content may differ by this share (common practice, no source: more = a wrong number).
const CONTENT_SHARE: f64 = 0.30;

/// Diameters of a thing, mm: the smallest and the largest that its place must take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Diameters {
    /// Of the thinnest brand, or the smallest reading.
    pub smallest_mm: f64,
    /// Of the thickest brand, or the largest reading. The solid has this one.
    pub largest_mm: f64,
}

/// What a caller says about a diameter.
pub(super) struct DiameterGiven<'a> {
    pub readings: &'a Readings,
    pub range: Option<&'a Readings>,
    pub tape_mm: Option<f64>,
}

impl DiameterGiven<'_> {
    /// Checks readings, spread and tape against each other; `at` is the shape's JSON Pointer. What comes back is
    /// good only when no finding refuses.
    pub(super) fn checked(&self, at: &str, out: &mut Vec<Finding>) -> Diameters {
        self.check_tape(at, out);
        let (low, high) = (self.readings.smallest(), self.readings.largest());
        if high - low > SPREAD_SHARE * high {
            out.push(
                Finding::new("readings-far-apart", Verdict::Warn, format!("{at}/diameter_mm"))
                    .have("spread_mm", high - low)
                    .need("spread_max_mm", SPREAD_SHARE * high)
                    .why(format!(
                        "The readings of the diameter run from {} to {} mm; the largest is taken. A squeeze bottle is oval \
                         by 1 to 2 mm, not by {}: measure again.",
                        tidy(low),
                        tidy(high),
                        tidy(high - low)
                    )),
            );
        }
        let range = self.range.and_then(|r| self.check_range(r, at, out));
        let (low, high) = range.unwrap_or((low, high));
        Diameters { smallest_mm: low, largest_mm: high }
    }

    fn check_tape(&self, at: &str, out: &mut Vec<Finding>) {
        let Some(tape) = self.tape_mm else { return };
        // the mean, as a tape round an oval measures its mean diameter
        let across = self.readings.mean();
        let implied = tape / PI;
        let apart = (across - implied).abs() / across;
        if apart > TAPE_SHARE {
            out.push(
                Finding::new("tape-disagrees", Verdict::Refuse, format!("{at}/circumference_mm"))
                    .have("diameter_mm", across)
                    .have("circumference_mm", tape)
                    .have("diameter_from_tape_mm", implied)
                    .have("disagreement_percent", 100.0 * apart)
                    .need("disagreement_max_percent", 100.0 * TAPE_SHARE)
                    .why(format!(
                        "{} across but {} around means {:.1} across: {:.1} % apart. Measure again, or leave out \
                         the one that is wrong.",
                        tidy(across),
                        tidy(tape),
                        implied,
                        100.0 * apart
                    )),
            );
        }
    }

    fn check_range(&self, range: &Readings, at: &str, out: &mut Vec<Finding>) -> Option<(f64, f64)> {
        let at = format!("{at}/diameter_range_mm");
        let &[low, high] = range.all() else {
            out.push(
                Finding::new("range-needs-two", Verdict::Refuse, at)
                    .have("numbers", range.all().len())
                    .need("numbers", 2.0)
                    .why("A spread of brands is two numbers: the smallest and the largest diameter."),
            );
            return None;
        };
        if low > high {
            out.push(
                Finding::new("range-turned", Verdict::Refuse, &at)
                    .have("smallest_mm", low)
                    .have("largest_mm", high)
                    .why(format!(
                        "The smallest diameter, {}, is {} more than the largest: turn them round.",
                        tidy(low),
                        tidy(low - high)
                    ))
                    .cure("give the smaller one first", &at, vec![high, low]),
            );
            return None;
        }
        let (least, most) = (self.readings.smallest(), self.readings.largest());
        let off = (low - least).max(most - high);
        if off > 0.0 {
            let wider = vec![low.min(least), high.max(most)];
            out.push(
                Finding::new("reading-outside-range", Verdict::Refuse, &at)
                    .have("smallest_reading_mm", least)
                    .have("largest_reading_mm", most)
                    .need("smallest_mm", low)
                    .need("largest_mm", high)
                    .why(format!("A reading of the diameter lies outside the spread of brands by {}.", tidy(off)))
                    .cure("widen the spread to take the readings in", &at, wider),
            );
            return None;
        }
        Some((low, high))
    }
}

/// Checks the printed content against π·r²·L of the inside; `at` is the field's JSON Pointer.
pub(super) fn check_content(content_ml: f64, body_mm3: f64, at: &str, out: &mut Vec<Finding>) {
    let computed = body_mm3 / 1000.0;
    let apart = (computed - content_ml).abs() / content_ml;
    if apart > CONTENT_SHARE {
        out.push(
            Finding::new("content-disagrees", Verdict::Refuse, at)
                .have("content_ml", content_ml)
                .have("content_from_measures_ml", computed)
                .have("disagreement_percent", 100.0 * apart)
                .need("disagreement_max_percent", 100.0 * CONTENT_SHARE)
                .why(format!(
                    "The label says {} ml, diameter, wall and body make {:.0} ml: {:.0} % apart. One number is wrong: measure again.",
                    tidy(content_ml),
                    computed,
                    100.0 * apart
                )),
        );
    }
}
