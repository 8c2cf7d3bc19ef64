//! The liquid in a vessel at any fill and any lean: where its surface stands, and how far the tip is above it.
//!
//! The axis' elevation, the *lean*, runs from −90° (nose straight down) over 0° (lying) to 90° (standing).
//! The surface is level whatever the vessel does, so one number says where it is: its height over the centre of the
//! base. In a slice across the axis at z the surface is a chord at c = (s − z·sinθ)/cosθ over the axis.

use super::frustum::{Frustum, Plane};
use super::root::crossing;
use super::segment::{area_below, moment_below};

/// Accuracy of the surface's height, mm: far below anything that can be measured, and far above rounding.
const LEVEL_TOL_MM: f64 = 1e-10;

/// The inside of a bottle or tube, its tip, and how full it is.
///
/// The base's thickness is left out and so is whatever stands above the body, unless a shoulder was measured: a
/// smaller inside puts the liquid higher, so the tip's margin errs on the safe side.
#[derive(Clone, Debug, PartialEq)]
pub struct Vessel {
    stack: Vec<Frustum>,
    body_volume_mm3: f64,
    tip_mm: f64,
    bore_mm: f64,
    fill: f64,
    capped: bool,
}

/// Where the tip stands against the liquid, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TipReading {
    /// Surface above the centre of the base, measured vertically.
    pub level_mm: f64,
    /// Middle of the tip above the surface; negative when it is under.
    pub centre_above_mm: f64,
    /// Lower lip of the tip's bore above the surface: what must stay clear.
    pub lip_above_mm: f64,
}

/// The inside and the tip of a vessel, mm, from which one is built.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inside {
    /// Inner radius of the body.
    pub radius_mm: f64,
    /// Length of the body from the base.
    pub body_mm: f64,
    /// A measured shoulder: its length and the inner radius at its upper end.
    pub shoulder: Option<(f64, f64)>,
    /// From the base to the tip.
    pub tip_mm: f64,
    /// Across the hole in the tip.
    pub bore_mm: f64,
}

impl Vessel {
    /// A vessel; `fill` is the share of the body's inner volume. `None` when a measure is not a positive number,
    /// a radius at the shoulder is negative, the tip is below the body's end, or the fill is not within 0 to 1.
    #[must_use]
    pub fn new(inside: Inside, fill: f64, capped: bool) -> Option<Self> {
        let Inside { radius_mm: r, body_mm: l, shoulder, tip_mm, bore_mm } = inside;
        let positive = [r, l, tip_mm, bore_mm].iter().all(|v| v.is_finite() && *v > 0.0);
        let shoulder_sound = shoulder.is_none_or(|(h, r1)| h.is_finite() && h > 0.0 && r1.is_finite() && r1 >= 0.0);
        if !positive || !shoulder_sound || tip_mm < l || !(0.0..=1.0).contains(&fill) {
            return None;
        }
        let mut stack = vec![Frustum { z0: 0.0, z1: l, r0: r, r1: r }];
        stack.extend(shoulder.map(|(h, r1)| Frustum { z0: l, z1: l + h, r0: r, r1 }));
        Some(Self { body_volume_mm3: stack[0].volume(), stack, tip_mm, bore_mm, fill, capped })
    }
    /// The fullest it will be, as a share of the body's inner volume.
    #[must_use]
    pub fn fill(&self) -> f64 {
        self.fill
    }
    /// Whether the tip is closed by a cap, so that its margin does not matter.
    #[must_use]
    pub fn capped(&self) -> bool {
        self.capped
    }
    /// Inner volume of the body, mm³.
    #[must_use]
    pub fn body_volume_mm3(&self) -> f64 {
        self.body_volume_mm3
    }
    /// Volume of the liquid at the stated fill, mm³.
    #[must_use]
    pub fn liquid_volume_mm3(&self) -> f64 {
        self.fill * self.body_volume_mm3
    }

