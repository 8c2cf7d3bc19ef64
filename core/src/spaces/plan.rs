//! A rectangle with round corners, seen from above: what a space leaves at one height.

/// How far the side of a square corner must stay off the walls of a corner of radius `radius_mm`:
/// (1 − 1/√2)·R = 0.293·R. Derived: the corner touches the arc on the bisector.
#[must_use]
pub fn square_corner_mm(radius_mm: f64) -> f64 {
    (1.0 - std::f64::consts::FRAC_1_SQRT_2) * radius_mm
}

/// Float noise when a holder is made exactly as large as its plan.
const NOISE_MM: f64 = 1e-9;

/// A rectangle with round corners, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plan {
    /// Along x.
    pub width_mm: f64,
    /// Along y.
    pub depth_mm: f64,
    /// Of all four corners.
    pub corner_radius_mm: f64,
}

impl Plan {
    /// The plan with `by_mm` taken off at each side: a round corner gets sharper by as much. Never negative.
    #[must_use]
    pub fn shrunk(&self, by_mm: f64) -> Self {
        Self {
            width_mm: (self.width_mm - 2.0 * by_mm).max(0.0),
            depth_mm: (self.depth_mm - 2.0 * by_mm).max(0.0),
            corner_radius_mm: (self.corner_radius_mm - by_mm).max(0.0),
        }
    }

    /// What lies in both plans when they stand on the same centre: never too large, at the corners
    /// it may be a little small.
    #[must_use]
    pub fn within(&self, other: &Self) -> Self {
        Self {
            width_mm: self.width_mm.min(other.width_mm),
            depth_mm: self.depth_mm.min(other.depth_mm),
            corner_radius_mm: self.corner_radius_mm.max(other.corner_radius_mm),
        }
    }

    /// Width and depth of the square-cornered rectangle that stays off every side by the same amount.
    #[must_use]
    pub fn square_mm(&self) -> [f64; 2] {
        let off = 2.0 * square_corner_mm(self.corner_radius_mm);
        [(self.width_mm - off).max(0.0), (self.depth_mm - off).max(0.0)]
    }

    /// Whether a rectangle with corners of radius `radius_mm` fits, centred.
    #[must_use]
    pub fn admits(&self, width_mm: f64, depth_mm: f64, radius_mm: f64) -> bool {
        let (x, y) = ((self.width_mm - width_mm) / 2.0, (self.depth_mm - depth_mm) / 2.0);
        if x < -NOISE_MM || y < -NOISE_MM {
            return false;
        }
        // from the centre of this corner's arc to that of the other's; where it does not lie in this
        // corner's quarter, only the straight sides count
        let (a, b) = (self.corner_radius_mm - x - radius_mm, self.corner_radius_mm - y - radius_mm);
        a <= 0.0 || b <= 0.0 || libm::hypot(a, b) + radius_mm <= self.corner_radius_mm + NOISE_MM
    }
}
