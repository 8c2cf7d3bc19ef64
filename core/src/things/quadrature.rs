//! Integrals of smooth functions, and of such as start and end like a root.

use std::f64::consts::PI;

/// Nodes and weights of the 8-point Gauss-Legendre rule on −1..1 (the positive half; Abramowitz & Stegun,
/// table 25.4).
const GAUSS_8: [(f64, f64); 4] = [
    (0.183_434_642_495_649_8, 0.362_683_783_378_362),
    (0.525_532_409_916_329, 0.313_706_645_877_887_3),
    (0.796_666_477_413_626_7, 0.222_381_034_453_374_5),
    (0.960_289_856_497_536_3, 0.101_228_536_290_376_3),
];

/// How often a panel is halved at most: 2¹² panels over a bottle's length are some 0.05 mm each.
const MOST_HALVINGS: u32 = 12;

fn gauss(a: f64, b: f64, f: &dyn Fn(f64) -> f64) -> f64 {
    let (mid, half) = ((a + b) / 2.0, (b - a) / 2.0);
    half * GAUSS_8.iter().map(|&(x, w)| w * (f(mid - half * x) + f(mid + half * x))).sum::<f64>()
}

fn halve(a: f64, b: f64, whole: f64, tol: f64, left: u32, f: &dyn Fn(f64) -> f64) -> f64 {
    let mid = (a + b) / 2.0;
    let (lower, upper) = (gauss(a, mid, f), gauss(mid, b, f));
    if left == 0 || (lower + upper - whole).abs() <= tol {
        return lower + upper;
    }
    halve(a, mid, lower, tol / 2.0, left - 1, f) + halve(mid, b, upper, tol / 2.0, left - 1, f)
}

/// ∫ f from `a` to `b` within about `tol`, f being smooth inside and like a power of a root at the ends.
///
/// With z = a + (b − a)·(1 − cos φ)/2 a root at either end becomes smooth in φ, so that Gauss's rule converges fast.
pub(crate) fn integral(a: f64, b: f64, tol: f64, f: impl Fn(f64) -> f64) -> f64 {
    let g = |phi: f64| f(a + (b - a) * (1.0 - libm::cos(phi)) / 2.0) * (b - a) / 2.0 * libm::sin(phi);
    halve(0.0, PI, gauss(0.0, PI, &g), tol, MOST_HALVINGS, &g)
}

#[cfg(test)]
mod tests {
    use super::integral;
    use std::f64::consts::PI;

    #[test]
    fn integrals_with_known_values() {
        assert!((integral(0.0, 1.0, 1e-13, |x| x * x) - 1.0 / 3.0).abs() < 1e-13);
        // quarter of the unit disc: a root at one end
        assert!((integral(0.0, 1.0, 1e-13, |x| (1.0 - x * x).max(0.0).sqrt()) - PI / 4.0).abs() < 1e-12);
        // the whole half disc: a root at both
        assert!((integral(-1.0, 1.0, 1e-13, |x| (1.0 - x * x).max(0.0).sqrt()) - PI / 2.0).abs() < 1e-12);
    }
}
