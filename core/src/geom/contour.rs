//! A closed outline of straight lines and true arcs, and a region with holes.

use super::DVec2;

/// A corner of a contour and how the edge to the next corner runs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Vertex {
    /// Where the corner is, mm.
    pub p: DVec2,
    /// tan of a quarter of the arc's included angle to the next corner; 0 is a straight line, positive
    /// bulges to the right of the way (counter-clockwise arc), as in DXF.
    pub bulge: f64,
}

/// A closed outline; the last vertex's edge leads back to the first.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Contour {
    /// Corners in order.
    pub vertices: Vec<Vertex>,
}

/// Material: inside `outer` (counter-clockwise), outside each hole (clockwise).
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Region {
    /// Outer boundary, counter-clockwise.
    pub outer: Contour,
    /// Openings, each clockwise.
    pub holes: Vec<Contour>,
}
