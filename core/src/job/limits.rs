//! Limits on a request: each has a name, a unit and a default, and is a named error when reached.

use crate::finding::{Finding, Verdict};

/// How much one request may ask for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Limits {
    /// Things in all, counts added up (loose pieces count as one).
    pub things: usize,
    /// Holders.
    pub holders: usize,
    /// Stocks.
    pub stocks: usize,
    /// Panels of all holders.
    pub panels: usize,
    /// Corners of all outlines.
    pub vertices: usize,
    /// Sheets.
    pub sheets: usize,
}

impl Default for Limits {
    /// A trailer full of drawers fits well within; an attack does not.
    fn default() -> Self {
        Self { things: 5_000, holders: 24, stocks: 24, panels: 2_000, vertices: 400_000, sheets: 400 }
    }
}

impl Limits {
    /// A finding when `have` is beyond `most`.
    pub fn check(code: &'static str, what: &str, at: &str, have: usize, most: usize, out: &mut Vec<Finding>) -> bool {
        if have <= most {
            return true;
        }
        out.push(Finding::new(code, Verdict::Refuse, at).have("count", have).need("count_max", most).why(format!(
            "{have} {what} are {} more than one request may have ({most}). Divide the job.",
            have - most
        )));
        false
    }
}
