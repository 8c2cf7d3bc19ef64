//! Parts of the bill: size, material, and for which thickness a part still goes together.

use super::super::names;
use super::super::numbers::{mm, mm2, short};
use crate::assembly::{Joint, Meeting};
use crate::made::{Made, Part, Sheet};
use serde::Serialize;

/// One part.
#[derive(Serialize)]
pub struct PartRow<'a> {
    /// Code that is burnt on it.
    pub code: &'a str,
    /// What people call it.
    pub name: &'a str,
    /// Letter of its holder.
    pub holder: &'a str,
    /// Its own cut file.
    pub file: String,
    /// The caller's name of the stock.
    pub stock: &'a str,
    /// The material.
    pub material: &'a str,
    /// Which delivery.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lot: Option<&'a str>,
    /// Finished width and height in its file's frame.
    pub size_mm: [f64; 2],
    /// Thickness that it was made for.
    pub thickness_mm: f64,
    /// Thinnest and thickest sheet from which it may be recut.
    pub thickness_valid_mm: [f64; 2],
    /// Direction of the face grain from its file's x axis; null where it does not matter.
    pub grain_deg: Option<f64>,
    /// Number of the sheet on which it lies.
    pub sheet: Option<usize>,
    /// Length of its cuts.
    pub cut_mm: f64,
    /// Its share of the sheet's minutes, by length of cut.
    pub minutes: f64,
    /// Mass.
    pub mass_g: f64,
}

/// All parts.
pub fn rows(made: &Made) -> Vec<PartRow<'_>> {
    made.parts.iter().enumerate().map(|(i, p)| row(made, i, p)).collect()
}

fn row<'a>(made: &'a Made, index: usize, p: &'a Part) -> PartRow<'a> {
    let stock = made.job.stocks.get(p.stock);
    let holder = made.holders.get(p.holder);
    let sheet = made.sheets.iter().find(|s| s.places.iter().any(|q| q.part == index));
    let (lo, hi) = p.finished.bounds();
    PartRow {
        code: &p.code,
        name: &p.name,
        holder: holder.map_or("", |h| h.letter.as_str()),
        file: names::of_part(p),
        stock: stock.map_or("", |s| s.id.as_str()),
        material: stock.map_or("", |s| s.material.as_str()),
        lot: stock.and_then(|s| s.lot.as_deref()),
        size_mm: (hi - lo).to_array().map(mm2),
        thickness_mm: mm(p.thickness_mm),
        thickness_valid_mm: valid(made, p),
        grain_deg: p.grain_deg.map(mm2),
        sheet: sheet.map(|s| s.number),
        cut_mm: mm2(p.drawn.length()),
        minutes: short(sheet.map_or(0.0, |s| share(made, s, p))),
        mass_g: short(p.mass_g),
    }
}

/// Minutes of a part: the sheet's, by its share of the cuts.
fn share(made: &Made, sheet: &Sheet, p: &Part) -> f64 {
    let all: f64 = sheet.places.iter().filter_map(|q| made.parts.get(q.part)).map(|q| q.drawn.length()).sum();
    if all > 0.0 { sheet.route.minutes * p.drawn.length() / all } else { 0.0 }
}

/// A sheet that differs by more stands proud of its neighbours, or back (common practice, no source).
const MOST_OFF_MM: f64 = 0.10;
/// Looser than this a joint rattles (common practice, no source).
const RATTLES_MM: f64 = 0.20;

/// The range of thickness in which every slot that the part enters still holds it: its fit moves by
/// Δt/sin φ where slabs meet at φ, and has to stay between what the host's material bears and rattling.
fn valid(made: &Made, p: &Part) -> [f64; 2] {
    let (mut thinner, mut thicker) = (MOST_OFF_MM, MOST_OFF_MM);
    if let Some(built) = made.holders.get(p.holder) {
        let panels = &built.assembly.panels;
        for m in built.assembly.meetings.iter().filter(|m| enters(m, p.panel)) {
            let host = if m.a.0 == p.panel { m.b.0 } else { m.a.0 };
            let (Some(own), Some(other)) = (panels.get(p.panel), panels.get(host)) else { continue };
            let sin = own.slab.frame.z.cross(other.slab.frame.z).length();
            let tightest = made.job.stocks.get(other.stock).map_or(0.0, |s| s.profile.fit.tightest_mm);
            thicker = thicker.min(((m.fit_mm - tightest) * sin).max(0.0));
            thinner = thinner.min(((RATTLES_MM - m.fit_mm) * sin).max(0.0));
        }
    }
    [mm2(p.thickness_mm - thinner), mm2(p.thickness_mm + thicker)]
}

/// Whether the panel's thickness stands in a slot of its partner.
fn enters(m: &Meeting, panel: usize) -> bool {
    match m.joint {
        Joint::Tab { .. } | Joint::Hook { .. } => m.a.0 == panel,
        Joint::Lap { .. } => m.a.0 == panel || m.b.0 == panel,
        Joint::Corner | Joint::Rest => false,
    }
}
