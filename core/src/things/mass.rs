//! How heavy a thing is, and where its centre of mass is: given, or estimated and said so.
//!
//! Each estimate leans to the heavy side, as what carries a thing is computed from it.

use super::solid::Solid;

/// Polyethylene, g/cm³: squeeze bottles (0.91 to 0.97 by grade; from memory).
pub const POLYETHYLENE_G_CM3: f64 = 0.95;
/// Steel, g/cm³ (from memory; 7.8 to 7.9 for plain steels).
pub const STEEL_G_CM3: f64 = 7.85;
/// Wall of a steel can, mm (an estimate: tinplate cans are some 0.15 to 0.25).
const CAN_WALL_MM: f64 = 0.2;
/// Content of an aerosol over its whole inside, g/cm³ (an estimate: some 0.8 in three quarters of it).
const AEROSOL_G_CM3: f64 = 0.6;
/// Content of a can of paste, polish or liquid, g/cm³ (an estimate: as heavy as water, full to the top).
const CONTENT_G_CM3: f64 = 1.0;
/// A reel of cable or housing over its outside, g/cm³ (an estimate: steel wire wound with plenty of air).
const REEL_G_CM3: f64 = 2.5;
/// A block of unknown content, g/cm³ (an estimate: boxed goods are lighter than water).
const BLOCK_G_CM3: f64 = 1.0;

/// The mass of one thing (of one piece, for loose parts).
#[derive(Clone, Debug, PartialEq)]
pub struct Mass {
    /// Grams.
    pub grams: f64,
    /// Whether the caller gave it; otherwise it is estimated.
    pub given: bool,
    /// Where the number comes from, for people.
    pub why: String,
}

impl Mass {
    /// The caller's mass if there is one, else the estimate.
    pub(super) fn given_or(given: Option<f64>, estimate: Self) -> Self {
        given.map_or(estimate, |grams| Self { grams, given: true, why: "given".to_owned() })
    }
    fn estimated(grams: f64, how: &str) -> Self {
        Self { grams, given: false, why: format!("estimated: {how}") }
    }
    /// Volume times density, the density being the caller's or one for the kind of thing.
    pub(super) fn of_volume(volume_mm3: f64, density_g_cm3: Option<f64>, default: (f64, &str)) -> Self {
        let (density, what) = density_g_cm3.map_or(default, |d| (d, "the density given"));
        Self::estimated(volume_mm3 / 1000.0 * density, &format!("{what}, {density} g/cm3, times the outside volume"))
    }
    /// A block of unknown content.
    pub(super) fn of_block(volume_mm3: f64, density_g_cm3: Option<f64>) -> Self {
        Self::of_volume(volume_mm3, density_g_cm3, (BLOCK_G_CM3, "boxed goods"))
    }
    /// Something of solid steel.
    pub(super) fn of_steel(volume_mm3: f64, density_g_cm3: Option<f64>) -> Self {
        Self::of_volume(volume_mm3, density_g_cm3, (STEEL_G_CM3, "solid steel"))
    }
    /// A reel.
    pub(super) fn of_reel(volume_mm3: f64, density_g_cm3: Option<f64>) -> Self {
        Self::of_volume(volume_mm3, density_g_cm3, (REEL_G_CM3, "a reel of wire"))
    }
    /// A full can: a thin steel shell and what is in it.
    pub(super) fn of_can(solid: &Solid, pressurised: bool, density_g_cm3: Option<f64>) -> Self {
        let volume = solid.volume_mm3();
        if density_g_cm3.is_some() {
            return Self::of_volume(volume, density_g_cm3, (CONTENT_G_CM3, ""));
        }
        let (r, h) = (solid.max_radius(), solid.height());
        let skin = std::f64::consts::TAU * r * (r + h) * CAN_WALL_MM;
        let content = if pressurised { AEROSOL_G_CM3 } else { CONTENT_G_CM3 };
        let grams = skin / 1000.0 * STEEL_G_CM3 + volume / 1000.0 * content;
        Self::estimated(grams, &format!("a steel skin {CAN_WALL_MM} mm thick and content of {content} g/cm3, full"))
    }
}

/// The shell of a bottle: volume of its wall and base, and the height of their centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shell {
    pub grams: f64,
    pub centre_mm: f64,
}

impl Shell {
    /// A shell of polyethylene as thick as the wall under the outside `profile` (z, r), with a base disc.
    pub(super) fn of_profile(profile: &[(f64, f64)], wall_mm: f64) -> Self {
        let area_z = |w: &[(f64, f64)]| {
            let ((z0, a), (z1, b)) = (w[0], w[1]);
            let slant = libm::hypot(z1 - z0, b - a);
            let area = std::f64::consts::PI * (a + b) * slant;
            // centre of a cone's skin: weighted by the radii at its ends
            let share = if a + b > 0.0 { (a + 2.0 * b) / (3.0 * (a + b)) } else { 0.5 };
            (area, z0 + (z1 - z0) * share)
        };
        let base = profile.first().map_or(0.0, |p| std::f64::consts::PI * p.1 * p.1);
        let skins = profile.windows(2).map(area_z).chain([(base, 0.0)]);
        let (area, moment) = skins.fold((0.0, 0.0), |(a, m), (area, z)| (a + area, m + area * z));
        let centre_mm = if area > 0.0 { moment / area } else { 0.0 };
        Self { grams: area * wall_mm / 1000.0 * POLYETHYLENE_G_CM3, centre_mm }
    }
}

impl Mass {
    /// A bottle or tube at its stated fill: the liquid and the shell.
    pub(super) fn of_vessel(vessel: &super::liquid::Vessel, shell: Shell, density_g_cm3: f64) -> Self {
        let grams = vessel.liquid_volume_mm3() / 1000.0 * density_g_cm3 + shell.grams;
        let how = format!(
            "content of {density_g_cm3} g/cm3 at the stated fill and a shell of polyethylene, {POLYETHYLENE_G_CM3} g/cm3"
        );
        Self::estimated(grams, &how)
    }
}
