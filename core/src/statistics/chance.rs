//! The chance that a sum of independent values lies between two limits.

use super::{Distribution, Prediction};
use core::f64::consts::PI;

/// One value in a sum and what it is multiplied by.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    /// What it is multiplied by.
    pub times: f64,
    /// Where it lies.
    pub value: Prediction,
}

/// Places at which a density is taken. With x = tan θ both shapes are smooth and flat at the ends, so
/// that equal steps converge fast; the tests hold them against closed forms.
const PLACES: u32 = 96;
/// With fewer than three degrees of freedom tails are so long that more places are needed.
const PLACES_FOR_LONG_TAILS: u32 = 384;

/// The chance that the sum of all terms lies from `low` to `high`. Values are independent.
///
/// Normal terms add up to one normal term. The others are taken in turn, the narrowest first: its
/// density is summed over, and the chance of the rest, which is smooth on its scale, is asked at each
/// place. With one estimated spread (the usual case) that is one sum.
#[must_use]
pub fn chance_between(terms: &[Term], low: f64, high: f64) -> f64 {
    let (mut centre, mut variance, mut others) = (0.0, 0.0, vec![]);
    for t in terms {
        centre += t.times * t.value.centre;
        let scale = (t.times * t.value.scale).abs();
        match t.value.shape {
            _ if scale == 0.0 => {}
            Distribution::Normal => variance += scale * scale,
            shape => others.push(Prediction { centre: 0.0, scale, shape }),
        }
    }
    if variance > 0.0 {
        others.push(Prediction::normal(0.0, variance.sqrt()));
    }
    // widest first, so that the narrowest is taken off the end
    others.sort_by(|a, b| b.scale.total_cmp(&a.scale));
    between(&others, low - centre, high - centre).clamp(0.0, 1.0)
}

fn between(wide_to_narrow: &[Prediction], low: f64, high: f64) -> f64 {
    match wide_to_narrow {
        [] => f64::from(u8::from(low <= 0.0 && high >= 0.0)),
        [one] => one.cdf(high) - one.cdf(low),
        [rest @ .., narrow] => {
            let (mut sum, mut weights) = (0.0, 0.0);
            let long = matches!(narrow.shape, Distribution::StudentT(df) if df < 3.0);
            let places = if long { PLACES_FOR_LONG_TAILS } else { PLACES };
            for i in 0..places {
                let angle = PI * ((f64::from(i) + 0.5) / f64::from(places) - 0.5);
                let x = libm::tan(angle);
                let weight = narrow.shape.density(x) * (1.0 + x * x);
                // what is this unlikely changes nothing that is printed
                if weight > 1e-12 {
                    weights += weight;
                    sum += weight * between(rest, low - narrow.scale * x, high - narrow.scale * x);
                }
            }
            sum / weights
        }
    }
}
