//! Cans, rolls and discs: round things in which nothing runs.

use super::grip::Grip;
use super::mass::Mass;
use super::measures::{DiameterGiven, Diameters};
use super::revolution::Revolution;
use super::shaped::{Around, Shaped, TooLarge};
use super::solid::Solid;
use super::spec::{CanSpec, DiscSpec, RollSpec};
use crate::finding::{Finding, Verdict};
use crate::units::Readings;

fn diameters(
    readings: &Readings,
    range: Option<&Readings>,
    tape_mm: Option<f64>,
    at: &str,
    out: &mut Vec<Finding>,
) -> Diameters {
    DiameterGiven { readings, range, tape_mm }.checked(at, out)
}

impl CanSpec {
    pub(super) fn shaped(&self, around: &Around, at: &str, out: &mut Vec<Finding>) -> Option<Shaped> {
        let across = diameters(&self.diameter_mm, self.diameter_range_mm.as_ref(), self.circumference_mm, at, out);
        let cap = self.checked_cap(at, out);
        let (r, h) = (across.largest_mm / 2.0, self.overall_mm);
        let mut profile = vec![(0.0, r)];
        match cap {
            Some((cap_r, cap_h)) => profile.extend([(h - cap_h, r), (h - cap_h, cap_r), (h, cap_r)]),
            None => profile.push((h, r)),
        }
        let solid = Solid::Revolution(Revolution::new(profile)?);
        let mass = Mass::of_can(&solid, self.pressurised, self.density_g_cm3);
        let mut shaped = Shaped::plain(solid, Mass::given_or(around.mass_g, mass));
        if let Some((cap_r, cap_h)) = cap {
            shaped.grip = Grip::of_cap(h - cap_h, h, 2.0 * cap_r);
        }
        Some(Shaped { diameters: Some(across), pressurised: self.pressurised, ..shaped })
    }

    /// Radius and height of the cap.
    fn checked_cap(&self, at: &str, out: &mut Vec<Finding>) -> Option<(f64, f64)> {
        match (self.cap_diameter_mm, self.cap_height_mm) {
            (Some(across), Some(height)) => {
                TooLarge {
                    code: "cap-higher-than-can",
                    field: ("cap_height_mm", height),
                    limit: ("overall_mm", self.overall_mm),
                    may_equal: false,
                    why: "The cap is part of the overall height.",
                }
                .check(at, out);
                Some((across / 2.0, height))
            }
            (None, None) => None,
            (across, _) => {
                let lacking = if across.is_none() { "cap_diameter_mm" } else { "cap_height_mm" };
                out.push(
                    Finding::new("cap-half-given", Verdict::Refuse, format!("{at}/{lacking}"))
                        .why(format!("A cap is a diameter and a height: {lacking} is missing.")),
                );
                None
            }
        }
    }
}

/// A ring: a round thing with a hole through the middle, or without.
struct Ring {
    across: Diameters,
    length_mm: f64,
    bore_mm: Option<f64>,
}

impl Ring {
    fn check_bore(&self, at: &str, out: &mut Vec<Finding>) {
        if let Some(bore) = self.bore_mm {
            TooLarge {
                code: "bore-wider-than-thing",
                field: ("bore_mm", bore),
                limit: ("diameter_mm", self.across.smallest_mm),
                may_equal: false,
                why: "The hole is inside the thing.",
            }
            .check(at, out);
        }
    }
    fn shaped(self, around: &Around, mass: impl Fn(f64) -> Mass) -> Option<Shaped> {
        let outside = Revolution::cylinder(self.across.largest_mm, self.length_mm)?;
        let bore = self.bore_mm.and_then(|b| Revolution::cylinder(b, self.length_mm));
        let volume = outside.volume_mm3() - bore.map_or(0.0, |b| b.volume_mm3());
        let shaped = Shaped::plain(Solid::Revolution(outside), Mass::given_or(around.mass_g, mass(volume)));
        Some(Shaped { diameters: Some(self.across), bore_mm: self.bore_mm, ..shaped })
    }
}

impl RollSpec {
    pub(super) fn shaped(&self, around: &Around, at: &str, out: &mut Vec<Finding>) -> Option<Shaped> {
        let across = diameters(&self.diameter_mm, self.diameter_range_mm.as_ref(), self.circumference_mm, at, out);
        let ring = Ring { across, length_mm: self.width_mm, bore_mm: self.bore_mm };
        ring.check_bore(at, out);
        ring.shaped(around, |volume| Mass::of_reel(volume, self.density_g_cm3))
    }
}

impl DiscSpec {
    pub(super) fn shaped(&self, around: &Around, at: &str, out: &mut Vec<Finding>) -> Option<Shaped> {
        let across = diameters(&self.diameter_mm, self.diameter_range_mm.as_ref(), self.circumference_mm, at, out);
        let ring = Ring { across, length_mm: self.thickness_mm, bore_mm: self.bore_mm };
        ring.check_bore(at, out);
        ring.shaped(around, |volume| Mass::of_steel(volume, self.density_g_cm3))
    }
}
