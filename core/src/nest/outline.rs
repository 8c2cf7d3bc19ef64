//! Outlines as the nest needs them: turned exactly, with exact bounds.

use super::types::{NestPart, Turns};
use crate::geom::{Contour, DVec2, Region, Vertex};

/// Direction of a turn: cosine and sine; quarter turns are exact.
pub fn direction(turn_deg: f64) -> DVec2 {
    let quarters = turn_deg / 90.0;
    if quarters == quarters.round() {
        return match quarters.rem_euclid(4.0) as i32 {
            0 => DVec2::new(1.0, 0.0),
            1 => DVec2::new(0.0, 1.0),
            2 => DVec2::new(-1.0, 0.0),
            _ => DVec2::new(0.0, -1.0),
        };
    }
    let rad = turn_deg.to_radians();
    DVec2::new(libm::cos(rad), libm::sin(rad))
}

/// The contour turned about its own zero.
pub fn turned(contour: &Contour, turn_deg: f64) -> Contour {
    let d = direction(turn_deg);
    let turn = |v: &Vertex| Vertex { p: d.rotate(v.p), bulge: v.bulge };
    Contour { vertices: contour.vertices.iter().map(turn).collect() }
}

/// The region turned about its own zero, its outer boundary counter-clockwise, its holes clockwise.
pub fn turned_region(region: &Region, turn_deg: f64) -> Region {
    Region {
        outer: turned(&region.outer, turn_deg).ccw(),
        holes: region.holes.iter().map(|h| turned(h, turn_deg).cw()).collect(),
    }
}

/// Whether every number of the region is finite, no larger than a sheet can be, and it encloses an area.
pub fn is_sound(region: &Region, largest_mm: f64) -> bool {
    let fine = |v: &Vertex| v.bulge.is_finite() && v.p.x.abs() <= largest_mm && v.p.y.abs() <= largest_mm;
    let contour = |c: &Contour| c.vertices.len() >= 2 && c.vertices.iter().all(fine);
    contour(&region.outer) && region.holes.iter().all(contour) && net_area(region) > 0.0 && net_area(region).is_finite()
}

/// Area of the outline less its holes, whichever way they run, mm².
pub fn net_area(region: &Region) -> f64 {
    region.outer.area().abs() - region.holes.iter().map(|h| h.area().abs()).sum::<f64>()
}

/// Most turns of a part that are looked at: finer steps cost more than they bring.
const MOST_TURNS: usize = 12;

/// The turns that a part may take, degrees, the drawn one first.
pub fn allowed_turns(part: &NestPart) -> Vec<f64> {
    match part.turns {
        Turns::Locked => vec![0.0, 180.0],
        Turns::Free => vec![0.0, 90.0, 180.0, 270.0],
        Turns::Fine(step) => fine_turns(step),
    }
}

/// Multiples of `step` in 0..360, at most [`MOST_TURNS`] of them, evenly picked.
fn fine_turns(step_deg: f64) -> Vec<f64> {
    if !(step_deg.is_finite() && step_deg > 0.0) {
        return vec![0.0];
    }
    let all = ((360.0 - 1e-9) / step_deg).floor().min(1e6) as usize + 1;
    let kept = all.min(MOST_TURNS);
    (0..kept).map(|i| (i * all / kept) as f64 * step_deg).collect()
}
