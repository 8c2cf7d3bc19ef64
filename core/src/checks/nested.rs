//! How holders lie between walls that face each other, whatever height they are looked at.

use crate::finish::Built;
use crate::geom::DVec3;
use crate::spaces::Plan;

/// Rounded edges are followed within this, mm.
const FLAT_MM: f64 = 0.05;

/// A corner of a part where it stands in the space.
#[derive(Clone, Copy)]
pub(super) struct Corner {
    pub(super) p: DVec3,
    pub(super) holder: usize,
    pub(super) panel: usize,
}

/// Corners of a holder's parts, both faces.
pub(super) fn corners(holder: usize, built: &Built) -> Vec<Corner> {
    let mut all = vec![];
    for (panel, finished) in built.finished.panels.iter().enumerate() {
        let frame = built.placement(panel);
        let t = built.assembly.panels[panel].slab.thickness;
        for flat in finished.region.outer.flattened(FLAT_MM) {
            all.extend([0.0, t].map(|z| Corner { p: frame.out(flat.extend(z)), holder, panel }));
        }
    }
    all
}

/// How everything lies between two facing walls.
#[derive(Clone, Copy)]
pub(super) struct Between {
    /// By how much it is too large, however it is pushed; negative is room to spare.
    pub(super) over: f64,
    /// The push that centres it.
    pub(super) shift: f64,
    /// Size where it is worst, and what is left for it there.
    pub(super) have: f64,
    pub(super) need: f64,
    /// Which holder stands farthest out on the high side.
    pub(super) holder: usize,
}

impl Between {
    /// Between the walls that face each other along one axis; plans of all heights share their centre.
    pub(super) fn of(all: &[Corner], along: fn(&DVec3) -> f64, side: &dyn Fn(f64) -> f64) -> Self {
        let centre = side(0.0) / 2.0;
        let (mut low, mut high, mut holder, mut z) = (f64::NEG_INFINITY, f64::NEG_INFINITY, 0, [0.0; 2]);
        for c in all {
            let half = side(c.p.z) / 2.0;
            let (below, above) = (centre - half - along(&c.p), along(&c.p) - centre - half);
            if below > low {
                (low, z[0]) = (below, c.p.z);
            }
            if above > high {
                (high, holder, z[1]) = (above, c.holder, c.p.z);
            }
        }
        let over = low + high;
        let need = (side(z[0]) + side(z[1])) / 2.0;
        Self { over, shift: (low - high) / 2.0, have: need + over, need, holder }
    }
}

/// How everything lies in plans that change with the height.
pub(super) struct Nested {
    pub(super) x: Between,
    pub(super) y: Between,
    /// The corner that stands farthest in a rounding, and how far outside of it; none where nothing
    /// comes near one.
    pub(super) round: Option<(f64, Corner)>,
}

impl Nested {
    pub(super) fn of(all: &[Corner], plan: &dyn Fn(f64) -> Plan) -> Self {
        let x = Between::of(all, |p| p.x, &|z| plan(z).width_mm);
        let y = Between::of(all, |p| p.y, &|z| plan(z).depth_mm);
        let base = plan(0.0);
        let outside = |c: &Corner| {
            let here = plan(c.p.z);
            let r = here.corner_radius_mm;
            let off = |v: f64, half: f64| v.abs() - (half - r);
            let dx = off(c.p.x + x.shift - base.width_mm / 2.0, here.width_mm / 2.0);
            let dy = off(c.p.y + y.shift - base.depth_mm / 2.0, here.depth_mm / 2.0);
            (dx > 0.0 && dy > 0.0).then(|| (libm::hypot(dx, dy) - r, *c))
        };
        let round = all.iter().filter_map(outside).max_by(|a, b| a.0.total_cmp(&b.0));
        Self { x, y, round }
    }

    /// By how much it is too large in any way.
    pub(super) fn worst(&self) -> f64 {
        self.x.over.max(self.y.over).max(self.round.map_or(f64::NEG_INFINITY, |r| r.0))
    }
}
