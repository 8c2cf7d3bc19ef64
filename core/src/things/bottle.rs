//! Bottles and tubes: contradictions between their measures, their outside, and what is in them.

use super::grip::{Grip, GripPlace};
use super::liquid::{Inside, Vessel};
use super::mass::{Mass, Shell};
use super::measures::{DiameterGiven, Diameters, check_content};
use super::revolution::Revolution;
use super::shaped::{Around, Content, Shaped, TooLarge};
use super::solid::Solid;
use super::spec::{BottleSpec, TubeSpec};
use crate::finding::{Finding, Verdict};
use crate::units::tidy;

/// Hole in a drip nozzle whose bore was not measured, mm (common practice, no source).
const DRIP_BORE_MM: f64 = 2.0;
/// Widest tip that counts as a drip nozzle, mm (common practice, no source); above it the whole tip is taken as open.
const DRIP_TIP_MM: f64 = 12.0;

/// The bore of a tip: as measured, or 2 mm for a drip nozzle, or the whole tip (the safe side) for a neck.
pub(super) fn bore_or_default_mm(tip_mm: f64, bore_mm: Option<f64>) -> f64 {
    bore_mm.unwrap_or(if tip_mm <= DRIP_TIP_MM { DRIP_BORE_MM.min(tip_mm) } else { tip_mm })
}

/// The measures of a body with a nozzle, whether it was called a bottle or a tube.
struct Nozzled<'a> {
    diameter: DiameterGiven<'a>,
    body_mm: f64,
    overall_mm: f64,
    tip_mm: f64,
    bore_mm: Option<f64>,
    cap_mm: Option<f64>,
    shoulder_mm: Option<f64>,
    neck_mm: Option<f64>,
    wall_mm: f64,
    content_ml: Option<f64>,
    density_g_cm3: f64,
    capped: bool,
}

impl BottleSpec {
    pub(super) fn shaped(&self, around: &Around, at: &str, out: &mut Vec<Finding>) -> Option<Shaped> {
        let range = self.diameter_range_mm.as_ref();
        Nozzled {
            diameter: DiameterGiven { readings: &self.diameter_mm, range, tape_mm: self.circumference_mm },
            body_mm: self.body_mm,
            overall_mm: self.overall_mm,
            tip_mm: self.tip_diameter_mm,
            bore_mm: self.bore_mm,
            cap_mm: self.cap_diameter_mm,
            shoulder_mm: self.shoulder_mm,
            neck_mm: self.neck_diameter_mm,
            wall_mm: self.wall_mm(),
            content_ml: self.content_ml,
            density_g_cm3: self.density_g_cm3(),
            capped: self.capped,
        }
        .shaped(around, at, out)
    }
}

impl TubeSpec {
    pub(super) fn shaped(&self, around: &Around, at: &str, out: &mut Vec<Finding>) -> Option<Shaped> {
        let range = self.diameter_range_mm.as_ref();
        Nozzled {
            diameter: DiameterGiven { readings: &self.diameter_mm, range, tape_mm: self.circumference_mm },
            body_mm: self.body_mm,
            overall_mm: self.overall_mm,
            tip_mm: self.tip_diameter_mm,
            bore_mm: self.bore_mm,
            cap_mm: self.cap_diameter_mm,
            shoulder_mm: None,
            neck_mm: None,
            wall_mm: self.wall_mm(),
            content_ml: self.content_ml,
            density_g_cm3: self.density_g_cm3(),
            capped: self.capped,
        }
        .shaped(around, at, out)
    }
}

