//! A few readings of one quantity.

use super::{Distribution, Prediction};

/// Readings in short.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    /// How many there are, at least 1.
    pub count: usize,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation (n − 1 in the denominator); 0 with one reading.
    pub sd: f64,
}

impl Sample {
    /// Of readings; `None` when there are none.
    #[must_use]
    pub fn of(readings: &[f64]) -> Option<Self> {
        let count = readings.len();
        if count == 0 {
            return None;
        }
        let mean = readings.iter().sum::<f64>() / count as f64;
        let squares: f64 = readings.iter().map(|r| (r - mean) * (r - mean)).sum();
        let sd = if count > 1 { (squares / (count - 1) as f64).sqrt() } else { 0.0 };
        Some(Self { count, mean, sd })
    }

    /// Degrees of freedom of the spread.
    #[must_use]
    pub fn df(&self) -> f64 {
        self.count.saturating_sub(1) as f64
    }

    /// Where the next single value will lie: mean + s·√(1 + 1/n)·t with n − 1 degrees of freedom.
    /// `None` with one reading, which says nothing of the spread.
    #[must_use]
    pub fn next(&self) -> Option<Prediction> {
        self.spread_by(1.0)
    }

    /// Where the true mean lies: mean + s/√n·t with n − 1 degrees of freedom. `None` with one reading.
    #[must_use]
    pub fn true_mean(&self) -> Option<Prediction> {
        self.spread_by(0.0)
    }

    fn spread_by(&self, own: f64) -> Option<Prediction> {
        (self.count > 1).then(|| Prediction {
            centre: self.mean,
            scale: self.sd * (own + 1.0 / self.count as f64).sqrt(),
            shape: Distribution::StudentT(self.df()),
        })
    }

    /// Which reading stands out (Grubbs' two-sided test at 5 %): its place in `readings`, and by how
    /// many standard deviations it is away from the mean, and how many would still be usual.
    ///
    /// G = max|x − x̄|/s against (n − 1)/√n · √(t²/(n − 2 + t²)), t at 5 %/(2n) with n − 2 degrees of
    /// freedom: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1.
    #[must_use]
    pub fn stands_out(readings: &[f64]) -> Option<(usize, f64, f64)> {
        let s = Self::of(readings).filter(|s| s.count > 2 && s.sd > 0.0)?;
        let off = |r: &f64| (r - s.mean).abs() / s.sd;
        let (place, g) = readings.iter().map(off).enumerate().max_by(|a, b| a.1.total_cmp(&b.1).then(b.0.cmp(&a.0)))?;
        let n = s.count as f64;
        let t = Distribution::StudentT(n - 2.0).quantile(0.05 / (2.0 * n));
        let most = (n - 1.0) / n.sqrt() * (t * t / (n - 2.0 + t * t)).sqrt();
        (g > most).then_some((place, g, most))
    }
}
