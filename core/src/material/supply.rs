//! Sheets that are alike: one size, one thickness, the same defects, and how many there are.

use super::cutter::Cutter;
use super::profile::{Process, Profile};
use super::sheet;
use super::sheet_spec::{GrainWord, SheetSpec};
use super::spec::StockSpec;
use super::thickness::thickness;
use crate::finding::Finding;
use crate::units::tidy;

/// Sheets of a stock that are alike.
#[derive(Clone, Debug, PartialEq)]
pub struct Supply {
    /// What is written on them.
    pub id: Option<String>,
    /// Where they stand in the request: the stock's place, or one of its list.
    pub at: String,
    /// Width and height.
    pub size_mm: [f64; 2],
    /// How many there are, if that is limited.
    pub count: Option<u32>,
    /// Whether the face grain runs along the height instead of the width.
    pub grain_upright: bool,
    /// Rectangles that no part may touch: x, y, width, height from the lower left corner.
    pub keep_outs_mm: Vec<[f64; 4]>,
    /// True thickness: the mean of the readings, or the label's.
    pub thickness_mm: f64,
    /// Largest reading less the smallest; without readings, what such sheets usually scatter.
    pub spread_mm: f64,
    /// Price of one, if given.
    pub cost: Option<f64>,
}

impl Supply {
    /// All sheets of a received stock, not yet measured; faults of size go to `out`. `at` is the stock's
    /// JSON Pointer.
    pub(super) fn all(
        spec: &StockSpec,
        cutter: &Cutter,
        margin_mm: f64,
        at: &str,
        out: &mut Vec<Finding>,
    ) -> Vec<Self> {
        let supply = |size_mm: [f64; 2], grain: Option<GrainWord>| Self {
            id: None,
            at: at.to_owned(),
            size_mm,
            count: spec.count,
            grain_upright: upright(grain, size_mm),
            keep_outs_mm: vec![],
            thickness_mm: 0.0,
            spread_mm: 0.0,
            cost: spec.cost_per_sheet,
        };
        let mut all = vec![];
        if spec.has_plain_sheets() {
            all.push(supply(sheet::sheet(spec.sheet_mm, cutter, at, out), spec.grain));
        }
        for (i, one) in spec.sheets.iter().enumerate() {
            let here = format!("{at}/sheets/{i}");
            let size_mm = sheet::sheet(one.sheet_mm.or(spec.sheet_mm), cutter, &here, out);
            sheet::keep_outs(one, size_mm, &here, out);
            let plain = supply(size_mm, one.grain.or(spec.grain));
            all.push(Self {
                id: one.id.clone(),
                at: here,
                count: Some(one.count.unwrap_or(1)),
                keep_outs_mm: rectangles(one),
                cost: one.cost_per_sheet.or(spec.cost_per_sheet),
                ..plain
            });
        }
        all.iter().for_each(|s| sheet::room(s, margin_mm, at, out));
        all
    }

    /// Gives each sheet its thickness: its own readings, else the stock's, else the label's.
    pub(super) fn measure(
        all: &mut [Self],
        spec: &StockSpec,
        profile: &Profile,
        process: Process,
        at: &str,
        out: &mut Vec<Finding>,
    ) {
        let mut unheard = vec![];
        // where each sheet has readings of its own, nothing is assumed of the stock
        let needed = spec.readings_mm.is_some()
            || spec.has_plain_sheets()
            || spec.sheets.iter().any(|s| s.readings_mm.is_none());
        let heard = if needed { &mut *out } else { &mut unheard };
        let of_stock = thickness(spec.readings_mm.as_ref(), profile, process, (at, at), heard);
        let plain = usize::from(spec.has_plain_sheets());
        for (i, supply) in all.iter_mut().enumerate() {
            let own = i.checked_sub(plain).and_then(|k| spec.sheets.get(k)).and_then(|s| s.readings_mm.as_ref());
            let measured = own.map(|r| thickness(Some(r), profile, process, (&supply.at, at), out));
            (supply.thickness_mm, supply.spread_mm) = measured.unwrap_or(of_stock);
        }
    }

    /// Width and height of the part of the sheet that may hold parts.
    #[must_use]
    pub fn usable_mm(&self, margin_mm: f64) -> [f64; 2] {
        self.size_mm.map(|side| (side - 2.0 * margin_mm).max(0.0))
    }

    /// Area that may hold parts, in mm², keep-outs within the margins taken off.
    #[must_use]
    pub fn usable_area_mm2(&self, margin_mm: f64) -> f64 {
        let [w, h] = self.usable_mm(margin_mm);
        let within = |from: f64, size: f64, room: f64| {
            ((from + size - margin_mm).min(room) - (from - margin_mm).max(0.0)).max(0.0)
        };
        let lost: f64 = self.keep_outs_mm.iter().map(|k| within(k[0], k[2], w) * within(k[1], k[3], h)).sum();
        (w * h - lost).max(0.0)
    }

    /// What people call it: what is written on it, or its size.
    #[must_use]
    pub fn called(&self) -> String {
        let size = format!("{} × {} mm", tidy(self.size_mm[0]), tidy(self.size_mm[1]));
        match &self.id {
            Some(id) => format!("sheet \"{id}\" of {size}"),
            None => format!("a sheet of {size}"),
        }
    }
}

/// The caller's word, or along the longer side: so most sheets of ply are sold (common practice, no source).
fn upright(word: Option<GrainWord>, size_mm: [f64; 2]) -> bool {
    word.map_or(size_mm[1] > size_mm[0], |w| w == GrainWord::Height)
}

fn rectangles(spec: &SheetSpec) -> Vec<[f64; 4]> {
    spec.keep_outs.iter().map(|k| [k.x_mm, k.y_mm, k.width_mm, k.height_mm]).collect()
}
