//! `GET /v1/materials`: what may be cut, on which machines, and what must never be, as it stands in `shared/`.

use crate::problem::Problem;
use axum::Json;
use berth_core::material::{CUTTERS, MATERIALS, NEVER};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use utoipa::ToSchema;

/// The closed list of materials, the cutters, and what must not be cut.
#[derive(Debug, Serialize, ToSchema)]
pub struct Materials {
    /// The closed list: any other material gets no laser file.
    pub materials: Vec<Material>,
    /// Machines that a request may name.
    pub cutters: Vec<Machine>,
    /// What is refused by the words that people type for it.
    pub never: Vec<Never>,
}

/// A number and where it comes from.
#[derive(Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Sourced {
    /// The number; its unit stands in the name of the field that holds this.
    pub value: f64,
    /// Where it comes from.
    pub source: String,
}

/// True thickness of sheets sold under a name, mm.
#[derive(Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SheetThickness {
    /// What the label says.
    pub nominal: f64,
    /// What is usually found; outside of it, a warning.
    #[schema(min_items = 2, max_items = 2)]
    pub usual: [f64; 2],
    /// Outside of this it is another sheet, or a slip of the caliper.
    #[schema(min_items = 2, max_items = 2)]
    pub plausible: [f64; 2],
    /// Scatter within a sheet, ±.
    pub scatter: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// The burnt line, mm.
#[derive(Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct KerfRange {
    /// What machines usually leave.
    #[schema(min_items = 2, max_items = 2)]
    pub usual: [f64; 2],
    /// Outside of this it is warned about.
    #[schema(min_items = 2, max_items = 2)]
    pub warn_outside: [f64; 2],
    /// Outside of this it is refused.
    #[schema(min_items = 2, max_items = 2)]
    pub refuse_outside: [f64; 2],
    /// What is assumed until somebody has measured.
    pub default: f64,
    /// Where the numbers come from.
    pub source: String,
}

/// A material under a process.
#[derive(Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ProcessRule {
    /// `allowed`, `caution` or `never`.
    pub permit: String,
    /// Why not, or what to mind.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reason: Option<String>,
    /// The kerf, where it may be cut.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub kerf_mm: Option<KerfRange>,
}

/// What a material does to fits, mm.
#[derive(Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MaterialFits {
    /// A tighter fit breaks the material or does not close.
    pub tightest: f64,
    /// What every word means in a soft board that is simply squeezed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub words: Option<f64>,
    /// Where this comes from.
    pub source: String,
}

/// A material of the closed list.
#[derive(Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Material {
    /// Name in requests.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// What it is made of.
    pub family: String,
    /// True thickness.
    pub thickness_mm: SheetThickness,
    /// Density.
    pub density_kg_m3: Sourced,
    /// Young's modulus of a plate held on all sides.
    pub e_flat_n_mm2: Sourced,
    /// Young's modulus in bending along the face grain.
    pub e_along_n_mm2: Sourced,
    /// Young's modulus in bending across the face grain.
    pub e_across_n_mm2: Sourced,
    /// Shear strength in the plane of the sheet.
    pub rolling_shear_n_mm2: Sourced,
    /// Shear strength through the thickness.
    pub edge_shear_n_mm2: Sourced,
    /// Surface strain that a spring along the grain bears, as a share.
    pub strain_along: Sourced,
    /// The same across the grain.
    pub strain_across: Sourced,
    /// `locked` where the face grain has a direction, else `free`.
    pub grain: String,
    /// May it be cut, by process (`co2`, `knife`).
    pub processes: BTreeMap<String, ProcessRule>,
    /// What it does to fits.
    pub fit_mm: MaterialFits,
    /// Names of the cautions that come with it.
    pub cautions: Vec<String>,
}

/// How fast a machine cuts a material.
#[derive(Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FeedRate {
    /// Along the line.
    pub feed_mm_s: f64,
    /// How often over the same line.
    pub passes: u32,
}

/// A cutter that a request may name.
#[derive(Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Machine {
    /// Name in requests.
    pub id: String,
    /// Name for people.
    pub name: String,
    /// `co2` or `knife`.
    pub process: String,
    /// Width and depth of the bed.
    #[schema(min_items = 2, max_items = 2)]
    pub bed_mm: [f64; 2],
    /// Strip along each edge that the head does not reach.
    pub edge_mm: f64,
    /// Speed between cuts.
    pub travel_mm_s: f64,
    /// Acceleration.
    pub acceleration_mm_s2: f64,
    /// Time to break through.
    pub pierce_s: f64,
    /// Feed when marking.
    pub mark_mm_s: f64,
    /// What a minute costs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cost_per_minute: Option<f64>,
    /// Feed by material.
    pub feeds: BTreeMap<String, FeedRate>,
    /// Where the numbers come from.
    pub source: String,
}

/// What must not be cut.
#[derive(Debug, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Never {
    /// Name of the entry.
    pub id: String,
    /// Words by which it is recognised.
    pub words: Vec<String>,
    /// What it is.
    pub what: String,
    /// Why it is refused.
    pub reason: String,
    /// What to do instead.
    pub instead: String,
    /// Where this comes from.
    pub source: String,
}

fn read<T: for<'a> Deserialize<'a>>(files: &[(&str, &str)]) -> Result<Vec<T>, serde_json::Error> {
    files.iter().map(|(_, text)| serde_json::from_str(text)).collect()
}

impl Materials {
    fn all() -> Result<Self, serde_json::Error> {
        Ok(Self { materials: read(MATERIALS)?, cutters: read(CUTTERS)?, never: serde_json::from_str(NEVER)? })
    }
}

/// What may be cut, on which machines, and what must never be.
#[utoipa::path(get, path = "/v1/materials", tag = "lists", operation_id = "listMaterials", responses(
    (status = 200, description = "The closed list of materials, the cutters, and what must not be cut.", body = Materials),
))]
pub async fn list() -> Result<Json<Materials>, Problem> {
    Materials::all().map(Json).map_err(Problem::broken)
}

#[cfg(test)]
mod tests {
    use super::{CUTTERS, MATERIALS, Materials, NEVER};
    use serde_json::{Value, to_value};

    /// Numbers as floats, so that 3 and 3.0 are the same.
    fn floats(v: Value) -> Value {
        match v {
            Value::Number(n) => n.as_f64().into(),
            Value::Array(a) => a.into_iter().map(floats).collect(),
            Value::Object(o) => o.into_iter().map(|(k, v)| (k, floats(v))).collect(),
            other => other,
        }
    }

    #[test]
    fn nothing_of_the_files_is_lost() {
        let all = Materials::all().unwrap();
        let read = |text: &str| floats(serde_json::from_str(text).unwrap());
        for ((_, text), told) in MATERIALS.iter().zip(&all.materials) {
            assert_eq!(read(text), floats(to_value(told).unwrap()));
        }
        for ((_, text), told) in CUTTERS.iter().zip(&all.cutters) {
            assert_eq!(read(text), floats(to_value(told).unwrap()));
        }
        assert_eq!(read(NEVER), floats(to_value(&all.never).unwrap()));
        assert!(!MATERIALS.is_empty() && !CUTTERS.is_empty());
    }
}
