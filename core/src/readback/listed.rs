//! `assembly.json` as it is received, and checked: what stands where, what meets what, what is held.

use super::fault::short;
use super::limits::{FARTHEST_MM, ReadLimits, reached};
use crate::finding::{Finding, Verdict};
use crate::geom::{DVec3, Frame};
use crate::joints::Side;
use serde::Deserialize;

/// Name of the file.
pub const FILE: &str = "assembly.json";

#[derive(Deserialize)]
pub(super) struct ListFile {
    format: String,
    unit: String,
    pub parts: Vec<PartEntry>,
    pub joints: Vec<JointEntry>,
    #[serde(default)]
    pub things: Vec<ThingEntry>,
    #[serde(default)]
    pub sheets: Vec<SheetEntry>,
}

#[derive(Deserialize)]
pub(super) struct PartEntry {
    pub code: String,
    #[serde(default)]
    pub name: String,
    #[serde(default)]
    pub holder: String,
    pub file: String,
    #[serde(default)]
    pub material: String,
    #[serde(default)]
    pub stock: String,
    pub thickness_mm: f64,
    pub kerf_mm: f64,
    #[serde(default)]
    pub size_mm: Option<[f64; 2]>,
    pub placement: Vec<f64>,
}

#[derive(Deserialize)]
pub(super) struct JointEntry {
    pub id: String,
    #[serde(default)]
    pub letters: String,
    pub kind: String,
    pub a: String,
    pub b: String,
    pub fit_mm: f64,
    #[serde(default)]
    pub proud_mm: Option<f64>,
    #[serde(default)]
    pub play_mm: Option<f64>,
    #[serde(default)]
    pub cells: Option<Vec<CellEntry>>,
}

#[derive(Deserialize)]
pub(super) struct CellEntry {
    pub from_mm: f64,
    pub to_mm: f64,
    pub owner: Owner,
}

/// Which partner keeps its material.
#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Owner {
    A,
    B,
}

impl From<Owner> for Side {
    fn from(o: Owner) -> Self {
        match o {
            Owner::A => Self::A,
            Owner::B => Self::B,
        }
    }
}

#[derive(Deserialize)]
pub(super) struct ThingEntry {
    pub id: String,
    #[serde(default)]
    pub thing: String,
    #[serde(default)]
    pub holder: String,
    pub shape: ShapeEntry,
    pub placement: Vec<f64>,
    pub way_out: [f64; 3],
}

#[derive(Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub(super) enum ShapeEntry {
    Revolution { profile_mm: Vec<[f64; 2]> },
    Prism { section_mm: Vec<[f64; 2]>, height_mm: f64 },
}

#[derive(Clone, Debug, Deserialize, PartialEq)]
pub(super) struct SheetEntry {
    pub file: String,
    pub parts: Vec<PlaceEntry>,
}

#[derive(Clone, Debug, Deserialize, PartialEq)]
pub(super) struct PlaceEntry {
    pub code: String,
    pub turn_deg: f64,
    pub shift_mm: [f64; 2],
}

/// A fault of the list: where, what was found, what is needed.
pub(super) fn wrong(place: &str, found: impl Into<String>, need: &'static str, why: impl Into<String>) -> Finding {
    Finding::new("assembly-unreadable", Verdict::Refuse, format!("{FILE}{place}"))
        .have("found", short(&found.into()))
        .need("assembly", need)
        .why(why)
}

/// Reads the list.
///
/// # Errors
/// Not JSON, not this format, or more than the limits allow.
pub(super) fn read(bytes: &[u8], limits: &ReadLimits) -> Result<ListFile, Finding> {
    let list: ListFile = serde_json::from_slice(bytes).map_err(|e| {
        wrong(
            "",
            e.to_string(),
            "the list as it was written",
            format!("{FILE} cannot be read: {}.", short(&e.to_string())),
        )
    })?;
    if list.format != "berth-assembly/1" || list.unit != "mm" {
        let found = format!("format {}, unit {}", short(&list.format), short(&list.unit));
        let why = format!("{FILE} is of another format: {found}.");
        return Err(wrong("/format", found, "format berth-assembly/1, unit mm", why));
    }
    for (what, have, most) in [
        ("parts", list.parts.len(), limits.parts),
        ("joints", list.joints.len(), limits.joints),
        ("things", list.things.len(), limits.things),
    ] {
        if have > most {
            return Err(reached("too-many-listed", FILE, what, have, most));
        }
    }
    if list.parts.is_empty() {
        return Err(wrong("/parts", "no part", "at least one part", format!("{FILE} lists no part.")));
    }
    Ok(list)
}

/// How far the axes of a placement may be from square and unit: the rounding of printed numbers.
const RIGID: f64 = 1e-6;

/// A placement of 16 numbers, row-major, as a frame.
///
/// # Errors
/// Not 16 finite numbers, or no rigid motion: a part is turned and moved, never mirrored or scaled.
pub(super) fn frame(place: &str, m: &[f64]) -> Result<Frame, Finding> {
    let need = "16 numbers, row-major, of a turn and a move";
    let sound = m.len() == 16 && m.iter().all(|v| v.is_finite() && v.abs() <= FARTHEST_MM);
    if !sound {
        let why = format!("{FILE}{place} is not 16 finite numbers within 100 m.");
        return Err(wrong(place, format!("{} numbers", m.len()), need, why));
    }
    let column = |j: usize| DVec3::new(m[j], m[4 + j], m[8 + j]);
    let (x, y, z, origin) = (column(0), column(1), column(2), column(3));
    let skew = [x.dot(y), y.dot(z), z.dot(x), x.length() - 1.0, y.length() - 1.0, z.length() - 1.0];
    let off = skew.iter().map(|v| v.abs()).fold(0.0, f64::max);
    let foot = [m[12], m[13], m[14], m[15] - 1.0].iter().map(|v| v.abs()).fold(0.0, f64::max);
    let mirrored = x.cross(y).dot(z) < 0.0;
    if off > RIGID || foot > RIGID || mirrored {
        let found = if mirrored { "a mirror".to_owned() } else { format!("axes {off:.6} off square and unit") };
        let why = format!("The placement at {FILE}{place} is {found}: a part is turned and moved, nothing else.");
        return Err(wrong(place, found, need, why));
    }
    Frame::new(origin, z, x).ok_or_else(|| wrong(place, "no axes", need, "The placement has no axes."))
}
