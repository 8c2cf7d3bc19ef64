//! A section: what a plane cuts, and what is seen beyond it.

use super::view::View;
use crate::finish::Built;
use crate::geom::{Contour, DVec2, DVec3, Frame, Region, intersect};

/// A cutting plane square to a view's way to the eye.
#[derive(Clone, Copy, Debug)]
pub struct Cut {
    /// How the section is looked at.
    pub view: View,
    /// How far along the way to the eye the plane stands.
    pub at: f64,
}

/// A panel nearer to parallel to the plane than this (sine of the angle) is cut as a whole or not at all.
const PARALLEL_SIN: f64 = 1e-6;
/// Far beyond any panel: half the side of the square that stands for a half-plane, mm.
const FAR_MM: f64 = 50_000.0;

impl Cut {
    /// What lies beyond the plane of a panel, in its own plane.
    pub fn beyond(&self, region: &Region, frame: &Frame, thickness: f64) -> Vec<Region> {
        // in the panel's own middle plane: a·x + b·y ≤ c
        let level = self.at - self.view.eye.dot(frame.out(DVec3::new(0.0, 0.0, thickness / 2.0)));
        let n = DVec2::new(self.view.eye.dot(frame.x), self.view.eye.dot(frame.y));
        if n.length() < PARALLEL_SIN {
            return if level >= 0.0 { vec![region.clone()] } else { vec![] };
        }
        let unit = n.normalize();
        let edge = unit * (level / n.length());
        let along = unit.perp() * FAR_MM;
        let back = unit * FAR_MM;
        let corners = [edge - along, edge + along, edge + along - back, edge - along - back];
        intersect(region, &Region::new(Contour::polygon(&corners), vec![]))
    }

    /// What the plane cuts of a panel, on the paper: areas with their holes.
    pub fn areas(&self, region: &Region, frame: &Frame, thickness: f64) -> Vec<Vec<Vec<DVec2>>> {
        let n = DVec2::new(self.view.eye.dot(frame.x), self.view.eye.dot(frame.y));
        let through = self.view.eye.dot(frame.z);
        let level = self.at - self.view.eye.dot(frame.origin);
        let on_paper = |p: DVec2, z: f64| self.view.flat(frame.out(p.extend(z)));
        if n.length() < PARALLEL_SIN {
            let z = level / through;
            if !(z > 0.0 && z < thickness) {
                return vec![];
            }
            let flat = |c: &Contour| c.flattened(0.1).into_iter().map(|p| on_paper(p, z)).collect();
            return vec![region.contours().map(flat).collect()];
        }
        let unit = n.normalize();
        let dir = unit.perp();
        let line = |z: f64| {
            let from = unit * ((level - through * z) / n.length());
            let spans = region.intervals(from, dir);
            spans.into_iter().map(|(a, b)| (from + dir * a, from + dir * b)).collect::<Vec<_>>()
        };
        // an oblique panel is cut along another line at each height: slices, thin enough for paper
        let slices = if through.abs() < PARALLEL_SIN { 1 } else { 8 };
        let mut areas = vec![];
        for i in 0..slices {
            let (z0, z1) =
                (thickness * f64::from(i) / f64::from(slices), thickness * f64::from(i + 1) / f64::from(slices));
            let (low, high) = (line(z0), line(z1));
            if low.len() == high.len() {
                for (a, b) in low.iter().zip(&high) {
                    let corners = [on_paper(a.0, z0), on_paper(a.1, z0), on_paper(b.1, z1), on_paper(b.0, z1)];
                    areas.push(vec![corners.to_vec()]);
                }
            } else {
                // the count changes between the two heights: drawn as at the middle
                let middle = line((z0 + z1) / 2.0);
                let area =
                    |s: &(DVec2, DVec2)| [on_paper(s.0, z0), on_paper(s.1, z0), on_paper(s.1, z1), on_paper(s.0, z1)];
                areas.extend(middle.iter().map(|s| vec![area(s).to_vec()]));
            }
        }
        areas
    }
}

/// Where a section shows most: through the middle of the first thing, else of the first compartment,
/// else of the holder.
pub fn place(built: &Built) -> DVec3 {
    let own = if let Some(b) = built.assembly.berths.first() {
        b.pose.out(DVec3::new(0.0, 0.0, b.solid.height() / 2.0))
    } else if let Some(b) = built.assembly.bays.first() {
        DVec3::new((b.x.0 + b.x.1) / 2.0, (b.y.0 + b.y.1) / 2.0, 0.0)
    } else {
        // off the middle, where a divider may stand
        DVec3::new(built.size.width_mm * 0.45, built.size.depth_mm * 0.45, 0.0)
    };
    own + built.origin
}
