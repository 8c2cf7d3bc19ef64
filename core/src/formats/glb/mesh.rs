//! Triangles of a plate, a round thing and a straight thing, each in its own frame, in metres.

use crate::geom::{Contour, DVec2, DVec3, Region, Segment, Vertex};
use crate::things::Solid;
use earcut::Earcut;

/// Chords leave arcs by less than this, mm: finer than a screen shows at arm's length.
const CHORD_MM: f64 = 0.03;
/// Fewest sides of a round thing.
const LEAST_SIDES: f64 = 24.0;

/// Triangles with a normal at each corner.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    /// Corners, m.
    pub positions: Vec<[f32; 3]>,
    /// Unit normals.
    pub normals: Vec<[f32; 3]>,
    /// Three corners a triangle, counter-clockwise from outside.
    pub indices: Vec<u32>,
}

impl Mesh {
    /// A finished panel: z from 0 to its thickness.
    pub fn plate(region: &Region, thickness_mm: f64) -> Self {
        let mut m = Self::default();
        let flat: Vec<Vec<DVec2>> = region.contours().map(|c| c.flattened(CHORD_MM)).collect();
        m.face(&flat, 0.0, false);
        m.face(&flat, thickness_mm, true);
        region.contours().for_each(|c| m.walls(c, thickness_mm));
        m
    }

    /// A thing's outside.
    pub fn solid(solid: &Solid) -> Self {
        let mut m = Self::default();
        match solid {
            Solid::Revolution(r) => m.turned(r.profile()),
            Solid::Prism(p) => {
                let flat = vec![p.section().flattened(CHORD_MM)];
                m.face(&flat, 0.0, false);
                m.face(&flat, p.height(), true);
                m.walls(p.section(), p.height());
            }
        }
        m
    }

    fn corner(&mut self, p: DVec3, n: DVec3) -> u32 {
        self.positions.push((p / 1000.0).as_vec3().to_array());
        self.normals.push(n.as_vec3().to_array());
        (self.positions.len() - 1) as u32
    }

    /// A flat face at a height, looking up or down. The first outline is the outer one.
    fn face(&mut self, outlines: &[Vec<DVec2>], z: f64, up: bool) {
        let normal = if up { DVec3::Z } else { DVec3::NEG_Z };
        let points: Vec<[f64; 2]> = outlines.iter().flatten().map(DVec2::to_array).collect();
        let mut holes: Vec<u32> = vec![];
        let mut at = 0;
        for o in outlines {
            if at > 0 {
                holes.push(at as u32);
            }
            at += o.len();
        }
        let mut triangles: Vec<u32> = vec![];
        Earcut::new().earcut(points.iter().copied(), &holes, &mut triangles);
        let first = self.positions.len() as u32;
        for p in &points {
            self.corner(DVec3::new(p[0], p[1], z), normal);
        }
        for t in triangles.chunks_exact(3) {
            let (a, b, c) = (points[t[0] as usize], points[t[1] as usize], points[t[2] as usize]);
            let turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);
            let seen = if (turn > 0.0) == up { [t[0], t[1], t[2]] } else { [t[0], t[2], t[1]] };
            self.indices.extend(seen.map(|i| first + i));
        }
    }

    /// The edge faces along an outline that has the material on its left.
    fn walls(&mut self, outline: &Contour, height: f64) {
        for s in outline.segments() {
            // as a two-cornered outline: its way there is the edge, its way back a chord
            let there = Contour { vertices: vec![Vertex { p: s.a, bulge: s.bulge }, Vertex { p: s.b, bulge: 0.0 }] };
            for w in there.flattened(CHORD_MM).windows(2) {
                let (na, nb) = (outward(&s, w[0]).extend(0.0), outward(&s, w[1]).extend(0.0));
                let a = [self.corner(w[0].extend(0.0), na), self.corner(w[0].extend(height), na)];
                let b = [self.corner(w[1].extend(0.0), nb), self.corner(w[1].extend(height), nb)];
                self.indices.extend([a[0], b[0], b[1], a[0], b[1], a[1]]);
            }
        }
    }

    /// Frusta about the z axis, with discs where the profile does not end on the axis.
    fn turned(&mut self, profile: &[(f64, f64)]) {
        let widest = profile.iter().map(|p| p.1).fold(0.0, f64::max);
        let rise = (CHORD_MM / widest.max(CHORD_MM)).min(0.5);
        let sides = libm::ceil(core::f64::consts::PI / libm::acos(1.0 - rise)).max(LEAST_SIDES) as usize;
        let ring: Vec<DVec2> = (0..=sides)
            .map(|i| {
                let (s, c) = libm::sincos(core::f64::consts::TAU * (i % sides) as f64 / sides as f64);
                DVec2::new(c, s)
            })
            .collect();
        if let (Some(first), Some(last)) = (profile.first(), profile.last()) {
            self.band(&ring, (first.0, 0.0), *first);
            self.band(&ring, *last, (last.0, 0.0));
        }
        profile.windows(2).for_each(|w| self.band(&ring, w[0], w[1]));
    }

    /// One frustum, ring or disc, from (z, r) to (z, r), the axis on its left.
    fn band(&mut self, ring: &[DVec2], low: (f64, f64), high: (f64, f64)) {
        let Some(slope) = DVec2::new(high.0 - low.0, low.1 - high.1).try_normalize() else { return };
        for w in ring.windows(2) {
            let normal = |d: DVec2| (d * slope.x).extend(slope.y);
            let a = [
                self.corner((w[0] * low.1).extend(low.0), normal(w[0])),
                self.corner((w[0] * high.1).extend(high.0), normal(w[0])),
            ];
            let b = [
                self.corner((w[1] * low.1).extend(low.0), normal(w[1])),
                self.corner((w[1] * high.1).extend(high.0), normal(w[1])),
            ];
            if low.1 > 0.0 {
                self.indices.extend([a[0], b[0], b[1]]);
            }
            if high.1 > 0.0 {
                self.indices.extend([a[0], b[1], a[1]]);
            }
        }
    }
}

/// Unit normal of an edge at a point of it, out of the material on its left.
fn outward(s: &Segment, at: DVec2) -> DVec2 {
    match s.center() {
        Some(c) => (at - c).normalize_or_zero() * s.bulge.signum(),
        None => -s.start_dir().perp(),
    }
}
