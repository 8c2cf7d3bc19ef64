//! Whole-number boxes: what the search computes with.
//!
//! Whole numbers keep the search exact and equal on every machine. Everything that is rounded is rounded
//! to the safe side, so a layout made of blocks keeps its gaps in millimetres too.

/// Millimetres in one unit. Ten times finer than anything a laser resolves, and sizes written in
/// hundredths of a millimetre stay exact; 100 m still fit into an `i32`.
pub const UNIT_MM: f64 = 1e-4;

/// Noise of f64 arithmetic that must not cost a unit, in units: 1e-10 mm, a tenth of the smallest
/// shortfall of a gap that would count.
const NOISE: f64 = 1e-6;

/// Units that lie wholly within `mm`.
pub fn floor_units(mm: f64) -> i32 {
    (mm / UNIT_MM + NOISE).floor() as i32
}

/// Units that cover `mm`.
pub fn ceil_units(mm: f64) -> i32 {
    (mm / UNIT_MM - NOISE).ceil() as i32
}

/// Millimetres of so many units.
pub fn to_mm(units: i32) -> f64 {
    f64::from(units) * UNIT_MM
}

/// An upright box without its border: `x0 < x < x1`, `y0 < y < y1`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Block {
    /// Lower edge.
    pub y0: i32,
    /// Upper edge.
    pub y1: i32,
    /// Left edge.
    pub x0: i32,
    /// Right edge.
    pub x1: i32,
}

impl Block {
    /// The same box moved.
    pub fn moved(self, dx: i32, dy: i32) -> Self {
        Self { x0: self.x0 + dx, x1: self.x1 + dx, y0: self.y0 + dy, y1: self.y1 + dy }
    }
    /// Where the zero of a box `self` may not stand lest it overlap `fixed`.
    pub fn keeps_from(self, fixed: Self) -> Self {
        Self { x0: fixed.x0 - self.x1, x1: fixed.x1 - self.x0, y0: fixed.y0 - self.y1, y1: fixed.y1 - self.y0 }
    }
    /// Mirrored about the line x = y.
    pub fn swapped(self) -> Self {
        Self { x0: self.y0, x1: self.y1, y0: self.x0, y1: self.x1 }
    }
}
