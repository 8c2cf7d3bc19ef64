//! Panels where they stand in the space, and what a thing meets of them when it is moved.

use super::held::Held;
use super::outcome::Subject;
use super::place::placed_slab;
use crate::finish::Built;
use crate::geom::{Contour, DVec2, DVec3, Frame, Region, Slab};
use crate::solid::{Plate, swept};
pub(crate) use crate::solid::{SLIM_MM, Slim};

/// A finished panel in the space.
pub(crate) struct Board<'a> {
    pub(crate) holder: usize,
    pub(crate) panel: usize,
    pub(crate) built: &'a Built,
    pub(crate) slab: Slab,
    pub(crate) region: &'a Region,
    pub(crate) lo: DVec3,
    pub(crate) hi: DVec3,
    boxes: Vec<(DVec2, DVec2)>,
}

impl<'a> Subject<'a> {
    /// Every panel of every holder.
    pub(crate) fn boards(&self) -> Vec<Board<'a>> {
        let mut all = vec![];
        for (holder, built) in self.holders.iter().enumerate() {
            for (panel, finished) in built.finished.panels.iter().enumerate() {
                let (slab, region) = (placed_slab(built, panel), &finished.region);
                let (lo, hi) = Plate { slab: &slab, region }.bounds();
                let boxes = region.holes.iter().map(Contour::bounds).collect();
                all.push(Board { holder, panel, built, slab, region, lo, hi, boxes });
            }
        }
        all
    }
}

impl Board<'_> {
    /// Whether a box comes near.
    pub(crate) fn near(&self, lo: DVec3, hi: DVec3) -> bool {
        self.lo.cmple(hi).all() && lo.cmple(self.hi).all()
    }

    /// The material that a thing would sweep through on its way along `way` over `travel` mm.
    pub(crate) fn swept(&self, slim: &Slim, pose: &Frame, way: DVec3, travel: f64) -> Vec<Region> {
        swept(Plate { slab: &self.slab, region: self.region }, &self.boxes, slim, pose, way, travel)
    }
}

/// Total area of some regions, mm².
pub(crate) fn area_mm2(regions: &[Region]) -> f64 {
    regions.iter().map(Region::area).sum()
}

/// One panel that a thing runs into.
pub(crate) struct Hit {
    /// Place in the list of boards.
    pub(crate) board: usize,
    /// Lowest and highest point of the contact along a direction.
    pub(crate) low: f64,
    pub(crate) high: f64,
}

/// Which panels a thing runs into when it is moved along `way` over `travel` mm, and where along `up`
/// (from the thing's base) it touches them.
pub(crate) fn hits(held: &Held, boards: &[Board], way: DVec3, travel: f64, up: DVec3) -> Vec<Hit> {
    let slim = Slim::of(&held.berth.solid);
    let (lo, hi) = held.bounds();
    let reach = DVec3::splat(travel);
    let mut all = vec![];
    for (board, b) in boards.iter().enumerate().filter(|(_, b)| b.near(lo - reach, hi + reach)) {
        let pieces = b.swept(&slim, &held.pose, way, travel);
        if area_mm2(&pieces) <= TOUCH_MM2 {
            continue;
        }
        let mut ends = (f64::INFINITY, f64::NEG_INFINITY);
        for v in pieces.iter().flat_map(|r| &r.outer.vertices) {
            for z in [0.0, b.slab.thickness] {
                let h = up.dot(b.slab.frame.out(v.p.extend(z)) - held.pose.origin);
                ends = (ends.0.min(h), ends.1.max(h));
            }
        }
        all.push(Hit { board, low: ends.0, high: ends.1 });
    }
    all
}

/// A contact smaller than this is rounding, mm².
pub(crate) const TOUCH_MM2: f64 = 0.1;
