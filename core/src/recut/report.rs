//! What a recut says, as it is sent: `recut.json`.

use crate::finding::{Finding, Verdict};
use crate::material::Stock;
use crate::readback::Place;
use serde::Serialize;

/// Today's sheet, as it was reckoned with.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetLine {
    /// Its material.
    pub material: String,
    /// Mean of its readings, mm.
    pub thickness_mm: f64,
    /// Kerf, mm.
    pub kerf_mm: f64,
    /// Kerf that the files make up for, mm.
    pub kerf_applied_mm: f64,
}

impl From<&Stock> for SheetLine {
    fn from(s: &Stock) -> Self {
        Self {
            material: s.material.clone(),
            thickness_mm: s.thickness_mm,
            kerf_mm: s.kerf_mm,
            kerf_applied_mm: s.drawn_kerf_mm,
        }
    }
}

/// One part that is cut again.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PartLine {
    /// Its code.
    pub code: String,
    /// What people call it.
    pub name: String,
    /// Its file in this archive.
    pub file: String,
    /// Whether that is the first one, byte for byte.
    pub same_bytes: bool,
    /// Thickness that it was made for, mm.
    pub thickness_was_mm: f64,
    /// Thickness of today's sheet, mm.
    pub thickness_mm: f64,
    /// How far its face at z = 0 moves along its own z, mm.
    pub moved_mm: f64,
    /// Own slots that were made for what enters at an angle.
    pub slots_remade: usize,
}

/// One joint of such a part, at one kind of place, least and greatest gap.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct JointLine {
    /// Its id.
    pub joint: String,
    /// The part that is cut again.
    pub part: String,
    /// Its old neighbour.
    pub neighbour: String,
    /// What was measured.
    pub place: Place,
    /// What the fit asks for, mm.
    pub asked_mm: f64,
    /// What the first part measures, mm.
    pub was_mm: [f64; 2],
    /// What the part of today's sheet measures, mm.
    pub now_mm: [f64; 2],
}

/// Everything about a recut.
#[derive(Clone, Debug, Serialize)]
pub struct Recut {
    /// Format of this document.
    pub format: &'static str,
    /// The worst finding's.
    pub verdict: Verdict,
    /// Today's sheet; none when the first files are sent.
    pub sheet: Option<SheetLine>,
    /// The parts.
    pub parts: Vec<PartLine>,
    /// Their joints with old neighbours; none when the first files are sent.
    pub joints: Vec<JointLine>,
    /// What is to be minded.
    pub findings: Vec<Finding>,
}
