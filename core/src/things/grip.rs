//! Where a hand takes a thing.

use super::solid::Solid;

/// How far below the upper end a hand takes a plain body, mm: half of a finger's breadth and a little; the 95th
/// percentile man's index finger is 23 across (references.md, section 7: FAA survey, quoted in a note).
const FROM_END_MM: f64 = 12.0;

/// What the hand takes hold of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GripPlace {
    /// The cap, collar or nozzle's foot.
    Cap,
    /// The nozzle.
    Nozzle,
    /// The body, near its upper end.
    Body,
    /// Where the caller said.
    Given,
}

/// Where a hand takes a thing, and how wide it is there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grip {
    /// Along the axis from the base, mm.
    pub height_mm: f64,
    /// Across the thing there, mm.
    pub diameter_mm: f64,
    /// What is there.
    pub place: GripPlace,
}

impl Grip {
    /// A grip at a height along the axis of a solid, mm; the height is taken within the solid.
    #[must_use]
    pub fn at(solid: &Solid, height_mm: f64, place: GripPlace) -> Self {
        let height_mm = height_mm.clamp(0.0, solid.height());
        Self { height_mm, diameter_mm: 2.0 * solid.radius_at(height_mm), place }
    }
    /// The grip of a plain body: a little below its upper end, or half-way up when it is low.
    #[must_use]
    pub fn of_body(solid: &Solid, body_mm: f64) -> Self {
        Self::at(solid, (body_mm - FROM_END_MM).max(body_mm / 2.0), GripPlace::Body)
    }
    /// The grip of a cap or collar of a known diameter between two heights along the axis, mm.
    #[must_use]
    pub fn of_cap(from_mm: f64, to_mm: f64, diameter_mm: f64) -> Self {
        Self { height_mm: (from_mm + to_mm) / 2.0, diameter_mm, place: GripPlace::Cap }
    }
}
