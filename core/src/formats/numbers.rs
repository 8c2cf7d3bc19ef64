//! How numbers are printed: rounded, and never as −0.

use crate::geom::{DVec3, Frame};

/// Rounded to a number of decimals, without −0. What is not finite stays so and fails where it is written.
pub fn rounded(v: f64, scale: f64) -> f64 {
    // + 0 makes 0 of −0
    (v * scale).round() / scale + 0.0
}

/// Drawn coordinates and lengths, mm: 1e-4 is far below what any machine repeats, and survives text.
pub fn mm(v: f64) -> f64 {
    rounded(v, 1e4)
}

/// Lengths for people, mm.
pub fn mm2(v: f64) -> f64 {
    rounded(v, 1e2)
}

/// Shares, minutes, grams, money.
pub fn short(v: f64) -> f64 {
    rounded(v, 1e3)
}

/// Directions and bulges: ten digits leave 1e-7 mm on a metre.
pub fn fine(v: f64) -> f64 {
    rounded(v, 1e10)
}

/// The 16 numbers of a placement, row-major.
pub fn placement(frame: &Frame) -> [f64; 16] {
    let mut m = frame.matrix().map(fine);
    for i in [3, 7, 11] {
        m[i] = rounded(m[i], 1e6);
    }
    m
}

/// A place in space, mm.
pub fn place(p: DVec3) -> [f64; 3] {
    p.to_array().map(mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_printed_as_minus_zero() {
        for f in [mm, mm2, short, fine] {
            assert_eq!(format!("{}", f(-1e-12)), "0");
        }
        assert_eq!(format!("{}", mm(176.100_000_000_000_02)), "176.1");
    }
}
