//! Things where they stand in the space, and the things of bays.

use super::outcome::Subject;
use crate::assembly::{Bay, Berth};
use crate::finish::Built;
use crate::geom::{DVec3, Frame};
use crate::things::Thing;

/// One thing in its berth.
#[derive(Clone, Copy)]
pub(crate) struct Held<'a> {
    /// Which holder.
    pub(crate) holder: usize,
    pub(crate) built: &'a Built,
    pub(crate) berth: &'a Berth,
    pub(crate) thing: &'a Thing,
    /// The pose in the space's frame.
    pub(crate) pose: Frame,
}

impl Held<'_> {
    /// Greatest `direction · p` over the thing, in the space's frame.
    pub(crate) fn extent(&self, direction: DVec3) -> f64 {
        direction.dot(self.pose.origin) + self.berth.solid.extent(self.pose.dir_own(direction))
    }

    /// The box around it in the space.
    pub(crate) fn bounds(&self) -> (DVec3, DVec3) {
        let axes = [DVec3::X, DVec3::Y, DVec3::Z];
        let [lo, hi] = [-1.0, 1.0].map(|s| axes.map(|a| s * self.extent(a * s)));
        (DVec3::from_array(lo), DVec3::from_array(hi))
    }

    /// Elevation of its axis above the horizontal, degrees: 90 stands, 0 lies, negative hangs.
    pub(crate) fn lean_deg(&self) -> f64 {
        let level = libm::hypot(self.pose.z.x, self.pose.z.y);
        libm::atan2(self.pose.z.z, level).to_degrees()
    }

    /// JSON Pointer of the thing.
    pub(crate) fn at(&self) -> String {
        format!("/things/{}", self.berth.thing)
    }
}

/// One compartment with the thing that lies in it.
#[derive(Clone, Copy)]
pub(crate) struct Lying<'a> {
    pub(crate) holder: usize,
    pub(crate) built: &'a Built,
    pub(crate) bay: &'a Bay,
    /// Which of the job's things.
    pub(crate) index: usize,
    pub(crate) thing: &'a Thing,
    /// In how many bays of the whole job the thing lies.
    pub(crate) bays: usize,
}

impl<'a> Subject<'a> {
    /// Every thing in its berth, holder by holder.
    pub(crate) fn held(&self) -> Vec<Held<'a>> {
        let mut all = vec![];
        for (holder, built) in self.holders.iter().enumerate() {
            for berth in &built.assembly.berths {
                if let Some(thing) = self.job.things.get(berth.thing) {
                    all.push(Held { holder, built, berth, thing, pose: berth.pose.moved(built.origin) });
                }
            }
        }
        all
    }

    /// Every compartment that is meant for a thing.
    pub(crate) fn lying(&self) -> Vec<Lying<'a>> {
        let mut all: Vec<Lying> = vec![];
        for (holder, built) in self.holders.iter().enumerate() {
            for bay in &built.assembly.bays {
                if let Some((index, thing)) = bay.thing.and_then(|i| Some((i, self.job.things.get(i)?))) {
                    all.push(Lying { holder, built, bay, index, thing, bays: 0 });
                }
            }
        }
        let indices: Vec<usize> = all.iter().map(|l| l.index).collect();
        for l in &mut all {
            l.bays = indices.iter().filter(|i| **i == l.index).count();
        }
        all
    }
}
