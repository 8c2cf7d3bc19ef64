//! Openings: the shadow of a body of revolution or a prism in a slab, swept along its way out.

use crate::geom::{Contour, DVec2, DVec3, Frame, Region, Slab, fit_closed, hull, unite};

/// A solid about its own z axis, from its base upward.
#[derive(Clone, Copy, Debug)]
pub enum Body<'a> {
    /// Turned: places along the axis with the radius there; equal places are a step.
    Turned(&'a [(f64, f64)]),
    /// Straight: a section in the own xy plane, and the height.
    Straight(&'a Contour, f64),
}

/// Curves that are no arcs are replaced by arcs within this, mm: a tenth of the closest fit (0.1).
pub const ARC_TOLERANCE_MM: f64 = 0.01;

/// Chords that stand for a circle leave it by less than this, mm: a tenth of the arc tolerance.
const CHORD_MM: f64 = 0.001;

/// What `slab` gives up so that the body, standing at `pose`, can be taken out along `way_out` over
/// `travel` mm; in the slab's own plane. A body that never reaches the slab casts no shadow.
#[must_use]
pub fn opening(body: Body, pose: &Frame, slab: &Slab, way_out: DVec3, travel: f64) -> Vec<Region> {
    let own = Frame {
        origin: slab.frame.into_own(pose.origin),
        x: slab.frame.dir_own(pose.x),
        y: slab.frame.dir_own(pose.y),
        z: slab.frame.dir_own(pose.z),
    };
    let out = slab.frame.dir_own(way_out) * travel;
    let pieces: Vec<Contour> = match body {
        Body::Turned(profile) => profile
            .windows(2)
            .filter(|w| w[0].0 < w[1].0)
            .filter_map(|w| turned_piece(&own, w[0], w[1], out, slab.thickness))
            .collect(),
        Body::Straight(section, height) => {
            straight_piece(&own, section, height, out, slab.thickness).into_iter().collect()
        }
    };
    unite(&pieces)
}

/// Cosine beyond which an axis counts as square to the slab: 1 − 1e-12 is a tilt of 1.4e-6 rad, or
/// 0.001 mm over 700.
const SQUARE_COS: f64 = 1.0 - 1e-12;

/// The shadow of one frustum. Its hull with the moved copy is the hull of four parallel circles; the
/// rulings of such a hull join points of equal angle, so cutting those joins all extreme points.
fn turned_piece(own: &Frame, low: (f64, f64), high: (f64, f64), out: DVec3, t: f64) -> Option<Contour> {
    let circles: Vec<(DVec3, f64)> = [low, high]
        .iter()
        .flat_map(|(z, r)| {
            let c = own.origin + own.z * *z;
            [(c, *r), (c + out, *r)]
        })
        .collect();
    let square = own.z.z.abs() > SQUARE_COS;
    let sideways = out.truncate().length() > 1e-9;
    let largest = low.1.max(high.1);
    if square && !sideways && low.1 == high.1 {
        let (zs, ze) =
            circles.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), c| (a.min(c.0.z), b.max(c.0.z)));
        return (ze > 0.0 && zs < t && largest > 0.0).then(|| Contour::circle(own.origin.truncate(), largest));
    }
    let n = (std::f64::consts::PI / libm::acos(1.0 - (CHORD_MM / largest.max(CHORD_MM * 2.0)).min(0.5)))
        .ceil()
        .max(24.0) as usize;
    let grow = 1.0 / libm::cos(std::f64::consts::PI / n as f64);
    let mut points = vec![];
    for k in 0..n {
        let (sin, cos) = libm::sincos(std::f64::consts::TAU * k as f64 / n as f64);
        let spoke = (own.x * cos + own.y * sin) * grow;
        let ring: Vec<DVec3> = circles.iter().map(|(c, r)| *c + spoke * *r).collect();
        cut_by_faces(&ring, t, &mut points);
    }
    for (c, r) in &circles {
        rim_at_faces(own, *c, *r * grow, t, &mut points);
    }
    outlined(&points)
}

fn straight_piece(own: &Frame, section: &Contour, height: f64, out: DVec3, t: f64) -> Option<Contour> {
    let corners: Vec<DVec3> = section
        .flattened(CHORD_MM)
        .iter()
        .flat_map(|p| [p.extend(0.0), p.extend(height)])
        .map(|p| own.out(p))
        .flat_map(|p| [p, p + out])
        .collect();
    let mut points = vec![];
    cut_by_faces(&corners, t, &mut points);
    outlined(&points)
}

/// Adds the points that lie between the faces, and where each join of two points crosses a face.
fn cut_by_faces(ring: &[DVec3], t: f64, points: &mut Vec<DVec2>) {
    points.extend(ring.iter().filter(|p| p.z >= 0.0 && p.z <= t).map(|p| p.truncate()));
    for (i, p) in ring.iter().enumerate() {
        for q in &ring[i + 1..] {
            for level in [0.0, t] {
                if (p.z - level) * (q.z - level) < 0.0 {
                    let share = (level - p.z) / (q.z - p.z);
                    points.push(p.lerp(*q, share).truncate());
                }
            }
        }
    }
}

/// Adds where a circle crosses a face: between two sampled angles it would be missed.
fn rim_at_faces(own: &Frame, c: DVec3, r: f64, t: f64, points: &mut Vec<DVec2>) {
    // height along the rim is c.z + r·a·cos(θ − θ0)
    let a = libm::hypot(own.x.z, own.y.z);
    if a * r < 1e-12 {
        return;
    }
    let zero = libm::atan2(own.y.z, own.x.z);
    for level in [0.0, t] {
        let cos = (level - c.z) / (a * r);
        if cos.abs() <= 1.0 {
            for sign in [1.0, -1.0] {
                let (s, k) = libm::sincos(zero + sign * libm::acos(cos));
                points.push((c + (own.x * k + own.y * s) * r).truncate());
            }
        }
    }
}

fn outlined(points: &[DVec2]) -> Option<Contour> {
    let around = hull(points);
    (around.len() >= 3).then(|| fit_closed(&around, ARC_TOLERANCE_MM))
}
