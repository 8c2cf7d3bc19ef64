//! Where a function crosses zero, between two places that bracket the crossing.

/// Rounds before giving up: plain halving of 1e6 mm down to 1e-10 mm takes 54, and a step never does worse
/// than a halving for long.
const MOST_ROUNDS: usize = 120;

/// The place between `lo` and `hi` where `f` changes its sign, to within `tol` (same unit as the place).
/// `None` when `f` has the same sign at both ends.
///
/// Inverse quadratic interpolation where it is safe, halving elsewhere (T. R. Chandrupatla, "A new hybrid
/// quadratic/bisection algorithm", Advances in Engineering Software 28, 1997; from memory): never leaves the bracket.
pub(crate) fn crossing(lo: f64, hi: f64, tol: f64, mut f: impl FnMut(f64) -> f64) -> Option<f64> {
    let (mut a, mut b) = (lo, hi);
    let (mut fa, mut fb) = (f(a), f(b));
    if fa == 0.0 {
        return Some(a);
    }
    if fb == 0.0 {
        return Some(b);
    }
    if fa.is_nan() || fb.is_nan() || (fa > 0.0) == (fb > 0.0) {
        return None;
    }
    let (mut c, mut fc);
    let mut share = 0.5;
    for _ in 0..MOST_ROUNDS {
        let x = a + share * (b - a);
        let fx = f(x);
        if (fx > 0.0) == (fa > 0.0) {
            (c, fc) = (a, fa);
        } else {
            (c, b, fc, fb) = (b, a, fb, fa);
        }
        (a, fa) = (x, fx);
        let (best, fbest) = if fa.abs() < fb.abs() { (a, fa) } else { (b, fb) };
        // the least step is what doubles can resolve, or half the tolerance
        let least = (2.0 * f64::EPSILON * best.abs() + 0.5 * tol) / (b - a).abs();
        if fbest == 0.0 || least > 0.5 {
            return Some(best);
        }
        share = next_share([a, b, c], [fa, fb, fc]).clamp(least, 1.0 - least);
    }
    Some(a)
}

/// Where to look next, as a share of the way from a to b: by the parabola through the three when it is
/// monotone between them, else the middle.
fn next_share([a, b, c]: [f64; 3], [fa, fb, fc]: [f64; 3]) -> f64 {
    let xi = (a - b) / (c - b);
    let phi = (fa - fb) / (fc - fb);
    if phi * phi < xi && (1.0 - phi) * (1.0 - phi) < 1.0 - xi {
        let t = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb);
        if t.is_finite() { t } else { 0.5 }
    } else {
        0.5
    }
}

#[cfg(test)]
mod tests {
    use super::crossing;

    #[test]
    fn finds_known_roots() {
        // 2^(1/3), and x³ − 2x − 5 = 0 at 2.0945514815423265 (Wallis, 1685; the classic trial of root finders)
        let cube = crossing(0.0, 2.0, 1e-13, |x| x * x * x - 2.0).unwrap();
        assert!((cube - 1.259_921_049_894_873).abs() < 1e-12);
        let wallis = crossing(2.0, 3.0, 1e-13, |x| x * x * x - 2.0 * x - 5.0).unwrap();
        assert!((wallis - 2.094_551_481_542_326_5).abs() < 1e-12);
    }

    #[test]
    fn a_step_and_a_flat_foot_are_found_too() {
        let step = crossing(0.0, 1.0, 1e-10, |x| if x < 0.3 { -1.0 } else { 4.0 }).unwrap();
        assert!((step - 0.3).abs() < 1e-9, "{step}");
        let flat = crossing(0.0, 10.0, 1e-10, |x| (x - 1.0).max(0.0).powi(9) - 1e-18).unwrap();
        assert!((flat - 1.01).abs() < 1e-6, "{flat}");
        assert_eq!(crossing(0.0, 1.0, 1e-10, |x| x + 1.0), None);
        assert_eq!(crossing(0.0, 1.0, 1e-10, |_| f64::NAN), None);
    }
}
