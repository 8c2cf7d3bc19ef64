//! The two distributions: normal, and Student's t.

use super::special::{incomplete_beta, ln_gamma};
use core::f64::consts::{PI, SQRT_2};

/// A distribution about zero with scale 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Distribution {
    /// Normal: the spread is known.
    Normal,
    /// Student's t: the spread was estimated, with so many degrees of freedom (more than 0).
    StudentT(f64),
}

impl Distribution {
    /// The share that lies at or below `x`.
    ///
    /// Normal: ½ erfc(−x/√2). Student's t: I at ν/(ν + x²) of ν/2 and ½ (NIST/SEMATECH e-Handbook of
    /// Statistical Methods, 1.3.6.6.4; Abramowitz & Stegun 26.7.1).
    #[must_use]
    pub fn cdf(self, x: f64) -> f64 {
        match self {
            Self::Normal => 0.5 * libm::erfc(-x / SQRT_2),
            Self::StudentT(df) => {
                let tail = 0.5 * incomplete_beta(df / 2.0, 0.5, df / (df + x * x));
                if x > 0.0 { 1.0 - tail } else { tail }
            }
        }
    }

    /// The density at `x`.
    #[must_use]
    pub fn density(self, x: f64) -> f64 {
        match self {
            Self::Normal => libm::exp(-x * x / 2.0) / (2.0 * PI).sqrt(),
            Self::StudentT(df) => {
                let ln_front = ln_gamma((df + 1.0) / 2.0) - ln_gamma(df / 2.0) - 0.5 * libm::log(df * PI);
                libm::exp(ln_front - (df + 1.0) / 2.0 * libm::log1p(x * x / df))
            }
        }
    }

    /// The value below which a share `p` lies, for p between 0 and 1 (clamped to 1e-12 from either).
    #[must_use]
    pub fn quantile(self, p: f64) -> f64 {
        /// Closer to 0 or 1 nobody asks, and t with one degree of freedom is beyond 3e11 there.
        const LEAST: f64 = 1e-12;
        let p = if p.is_finite() { p.clamp(LEAST, 1.0 - LEAST) } else { 0.5 };
        // by symmetry the lower half is enough, where tails keep their digits
        if p > 0.5 {
            return -self.quantile(1.0 - p);
        }
        let mut low = -1.0;
        while self.cdf(low) > p {
            low *= 2.0;
        }
        let mut high = 0.0;
        // each step halves the interval: 70 leave nothing that a double could tell apart
        for _ in 0..70 {
            let middle = (low + high) / 2.0;
            if self.cdf(middle) < p { low = middle } else { high = middle }
        }
        (low + high) / 2.0
    }
}
