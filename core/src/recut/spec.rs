//! A recut as received: which parts, and the sheet they are cut from today.

use crate::finding::{Finding, Verdict};
use crate::material::{Cutter, CutterSpec, Stock, StockSpec};
use crate::readback::Package;
use crate::units::NAME_MAX_CHARS;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Which parts of a package are cut again, and from what.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecutSpec {
    /// Codes of the parts, as they are burnt into them.
    #[schema(min_items = 1)]
    pub parts: Vec<String>,
    /// Today's sheet, with its readings and its kerf; the files as they were when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sheet: Option<StockSpec>,
    /// The machine that cuts today; a laser of 600 × 400 mm when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cutter: Option<CutterSpec>,
    /// Whether a shim fills what a thinner sheet leaves: then it is no reason to refuse.
    #[serde(default)]
    pub with_shim: bool,
}

/// Where the sheet stands in what was received.
pub const SHEET_AT: &str = "/sheet";
/// The cutter when none is named.
const USUAL_CUTTER: &str = "co2-600x400";

impl RecutSpec {
    /// The sheet, checked; all faults go to `out`. `None` where none was given or it was refused.
    #[must_use]
    pub fn checked_sheet(&self, out: &mut Vec<Finding>) -> Option<Stock> {
        let sheet = self.sheet.as_ref()?;
        let usual = CutterSpec::Named(USUAL_CUTTER.to_owned());
        let cutter = Cutter::checked(self.cutter.as_ref().unwrap_or(&usual), "/cutter", out)?;
        Stock::checked(sheet, &cutter, SHEET_AT, out)
    }

    /// Places of the wanted parts in the package, each once, in the package's order.
    #[must_use]
    pub fn wanted(&self, package: &Package, out: &mut Vec<Finding>) -> Vec<usize> {
        if self.parts.is_empty() {
            out.push(
                Finding::new("nothing-asked", Verdict::Refuse, "/parts")
                    .have("count", 0.0)
                    .need("count", 1.0)
                    .why("At least one part's code is needed."),
            );
        }
        let known = |code: &str| package.parts.iter().any(|p| p.code == code);
        // one unknown code is told once, and no more of them than the package has parts
        let unknown = self.parts.iter().enumerate().filter(|(_, c)| !known(c)).take(package.parts.len().max(1));
        for (i, code) in unknown {
            let shown: String = code.chars().filter(|c| !c.is_control()).take(NAME_MAX_CHARS).collect();
            let codes: Vec<&str> = package.parts.iter().map(|p| p.code.as_str()).take(MOST_SHOWN).collect();
            out.push(
                Finding::new("unknown-part", Verdict::Refuse, format!("/parts/{i}"))
                    .have("code", shown.as_str())
                    .need("known_codes", codes.join(", "))
                    .why(format!("The package has no part \"{shown}\" that can be read.")),
            );
        }
        (0..package.parts.len()).filter(|i| self.parts.contains(&package.parts[*i].code)).collect()
    }
}

/// Codes that are listed to somebody who asked for another.
const MOST_SHOWN: usize = 40;
