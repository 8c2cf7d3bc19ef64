//! A drawer that is out of square: what its two diagonals say.

/// What is lost because a drawer is a parallelogram.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Skew {
    /// How far it is out of square, never negative.
    pub angle_deg: f64,
    /// What the holder's width loses.
    pub width_lost_mm: f64,
    /// What the holder's depth loses.
    pub depth_lost_mm: f64,
    /// How far `width_lost_mm` may be off, ±, when both diagonals are off the other way.
    pub uncertainty_mm: f64,
}

impl Skew {
    /// From the inside width and depth, both diagonals, and how far a diagonal may be off.
    ///
    /// Derived from the parallelogram: d₁² − d₂² = 4·W·D·sin(skew), and the upright rectangle in it is
    /// W − D·sin(skew) by D·cos(skew). The loss is (d₁² − d₂²)/(4·W); errors of ± u on both diagonals
    /// move it by (d₁ + d₂)·u/(2·W).
    #[must_use]
    pub fn from_diagonals(width_mm: f64, depth_mm: f64, [d1, d2]: [f64; 2], reading_mm: f64) -> Self {
        let sin = ((d1 * d1 - d2 * d2).abs() / (4.0 * width_mm * depth_mm)).min(1.0);
        let angle = libm::asin(sin);
        Self {
            angle_deg: angle.to_degrees(),
            width_lost_mm: depth_mm * sin,
            depth_lost_mm: depth_mm * (1.0 - libm::cos(angle)),
            uncertainty_mm: (d1 + d2) * reading_mm / (2.0 * width_mm),
        }
    }
}
