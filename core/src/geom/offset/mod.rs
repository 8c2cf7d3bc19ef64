//! Moves every boundary of a region by a distance: lines stay lines, arcs keep their centres.
//!
//! Material lies left of every boundary, so growing moves each edge to its right. Neighbours are then
//! joined again at the crossing of their moved lines or circles (`corner`). Nothing is trimmed or rounded:
//! what no longer fits is an error that names the place, because a kerf that swallows a detail must be
//! told and not mended in silence. Growing by d and then by −d gives the region back.

mod check;
mod corner;
mod edge;
#[cfg(test)]
mod tests;

use super::{Contour, DVec2, Region, Vertex};
use core::fmt;
use corner::Joint;
pub use corner::MITRE_LIMIT;
use edge::Moved;

/// What no longer fits.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OffsetFault {
    /// The distance, or a coordinate, is not a finite number.
    NotFinite,
    /// An arc's radius, or its length between its neighbours, would fall below nothing.
    ArcVanishes,
    /// A straight edge would be shorter than nothing between its neighbours.
    EdgeVanishes,
    /// A whole opening (or the outer boundary) would turn inside out.
    OutlineCloses,
    /// Two neighbouring edges no longer meet.
    CornerOpens,
    /// Two boundaries, or two parts of one, would cross or touch.
    Crosses,
}

/// Why a region cannot be grown or shrunk by a distance, where, and by how much.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OffsetError {
    /// What no longer fits.
    pub fault: OffsetFault,
    /// Which outline: 0 the outer boundary, then the holes from 1.
    pub contour: usize,
    /// Where, in the region as given, mm.
    pub at: DVec2,
    /// The distance asked for, mm.
    pub distance_mm: f64,
    /// By how much it does not fit, mm: missing radius, length, or clearance.
    pub by_mm: f64,
}

impl fmt::Display for OffsetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let what = match self.fault {
            OffsetFault::NotFinite => "a number is not finite",
            OffsetFault::ArcVanishes => "an arc vanishes",
            OffsetFault::EdgeVanishes => "an edge vanishes",
            OffsetFault::OutlineCloses => "an outline closes up",
            OffsetFault::CornerOpens => "two neighbouring edges no longer meet",
            OffsetFault::Crosses => "boundaries run into each other",
        };
        let (x, y) = (self.at.x, self.at.y);
        write!(
            f,
            "{what} at x {x:.3} y {y:.3} mm when moved by {:.4} mm: short by {:.4} mm",
            self.distance_mm, self.by_mm
        )
    }
}
impl core::error::Error for OffsetError {}

/// Edges shorter than this are no edges: before the move they are left out, after it they have closed exactly.
const NO_LENGTH_MM: f64 = 1e-7;

/// The region with every boundary moved by `d_mm` into the void: the outer one grows, holes shrink; negative
/// shrinks the material. Corners are mitred; see [`MITRE_LIMIT`] for tips sharper than 29°.
///
/// # Errors
/// When an arc or edge vanishes, an outline closes, neighbours lose each other, or boundaries run into each
/// other: with the place and by how much.
pub fn grow(region: &Region, d_mm: f64) -> Result<Region, OffsetError> {
    let finite = |c: &Contour| c.vertices.iter().all(|v| v.p.is_finite() && v.bulge.is_finite());
    if !d_mm.is_finite() || !region.contours().all(finite) {
        let fault = OffsetFault::NotFinite;
        return Err(OffsetError { fault, contour: 0, at: DVec2::ZERO, distance_mm: d_mm, by_mm: f64::INFINITY });
    }
    let mut outlines = Vec::new();
    for (contour, c) in region.contours().enumerate() {
        outlines.push(grow_outline(c, d_mm).map_err(|e| OffsetError { contour, ..e })?);
    }
    check::crossings(&outlines, d_mm)?;
    let mut made = outlines.into_iter().map(|o| o.contour());
    let outer = made.next().unwrap_or_default();
    let grown = Region { outer, holes: made.collect() };
    check::nesting(region, &grown, d_mm)?;
    Ok(grown)
}

/// A moved outline; each edge knows what it was.
struct Outline {
    edges: Vec<Moved>,
}

impl Outline {
    fn contour(&self) -> Contour {
        Contour { vertices: self.edges.iter().map(|e| Vertex { p: e.new.a, bulge: e.new.bulge }).collect() }
    }
}

fn grow_outline(c: &Contour, d: f64) -> Result<Outline, OffsetError> {
    closes(c, d)?;
    let old: Vec<_> = c.segments().filter(|s| s.length() > NO_LENGTH_MM).collect();
    let n = old.len();
    let moved: Vec<_> = old.iter().map(|s| edge::carrier(s, d)).collect::<Result<_, _>>()?;
    let joints: Vec<Joint> = (0..n)
        .map(|i| corner::joint(&old[(i + n - 1) % n], &old[i], &moved[(i + n - 1) % n], &moved[i], d))
        .collect::<Result<_, _>>()?;
    let mut edges = Vec::with_capacity(n + 4);
    for i in 0..n {
        let (from, to) = (&joints[i], &joints[(i + 1) % n]);
        if let Some(square) = from.square_end(old[i].a) {
            edges.push(square);
        }
        edges.push(edge::between(&old[i], &moved[i], from.end, to.start, d)?);
    }
    edges.retain(|e| e.new.length() > NO_LENGTH_MM);
    stitch(&mut edges);
    Ok(Outline { edges })
}

/// After edges that closed exactly were dropped, ends that are one point to rounding become one.
fn stitch(edges: &mut [Moved]) {
    let n = edges.len();
    for i in 0..n {
        edges[i].new.b = edges[(i + 1) % n].new.a;
    }
}

/// An outline that draws in by `d` on all sides must be wider than twice that, across its extents at the least.
fn closes(c: &Contour, d: f64) -> Result<(), OffsetError> {
    let (lo, hi) = c.bounds();
    let short_mm = 2.0 * d.abs() - (hi - lo).min_element();
    let draws_in = c.area() * d <= 0.0;
    if draws_in && short_mm >= 0.0 {
        let (fault, at) = (OffsetFault::OutlineCloses, (lo + hi) / 2.0);
        return Err(OffsetError { fault, contour: 0, at, distance_mm: d, by_mm: short_mm });
    }
    Ok(())
}
