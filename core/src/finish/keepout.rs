//! Where along an edge a tab may not be: third panels, openings, other slots, the host's rim.

use super::{Cut, Why};
use crate::assembly::{Assembly, Joint, PanelId};
use crate::geom::{DVec2, DVec3, clip_convex, hull};
use crate::joints::cells::without;
use crate::joints::{Blank, Rect, Section, Side, proportion};

/// Everything of a holder that a tab has to look at.
pub struct Around<'a> {
    /// The holder.
    pub assembly: &'a Assembly,
    /// Its blanks.
    pub blanks: &'a [Blank],
    /// What is cut so far.
    pub cuts: &'a [Vec<Cut>],
    /// What the label of each stock says its thickness is.
    pub nominal_mm: &'a [f64],
}

/// A panel seen from a joint: which one, its band across the common line, and the web to keep.
#[derive(Clone, Copy)]
pub struct Band {
    /// The panel whose plane is looked at.
    pub panel: PanelId,
    /// Its partner in the joint, which does not stand in its own way.
    pub partner: PanelId,
    /// From and to across the line.
    pub u: (f64, f64),
    /// Material to leave on every side.
    pub web: f64,
}

impl Around<'_> {
    /// The thickness by which a panel's fingers and tabs are proportioned: its label's, where known.
    pub fn proportion(&self, id: PanelId) -> f64 {
        let panel = self.assembly.panel(id);
        self.nominal_mm.get(panel.stock).copied().unwrap_or(panel.slab.thickness)
    }

    /// The thickness by which the webs and shoulders of a panel are reckoned: the true one, but in board of
    /// a prototype that of the sheets it stands for.
    pub fn strength(&self, id: PanelId) -> f64 {
        proportion(self.assembly.panel(id).slab.thickness, self.proportion(id))
    }

    /// The stretches of `whole` in which the band is free.
    pub fn free(&self, x: &Section, side: Side, band: Band, whole: (f64, f64)) -> Vec<(f64, f64)> {
        let (e, u) = (x.e, x.across(side));
        let shapes = self.thirds(x, band).into_iter().chain(self.made(band));
        let taken: Vec<(f64, f64)> = shapes
            .filter_map(|corners| {
                let flat: Vec<DVec2> = corners.iter().map(|p| DVec2::new(e.dot(*p), u.dot(*p))).collect();
                let near = clip_convex(&flat, DVec2::Y, band.u.1 + band.web - TOUCH_MM);
                let near = clip_convex(&near, -DVec2::Y, -(band.u.0 - band.web + TOUCH_MM));
                (near.len() >= 2).then(|| {
                    near.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), p| {
                        (lo.min(p.x - band.web), hi.max(p.x + band.web))
                    })
                })
            })
            .collect();
        without(whole, &taken)
    }

    /// The footprints of third panels in the band's plane. A third panel parallel to the partner
    /// (on the host's other face, in line with it) blocks only where its slots are.
    fn thirds(&self, x: &Section, band: Band) -> Vec<Vec<DVec3>> {
        let me = &self.blanks[band.panel.0];
        let partner = self.blanks[band.partner.0].slab.frame.z;
        self.assembly
            .meetings
            .iter()
            .filter(|m| !matches!(m.joint, Joint::Rest))
            .filter_map(|m| match (m.a == band.panel, m.b == band.panel) {
                (true, _) => Some(m.b),
                (_, true) => Some(m.a),
                _ => None,
            })
            .filter(|c| *c != band.partner)
            .filter(|c| {
                let n = self.blanks[c.0].slab.frame.z;
                // parallel to the partner, or at least to the common line with a band of its own
                n.cross(partner).length() > 1e-6 || n.cross(me.slab.frame.z).dot(x.e).abs() < 1e-6
            })
            .filter_map(|c| footprint(&self.blanks[c.0], me))
            .collect()
    }

    /// Openings, tools and slots that are already cut in the band's panel.
    fn made(&self, band: Band) -> Vec<Vec<DVec3>> {
        let frame = self.blanks[band.panel.0].slab.frame;
        self.cuts[band.panel.0]
            .iter()
            .filter(|c| !matches!(c.why, Why::Edge(_)))
            .map(|c| hull(&c.contour.flattened(FLAT_MM)).into_iter().map(|p| frame.out2(p)).collect())
            .collect()
    }
}

/// What keeps exactly the web that is asked for is not in the way, whatever rounding makes of it.
const TOUCH_MM: f64 = 1e-6;

/// Keep-outs need not be finer than this: webs are kept in whole thicknesses.
const FLAT_MM: f64 = 0.1;

/// The rectangle that blank `c` covers in the plane of `me`.
fn footprint(c: &Blank, me: &Blank) -> Option<Vec<DVec3>> {
    let x = Section::between(&c.slab, &me.slab)?;
    let crossing = x.crossing();
    let (own, theirs) = (x.range(Side::B, &crossing), x.range(Side::A, &crossing));
    let s = c.outer(x.e, x.ua, theirs)?;
    let rect = x.rect_on(Side::B, me, &Rect { s, u: own }, 1.0);
    Some(rect.vertices.iter().map(|v| me.slab.frame.out2(v.p)).collect())
}
