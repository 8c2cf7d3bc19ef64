//! The inside of a space as a solid: a floor, four walls that may lean, round corners, a fillet.

use super::plan::Plan;

/// The bare inside of a space, before any clearance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Walls {
    /// At the floor, as if there were no fillet.
    pub floor: Plan,
    /// Height of the walls.
    pub height_mm: f64,
    /// How far the left and right walls lean outwards, in radians; negative where they lean inwards.
    pub slope_x_rad: f64,
    /// How far the front and back walls lean outwards, in radians.
    pub slope_y_rad: f64,
    /// Corner radius at the rim; between floor and rim it changes evenly.
    pub rim_radius_mm: f64,
    /// Radius between the floor and the walls.
    pub fillet_mm: f64,
}

impl Walls {
    /// Upright walls.
    #[must_use]
    pub fn upright(floor: Plan, height_mm: f64, fillet_mm: f64) -> Self {
        let rim_radius_mm = floor.corner_radius_mm;
        Self { floor, height_mm, slope_x_rad: 0.0, slope_y_rad: 0.0, rim_radius_mm, fillet_mm }
    }

    /// The inside at a height; below the floor that of the floor, above the rim that of the rim.
    #[must_use]
    pub fn at(&self, z_mm: f64) -> Plan {
        // min and max, not clamp: that panics when a refused height is negative
        let z = z_mm.min(self.height_mm).max(0.0);
        let side = |floor: f64, slope: f64| {
            (floor + 2.0 * z * libm::tan(slope) - 2.0 * fillet_inset_mm(self.fillet_mm, slope, z)).max(0.0)
        };
        let share = if self.height_mm > 0.0 { z / self.height_mm } else { 0.0 };
        Plan {
            width_mm: side(self.floor.width_mm, self.slope_x_rad),
            depth_mm: side(self.floor.depth_mm, self.slope_y_rad),
            corner_radius_mm: self.floor.corner_radius_mm + share * (self.rim_radius_mm - self.floor.corner_radius_mm),
        }
    }
}

/// How far a fillet of radius `f` stands in front of a wall that leans by `slope`, at height `z`.
///
/// Derived: the fillet's circle touches the floor and the wall, so its centre stands at height f and
/// T = f·tan(45° − slope/2) inwards of the wall's foot; it touches the wall at T·cos(slope).
fn fillet_inset_mm(f: f64, slope: f64, z: f64) -> f64 {
    let t = f * libm::tan(std::f64::consts::FRAC_PI_4 - slope / 2.0);
    if f <= 0.0 || z >= t * libm::cos(slope) {
        return 0.0;
    }
    let up = f - z;
    t - (f * f - up * up).max(0.0).sqrt() + z * libm::tan(slope)
}
