//! A file of `shared/materials` as it is written, and how it is checked.

use crate::material::fits::FitRule;
use crate::material::profile::{Grain, Kerf, Known, Permit, Profile, Span, Thickness, Treatment};
use serde::Deserialize;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct KnownFile {
    value: f64,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ThicknessFile {
    nominal: f64,
    usual: [f64; 2],
    plausible: [f64; 2],
    scatter: f64,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct KerfFile {
    usual: [f64; 2],
    warn_outside: [f64; 2],
    refuse_outside: [f64; 2],
    default: f64,
    source: String,
}

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
enum PermitFile {
    Allowed,
    Caution,
    Never,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct TreatmentFile {
    permit: PermitFile,
    #[serde(default)]
    reason: String,
    kerf_mm: Option<KerfFile>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Processes {
    co2: TreatmentFile,
    knife: TreatmentFile,
}

#[derive(Deserialize)]
#[serde(rename_all = "lowercase")]
enum GrainFile {
    Locked,
    Free,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct FitFile {
    tightest: f64,
    words: Option<f64>,
    source: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct ProfileFile {
    id: String,
    name: String,
    family: String,
    thickness_mm: ThicknessFile,
    density_kg_m3: KnownFile,
    e_flat_n_mm2: KnownFile,
    e_along_n_mm2: KnownFile,
    e_across_n_mm2: KnownFile,
    rolling_shear_n_mm2: KnownFile,
    edge_shear_n_mm2: KnownFile,
    strain_along: KnownFile,
    strain_across: KnownFile,
    grain: GrainFile,
    processes: Processes,
    fit_mm: FitFile,
    cautions: Vec<String>,
}

fn known(f: KnownFile, what: &str, min: f64) -> Result<Known, String> {
    if !f.value.is_finite() || f.value < min || f.source.trim().is_empty() {
        return Err(format!("{what}: needs a number of at least {min} and a source"));
    }
    Ok(Known { value: f.value, source: f.source })
}

fn span([min, max]: [f64; 2], what: &str) -> Result<Span, String> {
    if min.is_finite() && max.is_finite() && min >= 0.0 && min <= max {
        Ok(Span { min, max })
    } else {
        Err(format!("{what}: {min} to {max} is no range"))
    }
}

/// Whether each range lies within the next, and the value within the first.
fn nested(value: f64, spans: &[Span], what: &str) -> Result<(), String> {
    let mut inner = Span { min: value, max: value };
    for s in spans {
        if !(s.holds(inner.min) && s.holds(inner.max)) {
            return Err(format!("{what}: {inner:?} is not within {s:?}"));
        }
        inner = *s;
    }
    Ok(())
}

fn kerf(f: KerfFile, what: &str) -> Result<Kerf, String> {
    let k = Kerf {
        usual_mm: span(f.usual, what)?,
        warn_mm: span(f.warn_outside, what)?,
        refuse_mm: span(f.refuse_outside, what)?,
        default_mm: f.default,
        source: f.source,
    };
    nested(k.default_mm, &[k.usual_mm, k.warn_mm, k.refuse_mm], what)?;
    Ok(k)
}

fn treatment(f: TreatmentFile, what: &str) -> Result<Treatment, String> {
    let permit = match f.permit {
        PermitFile::Allowed => Permit::Allowed,
        PermitFile::Caution => Permit::Caution,
        PermitFile::Never => Permit::Never,
    };
    let kerf = f.kerf_mm.map(|k| kerf(k, what)).transpose()?;
    if permit != Permit::Allowed && f.reason.trim().is_empty() {
        return Err(format!("{what}: a reason is missing"));
    }
    if (permit == Permit::Never) == kerf.is_some() {
        return Err(format!("{what}: a kerf belongs to what may be cut, and only to that"));
    }
    Ok(Treatment { permit, reason: f.reason, kerf })
}

/// Reads and checks one material file.
///
/// # Errors
/// What is wrong with the file.
pub(in crate::material) fn profile(text: &str) -> Result<Profile, String> {
    let f: ProfileFile = serde_json::from_str(text).map_err(|e| e.to_string())?;
    let thickness = Thickness {
        nominal_mm: f.thickness_mm.nominal,
        usual_mm: span(f.thickness_mm.usual, "thickness_mm")?,
        plausible_mm: span(f.thickness_mm.plausible, "thickness_mm")?,
        scatter_mm: f.thickness_mm.scatter,
        source: f.thickness_mm.source,
    };
    nested(thickness.nominal_mm, &[thickness.usual_mm, thickness.plausible_mm], "thickness_mm")?;
    Ok(Profile {
        thickness,
        density_kg_m3: known(f.density_kg_m3, "density_kg_m3", 1.0)?,
        e_flat_n_mm2: known(f.e_flat_n_mm2, "e_flat_n_mm2", 1.0)?,
        e_along_n_mm2: known(f.e_along_n_mm2, "e_along_n_mm2", 1.0)?,
        e_across_n_mm2: known(f.e_across_n_mm2, "e_across_n_mm2", 1.0)?,
        rolling_shear_n_mm2: known(f.rolling_shear_n_mm2, "rolling_shear_n_mm2", 0.01)?,
        edge_shear_n_mm2: known(f.edge_shear_n_mm2, "edge_shear_n_mm2", 0.01)?,
        strain_along: known(f.strain_along, "strain_along", 0.0)?,
        strain_across: known(f.strain_across, "strain_across", 0.0)?,
        grain: match f.grain {
            GrainFile::Locked => Grain::Locked,
            GrainFile::Free => Grain::Free,
        },
        co2: treatment(f.processes.co2, "co2")?,
        knife: treatment(f.processes.knife, "knife")?,
        fit: FitRule { tightest_mm: f.fit_mm.tightest, words_mm: f.fit_mm.words },
        fit_source: f.fit_mm.source,
        cautions: f.cautions,
        id: f.id,
        name: f.name,
        family: f.family,
    })
}
