//! A place in space, a half-space, and a slab: what a panel is before it has an outline.

use super::{DVec2, DVec3};

/// A right-handed orthonormal frame: where something stands in space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// The frame's own zero, in the outer frame.
    pub origin: DVec3,
    /// Unit vector of the own x axis.
    pub x: DVec3,
    /// Unit vector of the own y axis.
    pub y: DVec3,
    /// Unit vector of the own z axis: `x × y`.
    pub z: DVec3,
}

impl Frame {
    /// The frame that is the outer frame.
    pub const WORLD: Self = Self { origin: DVec3::ZERO, x: DVec3::X, y: DVec3::Y, z: DVec3::Z };

    /// A frame from its zero, its z axis (need not be unit) and a hint for x, which is made square to z.
    /// `None` when either has no length or they are parallel.
    #[must_use]
    pub fn new(origin: DVec3, z: DVec3, x_hint: DVec3) -> Option<Self> {
        let z = z.try_normalize()?;
        let x = (x_hint - z * x_hint.dot(z)).try_normalize()?;
        Some(Self { origin, x, y: z.cross(x), z })
    }
    /// A point of the own frame, in the outer one.
    #[must_use]
    pub fn out(&self, p: DVec3) -> DVec3 {
        self.origin + self.dir_out(p)
    }
    /// A direction of the own frame, in the outer one.
    #[must_use]
    pub fn dir_out(&self, d: DVec3) -> DVec3 {
        self.x * d.x + self.y * d.y + self.z * d.z
    }
    /// A point of the outer frame, in the own one.
    #[must_use]
    pub fn into_own(&self, p: DVec3) -> DVec3 {
        self.dir_own(p - self.origin)
    }
    /// A direction of the outer frame, in the own one.
    #[must_use]
    pub fn dir_own(&self, d: DVec3) -> DVec3 {
        DVec3::new(d.dot(self.x), d.dot(self.y), d.dot(self.z))
    }
    /// A point of the own xy plane (z = 0), in the outer frame.
    #[must_use]
    pub fn out2(&self, p: DVec2) -> DVec3 {
        self.out(p.extend(0.0))
    }
    /// This frame seen from the outside of `outer`, in which it is given.
    #[must_use]
    pub fn within(&self, outer: &Frame) -> Self {
        Self {
            origin: outer.out(self.origin),
            x: outer.dir_out(self.x),
            y: outer.dir_out(self.y),
            z: outer.dir_out(self.z),
        }
    }
    /// The same frame moved by `d` (outer frame).
    #[must_use]
    pub fn moved(&self, d: DVec3) -> Self {
        Self { origin: self.origin + d, ..*self }
    }
    /// The 4×4 matrix, row-major, that maps own coordinates to outer ones.
    #[must_use]
    pub fn matrix(&self) -> [f64; 16] {
        let (x, y, z, o) = (self.x, self.y, self.z, self.origin);
        [x.x, y.x, z.x, o.x, x.y, y.y, z.y, o.y, x.z, y.z, z.z, o.z, 0.0, 0.0, 0.0, 1.0]
    }
}

/// All points `p` with `normal · p ≤ limit`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HalfSpace {
    /// Unit normal, pointing out of the kept side.
    pub normal: DVec3,
    /// Greatest `normal · p` that is kept.
    pub limit: f64,
}

impl HalfSpace {
    /// The half-space bounded by the plane through `point`, keeping the side away from `normal`.
    #[must_use]
    pub fn beyond(point: DVec3, normal: DVec3) -> Self {
        let normal = normal.normalize_or_zero();
        Self { normal, limit: normal.dot(point) }
    }
    /// How far `p` stands out of the kept side (negative inside).
    #[must_use]
    pub fn outside_by(&self, p: DVec3) -> f64 {
        self.normal.dot(p) - self.limit
    }
}

/// All points between two parallel faces: z from 0 to `thickness` of a frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slab {
    /// Where the slab stands; own z = 0 is one face.
    pub frame: Frame,
    /// Distance between the faces.
    pub thickness: f64,
}

impl Slab {
    /// The bounding half-space of the face that lies farther from `seed` than the other one:
    /// what a panel that ends at this slab may reach.
    #[must_use]
    pub fn far_face(&self, seed: DVec3) -> HalfSpace {
        let h = self.frame.into_own(seed).z;
        if h < self.thickness / 2.0 {
            HalfSpace::beyond(self.frame.origin + self.frame.z * self.thickness, self.frame.z)
        } else {
            HalfSpace::beyond(self.frame.origin, -self.frame.z)
        }
    }
    /// The bounding half-space of the face that `seed` looks at: what a panel that stops short of
    /// this slab may reach.
    #[must_use]
    pub fn near_face(&self, seed: DVec3) -> HalfSpace {
        let h = self.frame.into_own(seed).z;
        if h < self.thickness / 2.0 {
            HalfSpace::beyond(self.frame.origin, self.frame.z)
        } else {
            HalfSpace::beyond(self.frame.origin + self.frame.z * self.thickness, -self.frame.z)
        }
    }
}
