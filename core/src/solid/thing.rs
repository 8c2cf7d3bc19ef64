//! Whether a thing stands in a finished panel.

use super::Plate;
use crate::assembly::Berth;
use crate::geom::{Contour, DVec2, DVec3, Frame, Region, Slab, intersect};
use crate::shadow::{Body, opening};
use crate::things::Solid;

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

/// A thing that touches a panel does not cut it: so much is taken off all round, mm. Twice the
/// tolerance to which curved openings are replaced by arcs.
pub const SLIM_MM: f64 = 0.02;

/// A solid a hair smaller than it is.
#[derive(Clone, Debug)]
pub enum Slim {
    /// Round about the axis: its profile.
    Turned(Vec<(f64, f64)>),
    /// Straight: its section and height.
    Straight(Contour, f64),
}

impl Slim {
    /// Smaller by [`SLIM_MM`] at every face.
    #[must_use]
    pub fn of(solid: &Solid) -> Self {
        Self::by(solid, SLIM_MM)
    }

    /// Smaller by so much at every face, mm.
    #[must_use]
    pub fn by(solid: &Solid, by_mm: f64) -> Self {
        match solid.grown(-2.0 * by_mm) {
            Solid::Revolution(r) => {
                let top = (r.height() - by_mm).max(by_mm);
                Self::Turned(r.profile().iter().map(|(z, r)| (z.clamp(by_mm, top), *r)).collect())
            }
            Solid::Prism(p) => Self::Straight(p.section().clone(), (p.height() - 2.0 * by_mm).max(by_mm)),
        }
    }

    fn shadow(&self, pose: &Frame, slab: &Slab, way: DVec3, travel: f64) -> Vec<Region> {
        match self {
            Self::Turned(profile) => opening(Body::Turned(profile), pose, slab, way, travel),
            Self::Straight(section, height) => {
                opening(Body::Straight(section, *height), &pose.moved(pose.z * SLIM_MM), slab, way, travel)
            }
        }
    }
}

/// The material of a panel that a thing would sweep through on its way along `way` over `travel` mm. `boxes`
/// are the bounds of the region's holes: a deck may have hundreds, and only what is near is looked at.
#[must_use]
pub fn swept(
    plate: Plate,
    boxes: &[(DVec2, DVec2)],
    slim: &Slim,
    pose: &Frame,
    way: DVec3,
    travel: f64,
) -> Vec<Region> {
    let under = |outline: &Contour| {
        let (lo, hi) = outline.bounds();
        let meets = |b: &(DVec2, DVec2)| b.0.cmple(hi).all() && lo.cmple(b.1).all();
        if !meets(&plate.region.bounds()) {
            return vec![];
        }
        let holes = plate.region.holes.iter().zip(boxes).filter(|(_, b)| meets(b)).map(|(h, _)| h.clone());
        let local = Region { outer: plate.region.outer.clone(), holes: holes.collect() };
        intersect(&local, &Region { outer: outline.clone(), holes: vec![] })
    };
    slim.shadow(pose, plate.slab, way, travel).iter().flat_map(|s| under(&s.outer)).collect()
}

/// Out of the holder by this much, mm, a thing is in the hand.
const OUT_BY_MM: f64 = 10.0;

/// How far a thing whose lowest point is at `low_z` moves along `way` until it is out: above everything up to
/// `top_z`, or one and a half of its own length where the way does not rise.
#[must_use]
pub fn travel_mm(solid: &Solid, low_z: f64, way: DVec3, top_z: f64) -> f64 {
    let rise = (top_z + OUT_BY_MM - low_z).max(0.0);
    if way.z > 0.1 { rise / way.z } else { 1.5 * (solid.height() + solid.max_radius()) }
}
