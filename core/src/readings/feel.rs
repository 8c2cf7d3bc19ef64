//! From answers by feel to how this shop's hand differs from the trade's words.
//!
//! Each answer brackets the clearance of its slot: between the trade's limits of that word, moved by
//! what this hand, this machine's taper and this material add. That one move, the *shift*, is what a
//! comb tells. A slot and a tongue vary a little from place to place, so limits are blurred; how much
//! is not known and is averaged over. The likelihood of an answer is the share of the blurred
//! clearance between the two limits (an ordered probit); with no opinion beforehand the shift's
//! distribution is the likelihood made to sum to 1.

use super::request::Answer;
use crate::statistics::{Distribution, Prediction};

/// Where the words change, finished slot less tongue, mm, in 3 mm plywood (common practice, no
/// source): refuses | mallet | thumb | slide | loose | rattles.
pub const LIMITS_MM: [f64; 5] = [-0.08, -0.03, 0.05, 0.12, 0.20];

/// Blurs that are averaged over, mm: from a careful hand on an even sheet to the scatter within poor
/// ply (± 0.15, common practice, taken as two and a half standard deviations).
const BLURS_MM: [f64; 6] = [0.005, 0.010, 0.016, 0.025, 0.040, 0.060];

/// The shift is looked for this far on either side: a kerf applied twice moves it by 0.30 at most.
const FARTHEST_MM: f64 = 0.40;
/// … in steps that are fine beside any blur.
const STEP_MM: f64 = 0.004;

/// One answer and the clearance that its slot should have.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Felt {
    /// Drawn slot + kerf − tongue, mm.
    pub clearance_mm: f64,
    /// What it felt like.
    pub answer: Answer,
}

/// How likely each shift is: masses on an even grid.
#[derive(Clone, Debug, PartialEq)]
pub struct Shift {
    from_mm: f64,
    mass: Vec<f64>,
}

impl Shift {
    /// What the answers say; `None` when there is none. Clearances are taken as exact here: see
    /// [`Shift::blurred`].
    #[must_use]
    pub fn of(felt: &[Felt]) -> Option<Self> {
        if felt.is_empty() {
            return None;
        }
        let places = (2.0 * FARTHEST_MM / STEP_MM).round() as usize + 1;
        let at = |i: usize| -FARTHEST_MM + i as f64 * STEP_MM;
        let mut mass = vec![0.0; places];
        // one factor for all, so that blurs keep their weights against each other
        let logs: Vec<f64> =
            BLURS_MM.iter().flat_map(|blur| (0..places).map(move |i| ln_likelihood(felt, at(i), *blur))).collect();
        let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        for (k, ln) in logs.iter().enumerate() {
            mass[k % places] += libm::exp(ln - most);
        }
        Some(Self { from_mm: -FARTHEST_MM, mass }.normalised())
    }

    /// The same, when all clearances may be off by one common amount (a kerf or a tongue that is not
    /// known exactly).
    #[must_use]
    pub fn blurred(&self, by: &Prediction) -> Self {
        let reach = self.mass.len() as i64 - 1;
        let edge = |k: i64| by.cdf(by.centre + (k as f64 - 0.5) * STEP_MM);
        let kernel: Vec<f64> = (-reach..=reach).map(|k| edge(k + 1) - edge(k)).collect();
        let last = kernel.iter().rposition(|m| *m > LEAST_MASS).unwrap_or(0) as i64 - reach;
        let mut mass = vec![0.0; self.mass.len() + 2 * last.max(0) as usize];
        for (i, m) in self.mass.iter().enumerate().filter(|(_, m)| **m > LEAST_MASS) {
            for k in -last..=last {
                mass[(i as i64 + k + last) as usize] += m * kernel[(k + reach) as usize];
            }
        }
        Self { from_mm: self.from_mm - last as f64 * STEP_MM, mass }.normalised()
    }

    fn normalised(mut self) -> Self {
        let all: f64 = self.mass.iter().sum();
        self.mass.iter_mut().for_each(|m| *m /= all);
        self
    }

    /// Its mean, mm.
    #[must_use]
    pub fn mean_mm(&self) -> f64 {
        self.mass.iter().enumerate().map(|(i, m)| m * (self.from_mm + i as f64 * STEP_MM)).sum()
    }

    /// The middle share `level`, mm: from and to.
    #[must_use]
    pub fn interval_mm(&self, level: f64) -> [f64; 2] {
        let tail = (1.0 - level) / 2.0;
        [self.quantile_mm(tail), self.quantile_mm(1.0 - tail)]
    }

    fn quantile_mm(&self, p: f64) -> f64 {
        let mut below = 0.0;
        for (i, m) in self.mass.iter().enumerate() {
            if below + m >= p {
                let share = if *m > 0.0 { (p - below) / m } else { 0.5 };
                return self.from_mm + (i as f64 - 0.5 + share) * STEP_MM;
            }
            below += m;
        }
        self.from_mm + self.mass.len() as f64 * STEP_MM
    }
}

/// Masses below this change no digit that is printed.
const LEAST_MASS: f64 = 1e-9;

/// ln of how likely all answers are at a shift.
fn ln_likelihood(felt: &[Felt], shift_mm: f64, blur_mm: f64) -> f64 {
    /// A slip of the tongue (a wrong word noted) is never impossible.
    const SLIP: f64 = 1e-4;
    let below = |limit: f64, clearance: f64| Distribution::Normal.cdf((limit + shift_mm - clearance) / blur_mm);
    felt.iter()
        .map(|f| {
            let i = f.answer as usize;
            let upper = LIMITS_MM.get(i).map_or(1.0, |l| below(*l, f.clearance_mm));
            let lower = if i == 0 { 0.0 } else { below(LIMITS_MM[i - 1], f.clearance_mm) };
            libm::log(SLIP + (1.0 - SLIP) * (upper - lower).max(0.0))
        })
        .sum()
}
