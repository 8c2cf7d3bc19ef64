//! The outside shape of a thing, and how much room it takes in any direction.

use super::prism::Prism;
use super::revolution::Revolution;
use crate::geom::DVec3;

/// Outside of a thing. Its own frame: axis +z, base at z = 0.
#[derive(Clone, Debug, PartialEq)]
pub enum Solid {
    /// Round about the axis.
    Revolution(Revolution),
    /// The same section all along the axis.
    Prism(Prism),
}

/// Up and level-forward in the own frame of a solid whose axis leans `lean_deg` above the horizontal,
/// in the plane of its y and z: its +y side is the upper one.
fn up_and_along(lean_deg: f64) -> (DVec3, DVec3) {
    let lean = lean_deg.to_radians();
    let (s, c) = (libm::sin(lean), libm::cos(lean));
    (DVec3::new(0.0, c, s), DVec3::new(0.0, -s, c))
}

impl Solid {
    /// What casts its shadow in a slab.
    #[must_use]
    pub fn body(&self) -> crate::shadow::Body<'_> {
        match self {
            Self::Revolution(r) => crate::shadow::Body::Turned(r.profile()),
            Self::Prism(p) => crate::shadow::Body::Straight(p.section(), p.height()),
        }
    }

    /// From the base to the top, along the axis, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        match self {
            Self::Revolution(r) => r.height(),
            Self::Prism(p) => p.height(),
        }
    }
    /// Distance of the farthest point from the axis, mm.
    #[must_use]
    pub fn max_radius(&self) -> f64 {
        match self {
            Self::Revolution(r) => r.max_radius(),
            Self::Prism(p) => p.max_radius(),
        }
    }
    /// Radius at a height along the axis, mm: the larger one at a step, 0 beyond the ends. For a prism the
    /// distance of its farthest corner.
    #[must_use]
    pub fn radius_at(&self, z_mm: f64) -> f64 {
        match self {
            Self::Revolution(r) => r.radius_at(z_mm),
            Self::Prism(p) if (0.0..=p.height()).contains(&z_mm) => p.max_radius(),
            Self::Prism(_) => 0.0,
        }
    }
    /// Greatest `direction · p` over all points of the solid, in its own frame: the support function of its
    /// convex hull. Room taken along a direction: `extent(d) + extent(-d)`.
    #[must_use]
    pub fn extent(&self, direction: DVec3) -> f64 {
        match self {
            Self::Revolution(r) => r.extent(direction),
            Self::Prism(p) => p.extent(direction),
        }
    }
    /// Room from `-direction` to `direction`, mm; `direction` must be a unit vector.
    #[must_use]
    pub fn room_along(&self, direction: DVec3) -> f64 {
        self.extent(direction) + self.extent(-direction)
    }
    /// Height of the solid, mm, from its lowest to its highest point, when its axis leans `lean_deg` above the
    /// horizontal (90 stands, 0 lies). A prism leans in the plane of its y and z.
    ///
    /// For a bottle with body D × L, overall T and tip d: max(L·sinθ + D·cosθ, T·sinθ + (D + d)/2·cosθ).
    #[must_use]
    pub fn height_when_leaning(&self, lean_deg: f64) -> f64 {
        self.room_along(up_and_along(lean_deg).0)
    }
    /// Length that it takes on the floor, mm, at the same lean.
    ///
    /// For a bottle: r·sinθ + max(L·cosθ + r·sinθ, T·cosθ + d/2·sinθ).
    #[must_use]
    pub fn length_when_leaning(&self, lean_deg: f64) -> f64 {
        self.room_along(up_and_along(lean_deg).1)
    }
    /// How far the centre of the base stands above the lowest point, mm, at the same lean.
    #[must_use]
    pub fn base_above_lowest(&self, lean_deg: f64) -> f64 {
        self.extent(-up_and_along(lean_deg).0)
    }
    /// Volume, mm³.
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        match self {
            Self::Revolution(r) => r.volume_mm3(),
            Self::Prism(p) => p.volume_mm3(),
        }
    }
    /// Height of the centroid along the axis, mm, the solid being full all through.
    #[must_use]
    pub fn centroid_mm(&self) -> f64 {
        match self {
            Self::Revolution(r) => r.centroid_mm(),
            Self::Prism(p) => p.height() / 2.0,
        }
    }
    /// The same with a clearance added all round, square to the axis; the ends stay.
    #[must_use]
    pub fn grown(&self, clearance_on_diameter_mm: f64) -> Self {
        match self {
            Self::Revolution(r) => Self::Revolution(r.grown(clearance_on_diameter_mm)),
            Self::Prism(p) => Self::Prism(p.grown(clearance_on_diameter_mm)),
        }
    }
}
