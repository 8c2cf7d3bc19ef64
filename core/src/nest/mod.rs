//! Drawn outlines onto as few sheets as possible.
//!
//! May import: `units`, `finding`, `geom`.
//!
//! Parts become boxes in whole units (`shape`); a sweep finds every free spot of a part among the parts
//! that lie (`spot`, `board`); first layouts are built in several orders (`build`); then parts are taken off
//! and laid anew until a sheet can be left out (`search`, `plan`); what comes out can be proven on the true
//! outlines (`proof`). Nothing here knows what a part is for.

mod block;
mod board;
mod build;
mod cover;
mod fault;
mod intake;
mod nofit;
mod offcut;
mod open;
mod outline;
mod plan;
mod proof;
mod search;
mod shape;
mod slabs;
mod spot;
mod stock;
#[cfg(test)]
mod tests;
mod types;
mod write;

use crate::units::dice;
pub use fault::{NestFault, TooLarge};
pub use proof::{Flaw, flaws};
pub use types::{Effort, Layout, NestPart, Offcut, Place, Rules, SheetLayout, SheetSupply, Turns};

/// Lays all parts on as few sheets as it finds, and among equals so that the emptiest sheet keeps the
/// largest rectangle.
///
/// Parts may lie in other parts' holes, at any depth. Each keeps `gap_mm` from each other outline and
/// `margin_mm` from the sheet's edge. The same arguments give the same layout on any machine; `stop` is
/// asked now and then, and ends the search early with the best layout so far.
///
/// # Errors
/// [`NestFault`] when a number or outline is unusable, a part is too large, or the sheets run out.
pub fn nest(
    parts: &[NestPart],
    sheets: &[SheetSupply],
    rules: &Rules,
    effort: Effort,
    stop: &dyn Fn() -> bool,
) -> Result<Layout, NestFault> {
    let mut bench = intake::take_in(parts, sheets, rules)?;
    if parts.is_empty() {
        return Ok(Layout::default());
    }
    let boards = plan::run(&mut bench, rules, effort, stop).map_err(|e| write::name_fault(&bench, parts, e))?;
    Ok(write::write(&bench, parts, sheets, rules, &boards))
}
