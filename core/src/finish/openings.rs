//! Openings: each thing's shadow in the panels that it passes through.

use super::{Cut, Why};
use crate::assembly::{Assembly, Berth, Opening};
use crate::geom::DVec2;
use crate::joints::Blank;
use crate::shadow::opening;

/// Adds the openings of all berths and the named tools to the cuts of their panels.
pub fn add(assembly: &Assembly, blanks: &[Blank], cuts: &mut [Vec<Cut>]) {
    for (i, panel) in assembly.panels.iter().enumerate() {
        for (k, tool) in panel.tools.iter().enumerate() {
            cuts[i].push(Cut { contour: tool.contour.clone(), why: Why::Tool(k) });
        }
    }
    for (i, berth) in assembly.berths.iter().enumerate() {
        for o in &berth.openings {
            let blank = &blanks[o.panel.0];
            let grown = berth.solid.grown(o.clearance_mm);
            let regions = opening(grown.body(), &berth.pose, &blank.slab, berth.way_out, travel(berth, o, blank));
            // what lies inside an opening falls out: holes in a shadow are of no use
            cuts[o.panel.0].extend(regions.into_iter().map(|r| Cut { contour: r.outer, why: Why::Opening(i) }));
        }
    }
}

/// How far a thing is moved to be out: past its own height, and for an open mouth past the panel.
fn travel(berth: &Berth, o: &Opening, blank: &Blank) -> f64 {
    let own = 1.5 * (berth.solid.height() + berth.solid.max_radius());
    if !o.open {
        return own;
    }
    let (lo, hi) =
        blank.outline.iter().fold((DVec2::INFINITY, DVec2::NEG_INFINITY), |(lo, hi), p| (lo.min(*p), hi.max(*p)));
    own + 1.5 * (hi - lo).length()
}
