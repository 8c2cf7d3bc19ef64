//! The incomplete beta function, from which Student's t follows.

/// Terms of the continued fraction at most: in the half that is used it settles within some fifty.
const MOST_TERMS: u32 = 300;
/// The fraction has settled when a term changes it by less.
const SETTLED: f64 = 1e-15;
/// Stands in for a zero in a denominator (modified Lentz's method).
const TINY: f64 = 1e-300;

/// ln Γ(x) for x > 0.
pub fn ln_gamma(x: f64) -> f64 {
    libm::lgamma_r(x).0
}

/// The regularised incomplete beta function I_x(a, b) for a, b > 0 and 0 ≤ x ≤ 1.
///
/// Continued fraction and symmetry: NIST Digital Library of Mathematical Functions, 8.17.22 and 8.17.4.
pub fn incomplete_beta(a: f64, b: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let front = libm::exp(ln_gamma(a + b) - ln_gamma(a) - ln_gamma(b) + a * libm::log(x) + b * libm::log1p(-x));
    // the fraction converges fast below the mean only
    if x < (a + 1.0) / (a + b + 2.0) {
        front * fraction(a, b, x) / a
    } else {
        1.0 - front * fraction(b, a, 1.0 - x) / b
    }
}

/// 1/(1 + d₁/(1 + d₂/(1 + …))) by modified Lentz's method.
fn fraction(a: f64, b: f64, x: f64) -> f64 {
    let away = |v: f64| if v.abs() < TINY { TINY } else { v };
    let mut c = 1.0;
    let mut d = 1.0 / away(1.0 - (a + b) * x / (a + 1.0));
    let mut f = d;
    for m in (1..MOST_TERMS).map(f64::from) {
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        let mut change = 1.0;
        for term in [even, odd] {
            d = 1.0 / away(1.0 + term * d);
            c = away(1.0 + term / c);
            change = c * d;
            f *= change;
        }
        if (change - 1.0).abs() < SETTLED {
            break;
        }
    }
    f
}
