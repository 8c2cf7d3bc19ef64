//! Solids as seen along one direction: faces that look at the viewer, far ones first.

use crate::assembly::Berth;
use crate::geom::{Contour, DVec2, DVec3, Frame, Region, Vertex, hull};
use crate::things::Solid;

/// How finely curves are drawn on paper, mm at full size.
const CHORD_MM: f64 = 0.1;
/// A face that looks less towards the viewer than this is seen as a line.
const EDGE_ON: f64 = 1e-6;

/// Where the viewer stands: x and y of the paper, and the way to the eye, as unit vectors.
#[derive(Clone, Copy, Debug)]
pub struct View {
    /// To the right.
    pub right: DVec3,
    /// Upwards.
    pub up: DVec3,
    /// Towards the eye.
    pub eye: DVec3,
}

impl View {
    /// From above, the front below.
    pub const PLAN: Self = Self { right: DVec3::X, up: DVec3::Y, eye: DVec3::Z };
    /// From the front.
    pub const FRONT: Self = Self { right: DVec3::X, up: DVec3::Z, eye: DVec3::NEG_Y };
    /// From the right: the front is on the left.
    pub const SIDE: Self = Self { right: DVec3::Y, up: DVec3::Z, eye: DVec3::X };

    /// A point of space on the paper.
    pub fn flat(&self, p: DVec3) -> DVec2 {
        DVec2::new(self.right.dot(p), self.up.dot(p))
    }
}

/// An area on the paper with how near it is.
#[derive(Clone, Debug)]
pub struct Face {
    /// Outer outline, then holes.
    pub outlines: Vec<Vec<DVec2>>,
    /// Way towards the eye of its middle.
    pub near: f64,
}

/// The faces of a plate that look at the viewer.
pub fn plate(view: &View, region: &Region, frame: &Frame, thickness: f64) -> Vec<Face> {
    let mut faces = vec![];
    for (z, sign) in [(0.0, -1.0), (thickness, 1.0)] {
        if (frame.z * sign).dot(view.eye) > EDGE_ON {
            let out = |p: DVec2| frame.out(p.extend(z));
            let outlines: Vec<Vec<DVec2>> = region
                .contours()
                .map(|c| c.flattened(CHORD_MM).into_iter().map(|p| view.flat(out(p))).collect())
                .collect();
            faces.push(Face { outlines, near: view.eye.dot(out(region.centroid())) });
        }
    }
    for s in region.segments() {
        let there = Contour { vertices: vec![Vertex { p: s.a, bulge: s.bulge }, Vertex { p: s.b, bulge: 0.0 }] };
        let chords = there.flattened(CHORD_MM);
        for w in chords.windows(2) {
            let side = -(w[1] - w[0]).perp();
            if frame.dir_out(side.extend(0.0)).dot(view.eye) <= EDGE_ON * side.length() {
                continue;
            }
            let corners =
                [(w[0], 0.0), (w[1], 0.0), (w[1], thickness), (w[0], thickness)].map(|(p, z)| frame.out(p.extend(z)));
            let middle = corners.iter().sum::<DVec3>() / 4.0;
            let outline = corners.iter().map(|p| view.flat(*p)).collect();
            faces.push(Face { outlines: vec![outline], near: view.eye.dot(middle) });
        }
    }
    faces
}

/// What is seen of a thing: one outline a frustum, far ones first.
pub fn thing(view: &View, berth: &Berth, origin: DVec3) -> Vec<Face> {
    let pose = berth.pose.moved(origin);
    let mut faces: Vec<Face> = match &berth.solid {
        Solid::Revolution(r) => r
            .profile()
            .windows(2)
            .filter(|w| w[0].0 < w[1].0)
            .map(|w| outline(view, &pose, w.iter().flat_map(|(z, r)| circle(*z, *r))))
            .collect(),
        Solid::Prism(p) => {
            let ends = [0.0, p.height()];
            vec![outline(view, &pose, ends.iter().flat_map(|z| p.section().vertices.iter().map(|v| v.p.extend(*z))))]
        }
    };
    faces.sort_by(|a, b| a.near.total_cmp(&b.near));
    faces
}

fn circle(z: f64, r: f64) -> impl Iterator<Item = DVec3> {
    /// Corners of a drawn circle: even a reel's is within 0.2 mm at full size.
    const CORNERS: u32 = 72;
    (0..CORNERS).map(move |i| {
        let (s, c) = libm::sincos(core::f64::consts::TAU * f64::from(i) / f64::from(CORNERS));
        DVec3::new(r * c, r * s, z)
    })
}

fn outline(view: &View, pose: &Frame, points: impl Iterator<Item = DVec3>) -> Face {
    let all: Vec<DVec3> = points.map(|p| pose.out(p)).collect();
    let flat: Vec<DVec2> = all.iter().map(|p| view.flat(*p)).collect();
    let near = all.iter().map(|p| view.eye.dot(*p)).sum::<f64>() / all.len().max(1) as f64;
    Face { outlines: vec![hull(&flat)], near }
}
