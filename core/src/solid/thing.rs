//! Whether a thing stands in a finished panel.

use super::Plate;
use crate::assembly::Berth;
use crate::geom::intersect;
use crate::shadow::opening;

/// How much material, in mm², a thing would have to cut through to sit where it sits; 0 when it
/// passes. The thing's shadow without any clearance and without its way out is laid on the outline.
#[must_use]
pub fn thing_in_panel(berth: &Berth, plate: Plate) -> f64 {
    let shrunk = berth.solid.grown(-SHRUNK_MM);
    opening(shrunk.body(), &berth.pose, plate.slab, berth.way_out, 0.0)
        .iter()
        .flat_map(|shadow| intersect(plate.region, shadow))
        .map(|r| r.area())
        .sum()
}

/// A thing that lies on a panel touches it; shrunk by this on the diameter it no longer does, mm.
const SHRUNK_MM: f64 = 0.04;
