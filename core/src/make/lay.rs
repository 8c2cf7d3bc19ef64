//! Parts and sheets as the nest sees them: the grain of both runs along its x. What comes back is turned to
//! where it really lies.

use crate::geom::{Contour, DVec2, Region};
use crate::made::{Part, Placed};
use crate::material::Supply;
use crate::nest::{NestPart, Offcut, SheetLayout, SheetSupply, Turns};

/// A part with its grain along x, to be locked there; or one that may be turned as one likes.
pub fn part(id: usize, part: &Part, turn_step_deg: f64) -> NestPart {
    match part.grain_deg {
        Some(own) => NestPart { id, region: turned(&part.drawn, -own), turns: Turns::Locked },
        None if turn_step_deg < 90.0 => NestPart { id, region: part.drawn.clone(), turns: Turns::Fine(turn_step_deg) },
        None => NestPart { id, region: part.drawn.clone(), turns: Turns::Free },
    }
}

/// A quarter turn is exact: the outline's own numbers, changed about.
fn turned(region: &Region, turn_deg: f64) -> Region {
    if turn_deg == 0.0 {
        return region.clone();
    }
    let x = direction(turn_deg);
    region.mapped(DVec2::ZERO, x, x.perp())
}

fn direction(turn_deg: f64) -> DVec2 {
    match turn_deg.rem_euclid(360.0) {
        90.0 => DVec2::Y,
        270.0 => -DVec2::Y,
        _ => DVec2::new(libm::cos(turn_deg.to_radians()), libm::sin(turn_deg.to_radians())),
    }
}

/// Sheets of a stock; one with upright grain is tipped over, its height along x.
pub fn supply(id: usize, supply: &Supply) -> SheetSupply {
    let [w, h] = supply.size_mm;
    let (width_mm, height_mm) = if supply.grain_upright { (h, w) } else { (w, h) };
    let keep_out = |&[x, y, across, up]: &[f64; 4]| {
        let (low, high) = (DVec2::new(x, y), DVec2::new(x + across, y + up));
        // tipped by a quarter turn clockwise about the lower right corner, which becomes the lower left
        let tip = |p: DVec2| DVec2::new(p.y, w - p.x);
        if supply.grain_upright {
            let (a, b) = (tip(low), tip(high));
            Contour::rect(a.min(b), a.max(b))
        } else {
            Contour::rect(low, high)
        }
    };
    SheetSupply {
        id,
        width_mm,
        height_mm,
        count: supply.count.map(|c| c as usize),
        keep_outs: supply.keep_outs_mm.iter().map(keep_out).collect(),
    }
}

/// Where the parts of a sheet lie on it.
pub fn places(sheet: &SheetLayout, parts: &[Part], supply: &Supply) -> Vec<Placed> {
    let place = |p: &crate::nest::Place| {
        let own = parts.get(p.part).and_then(|q| q.grain_deg).unwrap_or(0.0);
        let (mut turn_deg, mut shift) = (p.turn_deg - own, DVec2::new(p.dx_mm, p.dy_mm));
        if supply.grain_upright {
            (turn_deg, shift) = (turn_deg + 90.0, DVec2::new(supply.size_mm[0] - shift.y, shift.x));
        }
        Placed { part: p.part, turn_rad: turn_deg.rem_euclid(360.0).to_radians(), shift }
    };
    sheet.places.iter().map(place).collect()
}

/// The largest rectangle that is left: x, y, width, height.
pub fn offcut_mm(o: &Offcut, supply: &Supply) -> [f64; 4] {
    if supply.grain_upright {
        [supply.size_mm[0] - o.y_mm - o.height_mm, o.x_mm, o.height_mm, o.width_mm]
    } else {
        [o.x_mm, o.y_mm, o.width_mm, o.height_mm]
    }
}
