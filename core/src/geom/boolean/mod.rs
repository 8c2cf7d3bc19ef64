//! Cutting away, intersecting and uniting outlines of lines and arcs, any number in one pass.
//!
//! All edges of all outlines are split where they meet (`split`), each piece is asked what lies on its two
//! sides (`sides`), the pieces that part inside from outside are kept and walked into rings (`rings`).
//! Coincident edges become one piece that remembers how often each outline runs along it, so that an edge
//! shared by a panel and ten cuts is a plain case. A pairwise polyline library was the other way: it takes
//! two outlines at a time, leaves holes to the caller, and makes zero-area rings of coincident edges.

mod rings;
mod sides;
mod split;
#[cfg(test)]
mod tests;

use super::{Contour, Region};

/// Points nearer than this are one point, and an edge this near to a corner goes through it. Well above the
/// rounding of frames turned back and forth (1e-12 at a metre), far below anything a cutter can show (1e-2).
const SNAP_MM: f64 = 1e-6;
/// Other distances to try when pieces do not close up at the first. Only outlines displaced from one another by
/// about the snap distance itself need them: 66 of 20,000 random cases made so on purpose, and none beyond these.
const SNAP_RETRIES_MM: [f64; 3] = [3.7e-6, 2.3e-7, 1.3e-5];
/// Rings below this area are rounding, not parts: 0.01 × 0.01 mm.
pub const SLIVER_MM2: f64 = 1e-4;

/// What is left of `region` when every cut is taken away; largest first. Cuts may overlap one another, cross
/// the boundary, swallow holes, and share edges with anything; their winding does not matter. Outlines with
/// coordinates that are not finite are left out. Pieces and holes under [`SLIVER_MM2`] are dropped.
#[must_use]
pub fn subtract(region: &Region, cuts: &[Contour]) -> Vec<Region> {
    let mut input = of_region(region, 0);
    input.extend(cuts.iter().map(|c| (c.ccw(), 1)));
    combine(&input, |w| w[0] > 0 && w[1] <= 0)
}

/// What lies in both regions; largest first.
#[must_use]
pub fn intersect(a: &Region, b: &Region) -> Vec<Region> {
    let mut input = of_region(a, 0);
    input.extend(of_region(b, 1));
    combine(&input, |w| w[0] > 0 && w[1] > 0)
}

/// What lies in any of the outlines; largest first.
#[must_use]
pub fn unite(outlines: &[Contour]) -> Vec<Region> {
    let input: Vec<_> = outlines.iter().map(|c| (c.ccw(), 0)).collect();
    combine(&input, |w| w[0] > 0)
}

/// What lies in any of the regions, which may overlap and have holes; largest first.
#[must_use]
pub fn unite_regions(regions: &[Region]) -> Vec<Region> {
    let input: Vec<_> = regions.iter().flat_map(|r| of_region(r, 0)).collect();
    combine(&input, |w| w[0] > 0)
}

/// Which of the two operands an outline belongs to.
type Operand = usize;
/// How often each operand goes round a place.
type Windings = [i32; 2];

fn of_region(r: &Region, operand: Operand) -> Vec<(Contour, Operand)> {
    core::iter::once(r.outer.ccw()).chain(r.holes.iter().map(Contour::cw)).map(|c| (c, operand)).collect()
}

fn combine(input: &[(Contour, Operand)], inside: impl Fn(Windings) -> bool) -> Vec<Region> {
    combine_at(input, inside, &[&[SNAP_MM][..], &SNAP_RETRIES_MM].concat()).0
}

/// The result with the first snap distance at which all pieces close up, else the one that leaves fewest over;
/// and how many it leaves over.
fn combine_at(
    input: &[(Contour, Operand)],
    inside: impl Fn(Windings) -> bool,
    snaps_mm: &[f64],
) -> (Vec<Region>, usize) {
    let usable: Vec<_> = input.iter().filter(|(c, _)| c.vertices.iter().all(finite)).collect();
    let mut loosest: Option<(usize, Vec<Region>)> = None;
    for &snap in snaps_mm {
        let pieces = split::split(&usable, snap);
        let kept = sides::boundary(&pieces, &inside);
        let (rings, loose) = rings::walk(&kept, &pieces.points);
        if loosest.as_ref().is_none_or(|(least, _)| loose < *least) {
            loosest = Some((loose, rings::regions(rings, snap)));
        }
        if loose == 0 {
            break;
        }
    }
    loosest.map(|(loose, r)| (r, loose)).unwrap_or_default()
}

fn finite(v: &super::Vertex) -> bool {
    v.p.is_finite() && v.bulge.is_finite()
}
