//! What is known of a material: the checked form of one file in `shared/materials`.

use super::fits::FitRule;

/// A number and where it comes from.
#[derive(Clone, Debug, PartialEq)]
pub struct Known {
    /// The number; its unit stands in the field's name.
    pub value: f64,
    /// A published source, or "common practice, no source", or "estimate, no source".
    pub source: String,
}

/// A range, both ends included.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// Lower end.
    pub min: f64,
    /// Upper end.
    pub max: f64,
}

/// Float noise at the ends of a range.
const NOISE: f64 = 1e-9;

impl Span {
    /// Whether a value lies within.
    #[must_use]
    pub fn holds(&self, v: f64) -> bool {
        v >= self.min - NOISE && v <= self.max + NOISE
    }

    /// By how much a value lies outside; 0 within.
    #[must_use]
    pub fn off(&self, v: f64) -> f64 {
        (self.min - v).max(v - self.max).max(0.0)
    }

    /// The same range moved by `by`.
    #[must_use]
    pub fn moved(&self, by: f64) -> Self {
        Self { min: self.min + by, max: self.max + by }
    }
}

/// How sheets are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Process {
    /// A CO2 laser.
    Co2,
    /// A knife: by hand along a printed line, or a drag knife.
    Knife,
}

impl Process {
    /// All processes.
    pub const ALL: [Self; 2] = [Self::Co2, Self::Knife];

    /// The word as it stands in requests and files.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Co2 => "co2",
            Self::Knife => "knife",
        }
    }
}

/// Whether a material may be cut by a process.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Permit {
    /// Yes.
    Allowed,
    /// Yes, with a warning that comes with every package.
    Caution,
    /// No. Nothing overrides it.
    Never,
}

/// The burnt line of a material under a process.
#[derive(Clone, Debug, PartialEq)]
pub struct Kerf {
    /// What machines usually leave.
    pub usual_mm: Span,
    /// Outside of this it is warned about.
    pub warn_mm: Span,
    /// Outside of this it is refused.
    pub refuse_mm: Span,
    /// What is assumed until somebody has measured.
    pub default_mm: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// A material under a process.
#[derive(Clone, Debug, PartialEq)]
pub struct Treatment {
    /// May it be cut so.
    pub permit: Permit,
    /// Why not, or what to mind.
    pub reason: String,
    /// The kerf, where it may be cut.
    pub kerf: Option<Kerf>,
}

/// Whether parts may be turned a quarter on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grain {
    /// The face grain has a direction: a part keeps its own.
    Locked,
    /// The same in every direction.
    Free,
}

/// True thickness of sheets sold under a name.
#[derive(Clone, Debug, PartialEq)]
pub struct Thickness {
    /// What the label says.
    pub nominal_mm: f64,
    /// What is usually found; outside of it, a warning.
    pub usual_mm: Span,
    /// Outside of this it is another sheet, or a slip of the caliper.
    pub plausible_mm: Span,
    /// Scatter within a sheet, ±.
    pub scatter_mm: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// Everything that is known of a material.
#[derive(Clone, Debug, PartialEq)]
pub struct Profile {
    /// Name in requests (`birch-ply-3`).
    pub id: String,
    /// Name for people.
    pub name: String,
    /// What it is made of (`plywood`, `acrylic`, …).
    pub family: String,
    /// True thickness.
    pub thickness: Thickness,
    /// Density in kg/m³.
    pub density_kg_m3: Known,
    /// Young's modulus for a plate held on all sides (mean of both directions), N/mm².
    pub e_flat_n_mm2: Known,
    /// Young's modulus in bending along the face grain, N/mm².
    pub e_along_n_mm2: Known,
    /// Young's modulus in bending across the face grain, N/mm².
    pub e_across_n_mm2: Known,
    /// Shear strength in the plane of the sheet, where veneers roll off each other, N/mm².
    pub rolling_shear_n_mm2: Known,
    /// Shear strength through the thickness, N/mm².
    pub edge_shear_n_mm2: Known,
    /// Surface strain that a spring along the grain bears, as a share; 0 where none may be bent.
    pub strain_along: Known,
    /// The same across the grain.
    pub strain_across: Known,
    /// May parts be turned on the sheet.
    pub grain: Grain,
    /// Under the CO2 laser.
    pub co2: Treatment,
    /// Under the knife.
    pub knife: Treatment,
    /// What it does to fits.
    pub fit: FitRule,
    /// Where the fit rule comes from.
    pub fit_source: String,
    /// Cautions that come with it, by their names in `shared/cautions.json`.
    pub cautions: Vec<String>,
}

impl Profile {
    /// How the material behaves under a process.
    #[must_use]
    pub fn treatment(&self, process: Process) -> &Treatment {
        match process {
            Process::Co2 => &self.co2,
            Process::Knife => &self.knife,
        }
    }
}
