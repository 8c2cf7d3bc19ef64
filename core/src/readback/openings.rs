//! Openings that no longer let their thing in or out.

use super::package::{Package, ReadThing};
use crate::geom::{Contour, DVec2, DVec3, Region};
use crate::solid::{SLIM_MM, Slim, swept, travel_mm};

/// A contact smaller than this is rounding, mm².
const TOUCH_MM2: f64 = 0.1;
/// A thing is never looked at thinner by more than this all round, mm.
const THINNEST_MM: f64 = 10.0;

/// A thing that a part is in the way of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blocked {
    /// Place in the list of things.
    pub thing: usize,
    /// Place in the list of parts.
    pub part: usize,
    /// Whether it stands in the part; else the part is in its way out.
    pub inside: bool,
    /// Material in the way, mm².
    pub area_mm2: f64,
    /// By how much the thing would have to be thinner all round to pass, mm.
    pub short_mm: f64,
}

/// Everything that is in the way of a thing. `None` when stopped.
pub fn blocked(package: &Package, stop: &dyn Fn() -> bool) -> Option<Vec<Blocked>> {
    let bounds: Vec<(DVec3, DVec3)> = package.parts.iter().map(|p| p.plate().bounds()).collect();
    let holes: Vec<Vec<(DVec2, DVec2)>> =
        package.parts.iter().map(|p| p.finished.holes.iter().map(Contour::bounds).collect()).collect();
    let top = bounds.iter().map(|b| b.1.z).fold(f64::NEG_INFINITY, f64::max);
    let mut all = vec![];
    for (t, thing) in package.things.iter().enumerate() {
        if stop() {
            return None;
        }
        let (lo, hi) = thing.bounds();
        let travel = travel_mm(&thing.solid, lo.z, thing.way_out, top);
        let out = thing.way_out * travel;
        let (reach_lo, reach_hi) = (lo.min(lo + out), hi.max(hi + out));
        let near = |b: &(DVec3, DVec3), lo: DVec3, hi: DVec3| b.0.cmple(hi).all() && lo.cmple(b.1).all();
        for (k, part) in package.parts.iter().enumerate().filter(|(k, _)| near(&bounds[*k], reach_lo, reach_hi)) {
            let area = |by_mm: f64, travel: f64| -> f64 {
                let slim = Slim::by(&thing.solid, by_mm);
                let cut = swept(part.plate(), &holes[k], &slim, &thing.pose, thing.way_out, travel);
                cut.iter().map(Region::area).sum()
            };
            let still = if near(&bounds[k], lo, hi) { area(SLIM_MM, 0.0) } else { 0.0 };
            let inside = still > TOUCH_MM2;
            let area_mm2 = if inside { still } else { area(SLIM_MM, travel) };
            if area_mm2 > TOUCH_MM2 {
                let short_mm = thinner(|by| area(by, if inside { 0.0 } else { travel }));
                all.push(Blocked { thing: t, part: k, inside, area_mm2, short_mm });
            }
        }
    }
    Some(all)
}

/// Halvings of the search: 10 mm / 2^10 is a hundredth.
const HALVINGS: usize = 10;

/// By how much a thing has to be thinner all round until it passes.
fn thinner(area: impl Fn(f64) -> f64) -> f64 {
    let (mut passes_not, mut passes) = (SLIM_MM, THINNEST_MM);
    for _ in 0..HALVINGS {
        let mid = (passes_not + passes) / 2.0;
        if area(mid) > TOUCH_MM2 { passes_not = mid } else { passes = mid }
    }
    passes
}

impl ReadThing {
    /// The box around it in the space.
    #[must_use]
    pub fn bounds(&self) -> (DVec3, DVec3) {
        let reach = |d: DVec3| d.dot(self.pose.origin) + self.solid.extent(self.pose.dir_own(d));
        let axes = [DVec3::X, DVec3::Y, DVec3::Z];
        (DVec3::from_array(axes.map(|a| -reach(-a))), DVec3::from_array(axes.map(reach)))
    }
}
