//! How far a plate on four supported edges, or a strip on two, sags in the middle.

use std::f64::consts::PI;

/// Poisson's ratio of plywood in the mean of both directions, as the trade reckons; it moves the sag
/// by less than a tenth.
pub(super) const POISSON: f64 = 0.3;

/// Odd terms of the double series up to this one. The rest of it is below 1e-6 of the sum: terms fall
/// with the fifth power.
const LAST_TERM: i32 = 59;

/// Standard gravity as the trade reckons with it, N/g.
pub(super) const N_PER_G: f64 = 9.81e-3;

/// Sag of the middle, mm, of a plate `a` × `b` mm on four simply supported edges under an even load
/// of `q` N/mm²: Navier's series w = Σ Σ 16q/(π⁶·D·m·n·((m/a)² + (n/b)²)²)·sin(mπ/2)·sin(nπ/2) over
/// odd m and n, D = E·t³/(12·(1 − ν²)) (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells).
pub(super) fn plate_sag_mm(a: f64, b: f64, q: f64, e_n_mm2: f64, t: f64) -> f64 {
    let d = e_n_mm2 * t * t * t / (12.0 * (1.0 - POISSON * POISSON));
    let sign = |m: i32| if m % 4 == 1 { 1.0 } else { -1.0 };
    let mut sum = 0.0;
    for m in (1..=LAST_TERM).step_by(2) {
        for n in (1..=LAST_TERM).step_by(2) {
            let (fm, fn_) = (f64::from(m), f64::from(n));
            let k = (fm / a) * (fm / a) + (fn_ / b) * (fn_ / b);
            sum += sign(m) * sign(n) / (fm * fn_ * k * k);
        }
    }
    16.0 * q * sum / (PI * PI * PI * PI * PI * PI * d)
}

/// Sag of the middle, mm, of a strip of the same plate held on two opposite edges `span` mm apart:
/// 5·w·l⁴/(384·E·I) for a strip 1 mm wide (Machinery's Handbook, 31st ed., beams, case 1).
pub(super) fn strip_sag_mm(span: f64, q: f64, e_n_mm2: f64, t: f64) -> f64 {
    5.0 * q * span * span * span * span / (384.0 * e_n_mm2 * t * t * t / 12.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// α of Roark's form: w = α·q·b⁴/(E·t³), b the shorter side.
    fn alpha(ratio: f64) -> f64 {
        plate_sag_mm(ratio, 1.0, 1.0, 1.0, 1.0)
    }

    // Roark's Formulas for Stress and Strain, 7th ed., table 11.4, case 1a, ν = 0.3; its values at 1.4
    // and 2.0 are half a per cent off the series, so 0.6 % is allowed throughout
    #[test]
    fn coefficients_of_roarks_table() {
        for (ratio, published) in [
            (1.0, 0.0444),
            (1.2, 0.0616),
            (1.4, 0.0770),
            (1.6, 0.0906),
            (1.8, 0.1017),
            (2.0, 0.1110),
            (3.0, 0.1335),
            (5.0, 0.1417),
        ] {
            let have = alpha(ratio);
            assert!((have / published - 1.0).abs() < 0.006, "a/b {ratio}: {have} for {published}");
        }
    }

    // Machinery's Handbook, 31st ed., p. 289, equation 2 (square) and 12 (rectangle; 0.8 % above the series)
    #[test]
    fn coefficients_of_machinerys_handbook() {
        assert!((alpha(1.0) - 0.0443).abs() < 0.0002);
        assert!((alpha(2.0) / (0.1422 / (1.0 + 2.21 / 8.0)) - 1.0).abs() < 0.01);
    }

    // Timoshenko and Woinowsky-Krieger, table 8 (recomputed): w·D/(q·b⁴)
    #[test]
    fn coefficients_of_timoshenko() {
        let d = 1.0 / (12.0 * (1.0 - POISSON * POISSON));
        for (ratio, published) in [(1.0, 0.00406), (1.2, 0.00565), (2.0, 0.01013)] {
            let have = alpha(ratio) * d;
            assert!((have - published).abs() < 0.00001, "{ratio}: {have}");
        }
    }

    // a ready-made strip: E 8000, 100 wide, 3 thick, 10 N over 400 mm: 4.62963 mm (Machinery's Handbook
    // case 1, recomputed)
    #[test]
    fn a_strip_is_a_beam() {
        let sag = strip_sag_mm(400.0, 10.0 / (400.0 * 100.0), 8000.0, 3.0);
        assert!((sag - 4.62963).abs() < 1e-5, "{sag}");
    }

    // trade scenario A21 (calculated by the same series elsewhere)
    #[test]
    fn a_tray_with_nine_kilograms() {
        let q = |area: f64| 9000.0 * N_PER_G / area;
        let whole = q(513.1 * 438.1);
        let close = |have: f64, want: f64, tol: f64| assert!((have - want).abs() <= tol, "{have} for {want}");
        close(plate_sag_mm(513.1, 438.1, whole, 6000.0, 3.10), 4.8, 0.15);
        close(plate_sag_mm(513.1, 438.1, whole, 6000.0, 6.31), 0.57, 0.05);
        close(plate_sag_mm(513.1 / 2.0, 438.1, whole, 6000.0, 3.10), 0.92, 0.1);
    }
}
