//! Where a part of another thickness stands between its old neighbours: which of its faces keeps its place.

use crate::assembly::Joint;
use crate::geom::Slab;
use crate::readback::{Package, ReadPart};

/// Whether neighbours bear on the face at z = 0 and on the one at z = thickness.
fn borne(package: &Package, part: usize) -> [bool; 2] {
    let mut faces = [false; 2];
    let me = &package.parts[part];
    for j in &package.joints {
        // who ends at this part: its host's shoulders and both partners of a corner
        let neighbour = match j.joint {
            Joint::Corner if j.a == part => j.b,
            Joint::Corner | Joint::Tab { .. } | Joint::Hook { .. } | Joint::Rest if j.b == part => j.a,
            _ => continue,
        };
        faces[usize::from(above(me, &package.parts[neighbour]))] = true;
    }
    faces
}

/// Whether a neighbour's body lies on the side of the face at z = thickness.
fn above(part: &ReadPart, neighbour: &ReadPart) -> bool {
    part.slab.frame.into_own(neighbour.seed()).z > part.slab.thickness / 2.0
}

/// The slab of the part made of a sheet of `thickness_mm`, and how far its face at z = 0 moves along its own
/// z, mm. A face on which neighbours bear keeps its place, so that shoulders and notches still close; where
/// they bear on both or on none, the middle keeps it.
#[must_use]
pub fn seated(package: &Package, part: usize, thickness_mm: f64) -> (Slab, f64) {
    let slab = package.parts[part].slab;
    let thicker = thickness_mm - slab.thickness;
    let move_mm = match borne(package, part) {
        [true, false] => 0.0,
        [false, true] => -thicker,
        [true, true] | [false, false] => -thicker / 2.0,
    };
    let frame = slab.frame.moved(slab.frame.z * move_mm);
    (Slab { frame, thickness: thickness_mm }, move_mm)
}
