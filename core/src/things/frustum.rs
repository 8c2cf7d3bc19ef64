//! One piece of the inside of a vessel, cut by a level plane.

use std::f64::consts::PI;

use super::quadrature::integral;
use super::segment::{area_below, cylinder_below};

/// Cosine below which a vessel counts as standing exactly.
const STANDING: f64 = 1e-12;

/// A piece of the inside of a vessel: straight walls from one radius to another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frustum {
    pub z0: f64,
    pub z1: f64,
    pub r0: f64,
    pub r1: f64,
}

/// The lean as its sine and cosine, and the height of a level plane.
#[derive(Clone, Copy)]
pub(super) struct Plane {
    pub sin: f64,
    pub cos: f64,
    pub level: f64,
}

impl Frustum {
    fn radius(&self, z: f64) -> f64 {
        self.r0 + (self.r1 - self.r0) * (z - self.z0) / (self.z1 - self.z0)
    }
    /// Heights where the plane meets the upper wall line and the lower one: between them a slice is wetted in part.
    fn splits(&self, p: &Plane) -> Vec<f64> {
        let mut at = vec![self.z0];
        for side in [1.0, -1.0] {
            // level − z·sin − side·r(z)·cos is linear in z
            let over = |z: f64| p.level - z * p.sin - side * self.radius(z) * p.cos;
            let (lower, upper) = (over(self.z0), over(self.z1));
            if lower * upper < 0.0 {
                at.push(self.z0 + (self.z1 - self.z0) * lower / (lower - upper));
            }
        }
        at.push(self.z1);
        at.sort_by(f64::total_cmp);
        at
    }
    /// ∫ of `slice(z, r, c)` over the wetted length; `slice` gets c ≥ r where a slice is full, and dry slices count 0.
    pub(super) fn sum_slices(&self, p: &Plane, tol: f64, slice: impl Fn(f64, f64, f64) -> f64) -> f64 {
        let chord = |z: f64| (p.level - z * p.sin) / p.cos.max(STANDING);
        let part = |w: &[f64]| {
            let mid = (w[0] + w[1]) / 2.0;
            let dry = chord(mid) <= -self.radius(mid);
            if dry || w[1] <= w[0] { 0.0 } else { integral(w[0], w[1], tol, |z| slice(z, self.radius(z), chord(z))) }
        };
        self.splits(p).windows(2).map(part).sum()
    }
    pub(super) fn volume(&self) -> f64 {
        PI * (self.z1 - self.z0) * (self.r0 * self.r0 + self.r0 * self.r1 + self.r1 * self.r1) / 3.0
    }
    /// Volume below the plane, mm³: in closed form for a cylinder, by slices for a cone.
    pub(super) fn below(&self, p: &Plane) -> f64 {
        if self.r0 == self.r1 && p.cos > STANDING {
            let u = |z: f64| (p.level - z * p.sin) / (p.cos * self.r0);
            return cylinder_below(self.r0, self.z1 - self.z0, u(self.z0), u(self.z1));
        }
        self.sum_slices(p, 1e-10 * self.volume(), |_, r, c| area_below(r, c))
    }
}
