//! Masses and where they act: panels, things in berths, things in bays.

use super::held::Held;
use super::outcome::Subject;
use crate::geom::DVec3;
use std::collections::BTreeMap;

/// A mass at a point of the space.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Lump {
    pub(super) mass_g: f64,
    pub(super) at: DVec3,
    /// Height of its lowest point: what it stands on is just below.
    pub(super) low: f64,
}

/// Loose parts lie this share of their bay's height high in the mean: half of what is filled.
const LOOSE_CENTRE_SHARE: f64 = crate::things::FILLED_HEIGHT_SHARE / 2.0;

/// Mass of a thing that is a whole compartment's content: every piece of it.
fn all_of(thing: &crate::things::Thing) -> f64 {
    thing.mass().grams * thing.count() as f64
}

impl Subject<'_> {
    /// The panels of a holder.
    pub(super) fn panel_lumps(&self, holder: usize) -> Vec<Lump> {
        let built = &self.holders[holder];
        let parts = built.assembly.panels.iter().zip(&built.finished.panels).enumerate();
        parts
            .map(|(i, (panel, finished))| {
                let own = finished.region.centroid().extend(panel.slab.thickness / 2.0);
                let at = built.placement(i).out(own);
                Lump {
                    mass_g: self.job.stocks[panel.stock].mass_g(finished.region.area(), panel.slab.thickness),
                    at,
                    low: at.z,
                }
            })
            .collect()
    }

    /// What lies and stands in a holder, full.
    pub(super) fn content_lumps(&self, holder: usize) -> Vec<Lump> {
        let mut centres: BTreeMap<(usize, u64), (f64, f64)> = BTreeMap::new();
        let berths = self.held().into_iter().filter(|h| h.holder == holder).map(|h| {
            let lean = h.lean_deg();
            // slicing a liquid takes time, and rows of equal bottles lean alike
            let centre = *centres
                .entry((h.berth.thing, lean.to_bits()))
                .or_insert_with(|| h.thing.centre_of_mass_leaning_mm(lean, h.thing.liquid().map_or(0.0, |v| v.fill())));
            Lump { mass_g: h.thing.mass().grams, at: centre_of(&h, centre), low: -h.extent(-DVec3::Z) }
        });
        let berths: Vec<Lump> = berths.collect();
        let bays = self.lying().into_iter().filter(|l| l.holder == holder).map(|l| {
            let b = l.bay;
            let z = b.z.0 + (b.z.1 - b.z.0) * LOOSE_CENTRE_SHARE;
            let own = DVec3::new((b.x.0 + b.x.1) / 2.0, (b.y.0 + b.y.1) / 2.0, z);
            let at = own + l.built.origin;
            Lump { mass_g: all_of(l.thing) / l.bays as f64, at, low: b.z.0 + l.built.origin.z }
        });
        berths.into_iter().chain(bays).collect()
    }
}

/// A centre given along the axis and towards its upper side, in the space.
fn centre_of(h: &Held, (along, across): (f64, f64)) -> DVec3 {
    let axis = h.pose.z;
    let upper = (DVec3::Z - axis * axis.z).normalize_or_zero();
    h.pose.origin + axis * along + upper * across
}

/// Sum of masses, g.
pub(super) fn sum_g(lumps: &[Lump]) -> f64 {
    lumps.iter().map(|l| l.mass_g).sum()
}
