//! Sheets and offcuts told apart piece by piece, as received.

use crate::finding::Finding;
use crate::units::{Row, check_name};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Which way the face grain of a sheet runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum GrainWord {
    /// Along the sheet's width.
    Width,
    /// Along the sheet's height.
    Height,
}

crate::params! {
    /// A place on a sheet that no part may touch: a knot, a screw, a torn face, a clamp. A rectangle,
    /// measured from the sheet's lower left corner; it may reach over the sheet's edge.
    pub struct KeepOutSpec {
        numbers {
            /// Left edge.
            x_mm: req(0.0, 3100.0, "mm"),
            /// Lower edge.
            y_mm: req(0.0, 3100.0, "mm"),
            /// Size along the sheet's width.
            width_mm: req(0.1, 3100.0, "mm"),
            /// Size along the sheet's height.
            height_mm: req(0.1, 3100.0, "mm"),
        }
        fields {}
    }
}

crate::params! {
    /// Sheets or offcuts of one size. What is left out is as the stock says.
    pub struct SheetSpec {
        numbers {
            /// Caliper readings of this sheet's own thickness. Sheets of one lot differ by 0.1 to 0.2 mm.
            readings_mm: optmany(0.1, 50.0, "mm"),
            /// What one of them costs.
            cost_per_sheet: opt(0.0, 100000.0, "1"),
        }
        fields {
            /// What is written on it.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub id: Option<String>,
            /// Width and height, 20 to 3100 each.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(value_type = Option<f64>, format = "pair", minimum = 20, maximum = 3100)]
            pub sheet_mm: Option<[f64; 2]>,
            /// How many there are, 1 to 1000; 1 when left out.
            #[serde(default, skip_serializing_if = "Option::is_none", deserialize_with = "crate::units::whole")]
            #[schema(minimum = 1, maximum = 1000)]
            pub count: Option<u32>,
            /// Which way its face grain runs.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub grain: Option<GrainWord>,
            /// Places that no part may touch; the same on each of them. At most 64.
            #[serde(default, skip_serializing_if = "Vec::is_empty")]
            #[schema(max_items = 64)]
            pub keep_outs: Vec<KeepOutSpec>,
        }
    }
}

/// Sheet sides: smaller than 20 holds no part; 3050 is the longest sheet of the trade.
const SHEET_ROW: Row =
    Row { name: "sheet_mm", what: "Width and height of a sheet.", unit: "mm", min: 20.0, max: 3100.0, default: None };
/// More sheets than this is a mistake or an attack.
const COUNT_ROW: Row =
    Row { name: "count", what: "How many sheets there are.", unit: "1", min: 1.0, max: 1000.0, default: None };
/// A sheet with more defects than this is no sheet.
const KEEP_OUTS_ROW: Row =
    Row { name: "keep_outs", what: "Keep-outs of a sheet.", unit: "1", min: 0.0, max: 64.0, default: None };

/// The ranges of a size and a count, as the stock and each of its sheets may give them.
pub(super) fn check_size(sheet_mm: Option<[f64; 2]>, count: Option<u32>, at: &str, out: &mut Vec<Finding>) {
    for (i, side) in sheet_mm.iter().flatten().enumerate() {
        SHEET_ROW.check(*side, &format!("{at}/sheet_mm/{i}"), out);
    }
    if let Some(n) = count {
        COUNT_ROW.check(f64::from(n), &format!("{at}/count"), out);
    }
}

impl SheetSpec {
    /// Every range of this object and of those within it.
    pub(super) fn check_all(&self, at: &str, out: &mut Vec<Finding>) {
        self.check(at, out);
        if let Some(id) = &self.id {
            check_name(id, &format!("{at}/id"), out);
        }
        check_size(self.sheet_mm, self.count, at, out);
        KEEP_OUTS_ROW.check(self.keep_outs.len() as f64, &format!("{at}/keep_outs"), out);
        for (i, k) in self.keep_outs.iter().enumerate() {
            k.check(&format!("{at}/keep_outs/{i}"), out);
        }
    }
}
