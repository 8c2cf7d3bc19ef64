//! Fits resolved for one material: millimetres for each use, and what is to be said about them.

use super::fit::{Feel, FitSpec, FitsSpec, Role};
use super::profile::Span;
use crate::finding::{Finding, Verdict};
use crate::units::DefaultUsed;

/// What a material does to fits. Part of its profile.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FitRule {
    /// A fit tighter than this breaks the material or does not close.
    pub tightest_mm: f64,
    /// What every word means in a soft board that is simply squeezed; `None` where words mean what
    /// they mean in plywood.
    pub words_mm: Option<f64>,
}

/// The fits that hold in one stock, in mm. The slotted sheet's stock decides.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fits {
    mm: [f64; 5],
}

/// A joint is as asked when its clearance lies this near its fit, mm: half the way from a tight thumb
/// to a free slide, −0.05 to +0.12 about a fit of +0.035 (common practice, no source).
const NEAR_MM: f64 = 0.085;
/// Below this a joint will not close by hand (common practice, no source).
const REFUSES_MM: f64 = -0.08;

/// The clearances with which a joint of a fit closes and does not rattle, mm: near its fit, and on the
/// closing side of the trade's ends where the fit itself is.
#[must_use]
pub fn closes(fit_mm: f64) -> Span {
    let (low, high) = (fit_mm - NEAR_MM, fit_mm + NEAR_MM);
    Span {
        min: if fit_mm > REFUSES_MM { low.max(REFUSES_MM) } else { low },
        max: if fit_mm < RATTLES_MM { high.min(RATTLES_MM) } else { high },
    }
}

/// Above this a joint rattles (common practice, no source).
const RATTLES_MM: f64 = 0.20;

impl Fits {
    /// Finished slot less what enters it, in mm, for one use.
    #[must_use]
    pub fn mm(&self, role: Role) -> f64 {
        self.mm[role as usize]
    }

    /// Resolves the fits for a material and adds what is to be said about them.
    ///
    /// A default that the material does not bear is raised to what it bears, and that is said
    /// (`fit-raised`); a fit that was asked for and is too tight is refused (`fit-too-tight`).
    /// `at` is the JSON Pointer of `fits`.
    #[must_use]
    pub fn resolve(spec: &FitsSpec, rule: FitRule, material: &str, at: &str, out: &mut Vec<Finding>) -> Self {
        let mm = Role::ALL.map(|role| {
            let here = format!("{at}/{}", role.field());
            let given = spec.given(role);
            let mm = match given.unwrap_or_else(|| role.default_fit()) {
                FitSpec::Mm(v) if given.is_some() => v,
                FitSpec::Mm(v) => rule.words_mm.unwrap_or(v),
                FitSpec::Feel(f) => rule.words_mm.unwrap_or_else(|| f.mm()),
            };
            if mm < rule.tightest_mm - 1e-9 {
                out.push(too_tight(mm, rule, material, &here, given.is_some()));
                if given.is_none() {
                    return rule.tightest_mm;
                }
            } else if mm > RATTLES_MM + 1e-9 {
                out.push(rattles(mm, &here));
            }
            mm
        });
        Self { mm }
    }

    /// Adds a line for each use whose fit was left out; the values are those that were taken.
    pub fn note_defaults(&self, spec: &FitsSpec, at: &str, list: &mut Vec<DefaultUsed>) {
        for role in Role::ALL {
            if spec.given(role).is_none() {
                list.push(DefaultUsed { at: format!("{at}/{}", role.field()), value: self.mm(role), unit: "mm" });
            }
        }
    }
}

fn too_tight(mm: f64, rule: FitRule, material: &str, here: &str, asked: bool) -> Finding {
    let least = rule.tightest_mm;
    let (code, verdict, end) = if asked {
        ("fit-too-tight", Verdict::Refuse, "")
    } else {
        ("fit-raised", Verdict::Warn, " The usual fit was replaced by that.")
    };
    Finding::new(code, verdict, here)
        .have("fit_mm", mm)
        .need("min", least)
        .why(format!(
            "A fit of {mm:+.2} mm is tighter by {:.2} than {material} bears ({least:+.2} mm): it splits, or does not close.{end}",
            least - mm
        ))
        .cure(format!("Use a fit of {least:+.2} mm."), here, least)
}

fn rattles(mm: f64, here: &str) -> Finding {
    Finding::new("fit-rattles", Verdict::Warn, here)
        .have("fit_mm", mm)
        .need("max", RATTLES_MM)
        .why(format!("A slot {mm:+.2} mm wider than what enters it rattles; loose ends at {RATTLES_MM:+.2} mm."))
        .cure("Use a loose fit.", here, Feel::Loose.word())
}
