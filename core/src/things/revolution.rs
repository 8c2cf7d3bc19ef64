//! A solid of revolution: a stack of frusta about an axis.

use crate::geom::DVec3;

/// Outside of a round thing. The axis is +z, the centre of its base stands at z = 0.
#[derive(Clone, Debug, PartialEq)]
pub struct Revolution {
    profile: Vec<(f64, f64)>,
}

impl Revolution {
    /// A solid from its profile: `(z_mm, r_mm)` in order of z, consecutive points being frusta and equal z
    /// a step. `None` when it does not begin at z = 0, a number is not finite, a radius is negative, z runs
    /// back, or the solid has no height or no width.
    #[must_use]
    pub fn new(profile: Vec<(f64, f64)>) -> Option<Self> {
        let sound = profile.iter().all(|&(z, r)| z.is_finite() && r.is_finite() && r >= 0.0);
        let ordered = profile.windows(2).all(|w| w[0].0 <= w[1].0);
        let wide = profile.iter().any(|p| p.1 > 0.0);
        let (first, last) = (profile.first()?.0, profile.last()?.0);
        (sound && ordered && wide && first == 0.0 && last > 0.0).then_some(Self { profile })
    }
    /// A cylinder. `None` when diameter or height is not a positive number.
    #[must_use]
    pub fn cylinder(diameter_mm: f64, height_mm: f64) -> Option<Self> {
        Self::new(vec![(0.0, diameter_mm / 2.0), (height_mm, diameter_mm / 2.0)])
    }
    /// The points `(z_mm, r_mm)` of the profile, in order of z.
    #[must_use]
    pub fn profile(&self) -> &[(f64, f64)] {
        &self.profile
    }
    /// From the base to the top, along the axis, mm.
    #[must_use]
    pub fn height(&self) -> f64 {
        self.profile.last().map_or(0.0, |p| p.0)
    }
    /// Radius of the widest place, mm.
    #[must_use]
    pub fn max_radius(&self) -> f64 {
        self.profile.iter().map(|p| p.1).fold(0.0, f64::max)
    }
    /// Radius at a height, mm: the larger one at a step, 0 beyond the ends.
    #[must_use]
    pub fn radius_at(&self, z_mm: f64) -> f64 {
        let within = |w: &&[(f64, f64)]| w[0].0 <= z_mm && z_mm <= w[1].0;
        let at = |w: &[(f64, f64)]| {
            let (z0, z1) = (w[0].0, w[1].0);
            if z1 > z0 { w[0].1 + (w[1].1 - w[0].1) * (z_mm - z0) / (z1 - z0) } else { w[0].1.max(w[1].1) }
        };
        self.profile.windows(2).filter(within).map(at).fold(0.0, f64::max)
    }
    /// Greatest `direction · p` over all points of the solid (the support function of its convex hull).
    /// A circle of radius r at height z reaches z·d_z + r·√(d_x² + d_y²).
    #[must_use]
    pub fn extent(&self, direction: DVec3) -> f64 {
        let across = libm::hypot(direction.x, direction.y);
        self.profile.iter().map(|&(z, r)| z * direction.z + r * across).fold(f64::NEG_INFINITY, f64::max)
    }
    /// Volume inside, mm³: π·h·(r₁² + r₁r₂ + r₂²)/3 each frustum (Machinery's Handbook, 31st ed., p. 90).
    #[must_use]
    pub fn volume_mm3(&self) -> f64 {
        let frustum = |w: &[(f64, f64)]| {
            let ((z0, a), (z1, b)) = (w[0], w[1]);
            std::f64::consts::PI * (z1 - z0) * (a * a + a * b + b * b) / 3.0
        };
        self.profile.windows(2).map(frustum).sum()
    }
    /// Height of the centroid, mm: of each frustum h·(r₁² + 2r₁r₂ + 3r₂²)/(4(r₁² + r₁r₂ + r₂²)) above its own
    /// base (Machinery's Handbook, centre of gravity of a frustum of a cone; from memory), weighted by volume.
    #[must_use]
    pub fn centroid_mm(&self) -> f64 {
        let parts = self.profile.windows(2).map(|w| {
            let ((z0, a), (z1, b)) = (w[0], w[1]);
            let h = z1 - z0;
            let volume = h * (a * a + a * b + b * b);
            (volume, volume * z0 + h * h * (a * a + 2.0 * a * b + 3.0 * b * b) / 4.0)
        });
        let (volume, moment) = parts.fold((0.0, 0.0), |(v, m), (dv, dm)| (v + dv, m + dm));
        moment / volume
    }
    /// The same with each radius larger by half of `on_diameter_mm`; never below 0.
    #[must_use]
    pub fn grown(&self, on_diameter_mm: f64) -> Self {
        Self { profile: self.profile.iter().map(|&(z, r)| (z, (r + on_diameter_mm / 2.0).max(0.0))).collect() }
    }
}
