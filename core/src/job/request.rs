//! The request as received.

use crate::families::HolderSpec;
use crate::material::{CutterSpec, FitsSpec, StockSpec};
use crate::spaces::SpaceSpec;
use crate::things::ThingSpec;
use crate::units::decode;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use utoipa::ToSchema;

/// How long to look for a better layout of the sheets; counted in work, not in time, so that the
/// same request gives the same sheets on any machine.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum EffortSpec {
    /// The first good layout.
    #[default]
    Quick,
    /// About a second.
    Normal,
    /// About ten seconds.
    Thorough,
}

/// Measures of things and of a space, sheets as they are, and the holders wanted.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Request {
    /// What people call this job.
    #[serde(default)]
    pub name: String,
    /// Where the holders go.
    pub space: SpaceSpec,
    /// The machine that cuts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cutter: Option<CutterSpec>,
    /// The sheets, one entry for each material and lot; the first is the default of every holder.
    #[schema(min_items = 1)]
    pub stocks: Vec<StockSpec>,
    /// How tight the joints are to be.
    #[serde(default)]
    pub fits: FitsSpec,
    /// The things to be held.
    #[serde(default)]
    pub things: Vec<ThingSpec>,
    /// The holders wanted.
    #[schema(min_items = 1)]
    pub holders: Vec<HolderSpec>,
    /// How long to look for a better layout of the sheets.
    #[serde(default)]
    pub effort: EffortSpec,
}

/// Reads a request from JSON.
///
/// # Errors
/// The JSON Pointer of the first fault and what is wrong there: an unknown field, a missing one, a
/// wrong type, an array in the place of an object.
pub fn read(value: Value) -> Result<Request, (String, String)> {
    read_as(value)
}

/// Reads any received object from JSON, as strictly as [`read`].
///
/// # Errors
/// As [`read`].
pub fn read_as<T: DeserializeOwned + Serialize>(value: Value) -> Result<T, (String, String)> {
    let read: T = decode(value.clone())?;
    // serde reads an array as a struct; written back, it is an object again
    match serde_json::to_value(&read) {
        Ok(written) => same_kinds(&value, &written, String::new()).map(|()| read),
        Err(e) => Err((String::new(), e.to_string())),
    }
}

/// The first place at which an array was read as an object.
fn same_kinds(given: &Value, written: &Value, at: String) -> Result<(), (String, String)> {
    match (given, written) {
        (Value::Array(_), Value::Object(_)) => Err((at, "an object is expected, not an array".to_owned())),
        (Value::Array(g), Value::Array(w)) => {
            g.iter().zip(w).enumerate().try_for_each(|(i, (g, w))| same_kinds(g, w, format!("{at}/{i}")))
        }
        (Value::Object(g), Value::Object(w)) => g.iter().try_for_each(|(k, g)| match w.get(k) {
            Some(w) => same_kinds(g, w, format!("{at}/{}", k.replace('~', "~0").replace('/', "~1"))),
            None => Ok(()),
        }),
        _ => Ok(()),
    }
}
