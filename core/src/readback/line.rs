//! One drawn line of a cut file, as it was read: in millimetres, y up.

use super::limits::FARTHEST_MM;
use crate::geom::{DVec2, Segment, Vertex};

/// A line with its layer (DXF) or group (SVG).
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Name of the layer, or of the group next to the root that holds it.
    pub layer: String,
    /// Corners; a bulge belongs to the edge that starts there.
    pub vertices: Vec<Vertex>,
    /// Whether the last corner's edge leads back to the first.
    pub closed: bool,
}

impl Line {
    /// An open line along segments that follow one another.
    pub(super) fn along(layer: &str, segments: &[Segment]) -> Self {
        let mut vertices: Vec<Vertex> = segments.iter().map(|s| Vertex { p: s.a, bulge: s.bulge }).collect();
        vertices.extend(segments.last().map(|s| Vertex { p: s.b, bulge: 0.0 }));
        Self { layer: layer.to_owned(), vertices, closed: false }
    }

    /// Whether every number is finite and within reason.
    pub(super) fn is_sound(&self) -> bool {
        self.vertices.iter().all(|v| {
            v.p.abs().cmple(DVec2::splat(FARTHEST_MM)).all() && v.bulge.is_finite() && v.bulge.abs() <= STEEPEST_BULGE
        })
    }

    /// Its edges.
    pub fn segments(&self) -> impl Iterator<Item = Segment> + '_ {
        let n = self.vertices.len();
        let edges = if self.closed { n } else { n.saturating_sub(1) };
        (0..edges).map(move |i| {
            let (v, w) = (self.vertices[i], self.vertices[(i + 1) % n]);
            Segment::new(v.p, w.p, v.bulge)
        })
    }
}

/// An arc of more than 359.9° between two corners (tan of a quarter of it) is no arc of a part.
const STEEPEST_BULGE: f64 = 2_000.0;

/// The arc from `a` to `b` about a centre, counter-clockwise or not, as a bulge: tan of a quarter of the sweep.
pub(super) fn bulge_of(sweep_rad: f64) -> f64 {
    libm::tan(sweep_rad / 4.0)
}

/// An arc as segments of at most half a circle each.
pub(super) fn arc(center: DVec2, radius: f64, from_rad: f64, sweep_rad: f64) -> Vec<Segment> {
    let n = libm::ceil(sweep_rad.abs() / core::f64::consts::PI - 1e-9).max(1.0) as usize;
    let step = sweep_rad / n.min(4) as f64;
    let at = |k: usize| {
        let angle = from_rad + step * k as f64;
        center + DVec2::new(libm::cos(angle), libm::sin(angle)) * radius
    };
    (0..n.min(4)).map(|k| Segment::new(at(k), at(k + 1), bulge_of(step))).collect()
}
