//! A stock as received: which material, how thick it really is, what the machine takes away.

use super::sheet_spec::{GrainWord, SheetSpec, check_size};
use crate::finding::Finding;
use crate::units::{Row, check_name};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Who widens the cut by the kerf.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum KerfApplied {
    /// The cut file: it holds drawn outlines.
    #[default]
    File,
    /// The machine's own program: the cut file holds finished outlines.
    Machine,
}

crate::params! {
    /// A test strip: drawn, split into equal pieces, pushed together and measured.
    pub struct StripSpec {
        numbers {
            /// Length of the strip as drawn.
            drawn_mm: def(20.0, 1000.0, "mm", 100.0),
            /// Length of all pieces pushed together.
            measured_mm: req(1.0, 1000.0, "mm"),
            /// Number of pieces.
            pieces: def(2.0, 100.0, "1", 10.0),
        }
        fields {}
    }
}

crate::params! {
    /// For a prototype: the sheets that this board stands for. Outer sizes, pitches and patterns are
    /// reckoned from theirs, as if the board were another reading of the same label.
    pub struct StandsFor {
        numbers {
            /// What the label of those sheets says.
            label_mm: req(0.5, 20.0, "mm"),
            /// The thickest that such sheets are planned for.
            thickest_mm: req(0.5, 25.0, "mm"),
        }
        fields {}
    }
}

crate::params! {
    /// Sheets of one material and lot.
    pub struct StockSpec {
        numbers {
            /// Caliper readings of the true thickness, spread over the sheet.
            readings_mm: optmany(0.1, 50.0, "mm"),
            /// Full width of the burnt line.
            kerf_mm: opt(0.0, 500.0, "mm"),
            /// Own number: standard deviation of the true thickness over the sheet, where it is known better than the readings tell.
            thickness_spread_mm: opt(0.0, 1.0, "mm"),
            /// The kerf that each of several test strips showed, taken at several places of the bed.
            kerf_readings_mm: optmany(0.0, 500.0, "mm"),
            /// Own number: standard deviation of the kerf over the bed, where it is known better than the readings tell.
            kerf_spread_mm: opt(0.0, 1.0, "mm"),
            /// Strip along each edge of the sheet that stays free of parts.
            margin_mm: def(0.0, 200.0, "mm", 5.0),
            /// Gap between parts on the sheet; 3 or the thickness, whichever is more, when left out.
            gap_mm: opt(0.0, 200.0, "mm"),
            /// Parts without grain may be turned on the sheet by multiples of this; finer steps take longer to nest.
            turn_step_deg: def(5.0, 90.0, "deg", 90.0),
            /// What a sheet costs.
            cost_per_sheet: opt(0.0, 100000.0, "1"),
            /// Own number: what the label says the thickness is.
            nominal_mm: opt(0.5, 20.0, "mm"),
            /// Own number: density.
            density_kg_m3: opt(10.0, 3000.0, "kg/m³"),
            /// Own number: Young's modulus along the face grain.
            e_along_n_mm2: opt(1.0, 100000.0, "N/mm²"),
            /// Own number: Young's modulus across the face grain.
            e_across_n_mm2: opt(1.0, 100000.0, "N/mm²"),
            /// Own number: Young's modulus of a plate held on all sides; the mean of along and across when those are given.
            e_flat_n_mm2: opt(1.0, 100000.0, "N/mm²"),
            /// Own number: shear strength in the plane of the sheet.
            rolling_shear_n_mm2: opt(0.01, 1000.0, "N/mm²"),
            /// Own number: shear strength through the thickness.
            edge_shear_n_mm2: opt(0.01, 1000.0, "N/mm²"),
        }
        fields {
            /// Name of this stock within the request.
            pub id: String,
            /// A material of the closed list; or any name, when `base` is one of the list.
            pub material: String,
            /// The material of the closed list that this one is like.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub base: Option<String>,
            /// Which delivery it comes from.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub lot: Option<String>,
            /// Width and height of a sheet, 20 to 3100 each; the cutter's bed when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(value_type = Option<f64>, format = "pair", minimum = 20, maximum = 3100)]
            pub sheet_mm: Option<[f64; 2]>,
            /// How many sheets there are, 1 to 1000; as many as it takes when left out.
            #[serde(default, skip_serializing_if = "Option::is_none", deserialize_with = "crate::units::whole")]
            #[schema(minimum = 1, maximum = 1000)]
            pub count: Option<u32>,
            /// Which way the face grain of its sheets runs; along the longer side when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub grain: Option<GrainWord>,
            /// Whether each part keeps the direction of its grain on the sheet; as the material has it when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub keep_grain: Option<bool>,
            /// Sheets and offcuts told apart piece by piece, at most 64, beside those of `sheet_mm` and `count`;
            /// where neither of these is given, there are no others.
            #[serde(default, skip_serializing_if = "Vec::is_empty")]
            #[schema(max_items = 64)]
            pub sheets: Vec<SheetSpec>,
            /// A test strip that gives the kerf.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub strip: Option<StripSpec>,
            /// Who widens the cut by the kerf.
            #[serde(default)]
            pub kerf_applied_by: KerfApplied,
            /// For a prototype: the sheets that this board stands for.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub stands_for: Option<StandsFor>,
        }
    }
}

/// More different sheets than this are no stock but a yard.
const SHEETS_ROW: Row =
    Row { name: "sheets", what: "Different sheets of a stock.", unit: "1", min: 0.0, max: 64.0, default: None };

impl StockSpec {
    /// Whether sheets that are all alike are at hand, told by `sheet_mm` and `count`.
    #[must_use]
    pub fn has_plain_sheets(&self) -> bool {
        self.sheets.is_empty() || self.sheet_mm.is_some() || self.count.is_some()
    }

    /// Whether the caller said anything of the kerf.
    #[must_use]
    pub fn says_kerf(&self) -> bool {
        self.kerf_mm.is_some() || self.kerf_readings_mm.is_some() || self.strip.is_some()
    }

    /// Every range of this object and of those within it.
    pub(super) fn check_all(&self, at: &str, out: &mut Vec<Finding>) {
        self.check(at, out);
        check_name(&self.id, &format!("{at}/id"), out);
        if let Some(lot) = &self.lot {
            check_name(lot, &format!("{at}/lot"), out);
        }
        if self.base.is_some() {
            check_name(&self.material, &format!("{at}/material"), out);
        }
        check_size(self.sheet_mm, self.count, at, out);
        SHEETS_ROW.check(self.sheets.len() as f64, &format!("{at}/sheets"), out);
        for (i, sheet) in self.sheets.iter().enumerate() {
            sheet.check_all(&format!("{at}/sheets/{i}"), out);
        }
        if let Some(strip) = &self.strip {
            strip.check(&format!("{at}/strip"), out);
        }
        if let Some(stood) = &self.stands_for {
            stood.check(&format!("{at}/stands_for"), out);
        }
    }
}
