//! Finished → drawn: the only room that knows what kerf does to an outline.
//!
//! The beam burns half a kerf away on either side of the drawn line, so the drawn outline is the
//! finished one grown by half a kerf: outside sizes + k, widths of slots and holes − k, a step between
//! two edges that face the same way unchanged. Centres never move.
//!
//! May import: `units`, `finding`, `geom`.

use crate::geom::{OffsetError, Region, grow};

/// The outline to draw so that the finished one is left once a kerf of `kerf_mm` is burnt.
///
/// # Errors
/// When a slot or hole is no wider than the kerf, with the place and by how much.
pub fn drawn(finished: &Region, kerf_mm: f64) -> Result<Region, OffsetError> {
    if kerf_mm == 0.0 { Ok(finished.clone()) } else { grow(finished, kerf_mm / 2.0) }
}
