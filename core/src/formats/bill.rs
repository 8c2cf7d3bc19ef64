//! The bill: parts, sheets, things with their berths, and what they add up to. Two formats write it.

mod parts;
mod sheets;
mod things;

pub use parts::PartRow;
pub use sheets::{SheetRow, Totals, rows as sheet_rows};
pub use things::ThingRow;

use super::{PackageFault, spec};
use crate::made::Made;
use serde::Serialize;

/// The whole bill.
#[derive(Serialize)]
pub struct Bill<'a> {
    /// What this file is.
    pub format: &'static str,
    /// The caller's name for the job.
    pub name: &'a str,
    /// Hash of spec.json.
    pub job: String,
    /// Every part, in the order of its codes.
    pub parts: Vec<PartRow<'a>>,
    /// Every sheet.
    pub sheets: Vec<SheetRow<'a>>,
    /// Every thing with its place.
    pub things: Vec<ThingRow<'a>>,
    /// Sums.
    pub totals: Totals,
}

/// Adds everything up.
pub fn of(made: &Made) -> Result<Bill<'_>, PackageFault> {
    let sheets = sheets::rows(made);
    Ok(Bill {
        format: "berth-bill/1",
        name: &made.request.name,
        job: spec::hash(made)?,
        parts: parts::rows(made),
        totals: sheets::totals(made, &sheets),
        sheets,
        things: things::rows(made),
    })
}