    fn plane(&self, lean_deg: f64, level: f64) -> Plane {
        let lean = lean_deg.clamp(-90.0, 90.0).to_radians();
        Plane { sin: libm::sin(lean), cos: libm::cos(lean).max(0.0), level }
    }
    fn volume_at(&self, p: &Plane) -> f64 {
        self.stack.iter().map(|f| f.below(p)).sum()
    }
    /// Volume below a level plane, mm³, the plane's height (mm) being that above the centre of the base.
    #[must_use]
    pub fn volume_below(&self, lean_deg: f64, level_mm: f64) -> f64 {
        self.volume_at(&self.plane(lean_deg, level_mm))
    }
    /// Lowest and highest point of the inside above the centre of the base, mm.
    #[must_use]
    pub fn span(&self, lean_deg: f64) -> (f64, f64) {
        let p = self.plane(lean_deg, 0.0);
        let rims = self.stack.iter().flat_map(|f| [(f.z0, f.r0), (f.z1, f.r1)]);
        rims.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), (z, r)| {
            (lo.min(z * p.sin - r * p.cos), hi.max(z * p.sin + r * p.cos))
        })
    }
    /// Height of the liquid's surface above the centre of the base, mm, measured vertically, for a fill (share of
    /// the body's inner volume, taken within 0 to 1) and a lean (taken within ±90°). Within 1e-9 mm of where the
    /// volume below equals the fill.
    #[must_use]
    pub fn level_mm(&self, lean_deg: f64, fill: f64) -> f64 {
        let (lo, hi) = self.span(lean_deg);
        let fill = fill.clamp(0.0, 1.0);
        let short = |level: f64| self.volume_below(lean_deg, level) / self.body_volume_mm3 - fill;
        // no crossing: empty, or full to the last corner (rounding may leave either a hair off)
        crossing(lo, hi, LEVEL_TOL_MM, short).unwrap_or(if fill > 0.5 { hi } else { lo })
    }
    /// Height of the surface over the axis, mm, square to the axis, at a place along it. Infinite when the vessel stands.
    #[must_use]
    pub fn surface_over_axis_mm(&self, lean_deg: f64, fill: f64, z_mm: f64) -> f64 {
        let p = self.plane(lean_deg, self.level_mm(lean_deg, fill));
        (p.level - z_mm * p.sin) / p.cos
    }
    /// Centre of mass of the liquid, mm: along the axis, and off it towards the upper side (negative: it hangs low).
    #[must_use]
    pub fn liquid_centre_mm(&self, lean_deg: f64, fill: f64) -> (f64, f64) {
        let p = self.plane(lean_deg, self.level_mm(lean_deg, fill));
        let sum = |slice: &dyn Fn(f64, f64, f64) -> f64, size: f64| {
            self.stack.iter().map(|f| f.sum_slices(&p, 1e-10 * f.volume() * size, slice)).sum::<f64>()
        };
        let volume = sum(&|_, r, c| area_below(r, c), 1.0);
        if volume <= 0.0 {
            return (0.0, 0.0);
        }
        let along = sum(&|z, r, c| z * area_below(r, c), self.tip_mm);
        let across = sum(&|_, r, c| moment_below(r, c), self.tip_mm);
        (along / volume, across / volume)
    }
    /// Where the tip stands against the liquid at a lean and a fill.
    #[must_use]
    pub fn tip(&self, lean_deg: f64, fill: f64) -> TipReading {
        let level_mm = self.level_mm(lean_deg, fill);
        let p = self.plane(lean_deg, level_mm);
        let centre_above_mm = self.tip_mm * p.sin - level_mm;
        TipReading { level_mm, centre_above_mm, lip_above_mm: centre_above_mm - self.bore_mm / 2.0 * p.cos }
    }
    /// Lower lip of the tip's bore above the liquid, mm, for one fill: T·sinθ − bore/2·cosθ − level.
    #[must_use]
    pub fn tip_margin_mm(&self, lean_deg: f64, fill: f64) -> f64 {
        self.tip(lean_deg, fill).lip_above_mm
    }
    /// The smallest margin over all fills up to the stated one, mm. That is the one at the stated fill: more
    /// liquid never lowers the surface, and the tip does not move.
    #[must_use]
    pub fn worst_margin_mm(&self, lean_deg: f64) -> f64 {
        self.tip_margin_mm(lean_deg, self.fill)
    }
}
