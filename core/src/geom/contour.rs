//! A closed outline of straight lines and true arcs, and a region with holes.

use super::{DVec2, Segment};

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

impl Contour {
    /// Straight edges through `points`, closed.
    #[must_use]
    pub fn polygon(points: &[DVec2]) -> Self {
        Self { vertices: points.iter().map(|&p| Vertex { p, bulge: 0.0 }).collect() }
    }
    /// An axis-parallel rectangle, counter-clockwise, whichever two opposite corners are given.
    #[must_use]
    pub fn rect(min: DVec2, max: DVec2) -> Self {
        let (lo, hi) = (min.min(max), min.max(max));
        Self::polygon(&[lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)])
    }
    /// A circle, counter-clockwise: two half-circle arcs, starting at +x.
    #[must_use]
    pub fn circle(center: DVec2, radius: f64) -> Self {
        let r = DVec2::new(radius.abs(), 0.0);
        Self { vertices: vec![Vertex { p: center + r, bulge: 1.0 }, Vertex { p: center - r, bulge: 1.0 }] }
    }
    /// The edges in order; the last one leads back to the first corner.
    pub fn segments(&self) -> impl Iterator<Item = Segment> + '_ {
        let n = self.vertices.len();
        (0..n).map(move |i| {
            let (v, w) = (self.vertices[i], self.vertices[(i + 1) % n]);
            Segment::new(v.p, w.p, v.bulge)
        })
    }
    /// The same outline walked the other way.
    #[must_use]
    pub fn reversed(&self) -> Self {
        let n = self.vertices.len();
        let back = |i: usize| {
            let at = n - 1 - i;
            // the edge that arrives at this corner is the one that leaves it now
            Vertex { p: self.vertices[at].p, bulge: -self.vertices[(at + n - 1) % n].bulge }
        };
        Self { vertices: (0..n).map(back).collect() }
    }
    /// A counter-clockwise copy.
    #[must_use]
    pub fn ccw(&self) -> Self {
        if self.area() < 0.0 { self.reversed() } else { self.clone() }
    }
    /// A clockwise copy.
    #[must_use]
    pub fn cw(&self) -> Self {
        if self.area() > 0.0 { self.reversed() } else { self.clone() }
    }
    /// A copy moved by `d`.
    #[must_use]
    pub fn moved(&self, d: DVec2) -> Self {
        self.mapped(d, DVec2::X, DVec2::Y)
    }
    /// A copy turned about the origin, radians, +x towards +y.
    #[must_use]
    pub fn turned(&self, angle_rad: f64) -> Self {
        let x = DVec2::new(libm::cos(angle_rad), libm::sin(angle_rad));
        self.mapped(DVec2::ZERO, x, x.perp())
    }
    /// A copy with `p` at `origin + x·p.x + y·p.y`; `x` and `y` are orthonormal. Should they be a mirror's,
    /// arcs stay true and the winding turns over.
    #[must_use]
    pub fn mapped(&self, origin: DVec2, x: DVec2, y: DVec2) -> Self {
        let hand = if x.perp_dot(y) < 0.0 { -1.0 } else { 1.0 };
        let map = |v: &Vertex| Vertex { p: origin + x * v.p.x + y * v.p.y, bulge: v.bulge * hand };
        Self { vertices: self.vertices.iter().map(map).collect() }
    }
}

impl Region {
    /// A region from its boundaries, whichever way round they come.
    #[must_use]
    pub fn new(outer: Contour, holes: Vec<Contour>) -> Self {
        Self { outer: outer.ccw(), holes: holes.iter().map(Contour::cw).collect() }
    }
    /// Outer boundary first, then the holes.
    pub fn contours(&self) -> impl Iterator<Item = &Contour> {
        core::iter::once(&self.outer).chain(&self.holes)
    }
    /// All edges, outer boundary first.
    pub fn segments(&self) -> impl Iterator<Item = Segment> + '_ {
        self.contours().flat_map(Contour::segments)
    }
    /// Area of material, mm².
    #[must_use]
    pub fn area(&self) -> f64 {
        self.outer.area().abs() - self.holes.iter().map(|h| h.area().abs()).sum::<f64>()
    }
    /// Length of all boundaries, mm: what a cutter travels.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.contours().map(Contour::length).sum()
    }
    /// Least and greatest x and y of the outer boundary.
    #[must_use]
    pub fn bounds(&self) -> (DVec2, DVec2) {
        self.outer.bounds()
    }
    /// Centroid of the material.
    #[must_use]
    pub fn centroid(&self) -> DVec2 {
        let outer = self.outer.area().abs();
        let area = self.area();
        if area <= 0.0 {
            return self.outer.centroid();
        }
        // about the outer centroid, so that far-off places lose no digits
        let at = self.outer.centroid();
        let shift = |h: &Contour| (h.centroid() - at) * (h.area().abs() / outer);
        at - self.holes.iter().map(shift).sum::<DVec2>() * (outer / area)
    }
    /// Whether `p` lies in the material.
    #[must_use]
    pub fn contains(&self, p: DVec2) -> bool {
        self.outer.contains(p) && !self.holes.iter().any(|h| h.contains(p))
    }
    /// A copy moved by `d`.
    #[must_use]
    pub fn moved(&self, d: DVec2) -> Self {
        self.each(|c| c.moved(d))
    }
    /// A copy turned about the origin, radians.
    #[must_use]
    pub fn turned(&self, angle_rad: f64) -> Self {
        self.each(|c| c.turned(angle_rad))
    }
    /// A copy mapped as [`Contour::mapped`]; after a mirror the windings are set right again.
    #[must_use]
    pub fn mapped(&self, origin: DVec2, x: DVec2, y: DVec2) -> Self {
        let made = self.each(|c| c.mapped(origin, x, y));
        if x.perp_dot(y) < 0.0 { made.each(Contour::reversed) } else { made }
    }
    fn each(&self, f: impl Fn(&Contour) -> Contour) -> Self {
        Self { outer: f(&self.outer), holes: self.holes.iter().map(f).collect() }
    }
}
