//! Where a nose points when the holder is turned: a case lies flat in use and is carried on its edge.

use super::spec::Attitude;
use crate::geom::DVec3;

impl Attitude {
    /// All attitudes, in a fixed order.
    pub const ALL: [Self; 6] = [Self::Flat, Self::FrontUp, Self::BackUp, Self::LeftUp, Self::RightUp, Self::UpsideDown];

    /// The direction in the holder's frame (x along the width, y from the front to the back, z up) that points
    /// upwards in this attitude. A unit vector.
    #[must_use]
    pub fn up(self) -> DVec3 {
        match self {
            Self::Flat => DVec3::Z,
            Self::FrontUp => -DVec3::Y,
            Self::BackUp => DVec3::Y,
            Self::LeftUp => -DVec3::X,
            Self::RightUp => DVec3::X,
            Self::UpsideDown => -DVec3::Z,
        }
    }
    /// The word of this attitude, as callers write it.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::FrontUp => "front-up",
            Self::BackUp => "back-up",
            Self::LeftUp => "left-up",
            Self::RightUp => "right-up",
            Self::UpsideDown => "upside-down",
        }
    }
    /// Elevation of an axis above the horizontal in this attitude, degrees (negative: the nose points down).
    /// `nose` points from the base to the tip, in the holder's frame; it need not be a unit vector.
    ///
    /// Turning a case 90° maps a lean θ to 90° − θ where the nose points at the side that comes up, 0° where it
    /// points sideways, −(90° − θ) where it points at the side that goes down.
    #[must_use]
    pub fn nose_elevation_deg(self, nose: DVec3) -> f64 {
        let rise = nose.dot(self.up());
        let level = (nose.length_squared() - rise * rise).max(0.0).sqrt();
        libm::atan2(rise, level).to_degrees()
    }
}

/// The direction of a nose from its lean above the floor and the way it points in the plan (0 along +x, 90 along
/// +y, to the back), both in degrees. A unit vector in the holder's frame.
#[must_use]
pub fn nose_direction(lean_deg: f64, heading_deg: f64) -> DVec3 {
    let (lean, heading) = (lean_deg.to_radians(), heading_deg.to_radians());
    let flat = libm::cos(lean);
    DVec3::new(flat * libm::cos(heading), flat * libm::sin(heading), libm::sin(lean))
}