impl Nozzled<'_> {
    fn shaped(&self, around: &Around, at: &str, out: &mut Vec<Finding>) -> Option<Shaped> {
        let diameters = self.diameter.checked(at, out);
        self.check_lengths(at, out);
        self.check_widths(&diameters, at, out);
        let radius = diameters.largest_mm / 2.0;
        let inner = radius - self.wall_mm;
        if let Some(content) = self.content_ml {
            let body = std::f64::consts::PI * inner * inner * self.body_mm;
            check_content(content, body, &format!("{at}/content_ml"), out);
        }
        let shoulder = self.shoulder_mm.zip(self.neck_mm);
        let profile = self.profile(radius, shoulder);
        let shell = Shell::of_profile(&profile, self.wall_mm);
        let solid = Solid::Revolution(Revolution::new(profile)?);
        let inside = Inside {
            radius_mm: inner,
            body_mm: self.body_mm,
            shoulder: shoulder.map(|(h, neck)| (h, (neck / 2.0 - self.wall_mm).max(0.0))),
            tip_mm: self.overall_mm,
            bore_mm: bore_or_default_mm(self.tip_mm, self.bore_mm),
        };
        let vessel = Vessel::new(inside, around.fill, self.capped)?;
        let mass = Mass::of_vessel(&vessel, shell, self.density_g_cm3);
        Some(Shaped {
            grip: self.grip(&solid),
            diameters: Some(diameters),
            vessel: Some((vessel, Content { shell, density_g_cm3: self.density_g_cm3 })),
            ..Shaped::plain(solid, Mass::given_or(around.mass_g, mass))
        })
    }

    /// Outside, from the base: the body, the shoulder if it was measured, a step to the cap or collar if it was
    /// measured, and a straight cone to the tip.
    fn profile(&self, radius: f64, shoulder: Option<(f64, f64)>) -> Vec<(f64, f64)> {
        let mut points = vec![(0.0, radius), (self.body_mm, radius)];
        points.extend(shoulder.map(|(h, neck)| (self.body_mm + h, neck / 2.0)));
        let foot = self.body_mm + shoulder.map_or(0.0, |s| s.0);
        points.extend(self.cap_mm.map(|cap| (foot, cap / 2.0)));
        points.push((self.overall_mm, self.tip_mm / 2.0));
        points
    }

    /// The hand takes the nozzle or the cap on it; where there is none, the body.
    fn grip(&self, solid: &Solid) -> Grip {
        let foot = self.body_mm + self.shoulder_mm.zip(self.neck_mm).map_or(0.0, |s| s.0);
        if foot >= self.overall_mm {
            return Grip::of_body(solid, self.body_mm);
        }
        let middle = (foot + self.overall_mm) / 2.0;
        self.cap_mm
            .map_or_else(|| Grip::at(solid, middle, GripPlace::Nozzle), |cap| Grip::of_cap(foot, self.overall_mm, cap))
    }

    fn check_lengths(&self, at: &str, out: &mut Vec<Finding>) {
        let nozzle = self.overall_mm - self.body_mm;
        if nozzle < 0.0 {
            out.push(
                Finding::new("overall-below-body", Verdict::Refuse, format!("{at}/overall_mm"))
                    .have("body_mm", self.body_mm)
                    .have("overall_mm", self.overall_mm)
                    .have("nozzle_mm", nozzle)
                    .need("nozzle_min_mm", 0.0)
                    .why(format!(
                        "A body {} long in a bottle {} overall means a nozzle of {} mm. Measure both again.",
                        tidy(self.body_mm),
                        tidy(self.overall_mm),
                        tidy(nozzle)
                    )),
            );
        }
        match (self.shoulder_mm, self.neck_mm) {
            (Some(shoulder), Some(_)) if nozzle >= 0.0 => TooLarge {
                code: "shoulder-beyond-tip",
                field: ("shoulder_mm", shoulder),
                limit: ("nozzle_mm", nozzle),
                may_equal: true,
                why: "The shoulder is part of what stands above the body: overall less body.",
            }
            .check(at, out),
            (Some(_), None) | (None, Some(_)) => {
                let lacking = if self.neck_mm.is_none() { "neck_diameter_mm" } else { "shoulder_mm" };
                out.push(
                    Finding::new("shoulder-half-given", Verdict::Refuse, format!("{at}/{lacking}"))
                        .why(format!("A shoulder is a length and the neck's diameter: {lacking} is missing.")),
                );
            }
            _ => {}
        }
    }

    fn check_widths(&self, diameters: &Diameters, at: &str, out: &mut Vec<Finding>) {
        let body = ("diameter_mm", diameters.largest_mm);
        let narrower =
            |code, field, value, limit, why| TooLarge { code, field: (field, value), limit, may_equal: true, why };
        narrower(
            "tip-wider-than-body",
            "tip_diameter_mm",
            self.tip_mm,
            body,
            "A lid wider than the body goes into cap_diameter_mm.",
        )
        .check(at, out);
        if let Some(neck) = self.neck_mm {
            narrower("neck-wider-than-body", "neck_diameter_mm", neck, body, "A shoulder narrows.").check(at, out);
        }
        if let Some(bore) = self.bore_mm {
            let tip = ("tip_diameter_mm", self.tip_mm);
            narrower("bore-wider-than-tip", "bore_mm", bore, tip, "The hole is inside the tip.").check(at, out);
        }
        TooLarge {
            code: "wall-too-thick",
            field: ("wall_mm", self.wall_mm),
            limit: ("diameter_mm_half", diameters.smallest_mm / 2.0),
            may_equal: false,
            why: "Two walls leave no room for liquid.",
        }
        .check(at, out);
    }
}
