//! Convex prisms in space, and over which stretch of a straight way two of them share room.

use crate::geom::{DVec2, DVec3, Slab};

/// A convex piece of a plate.
#[derive(Clone, Debug)]
pub struct Prism {
    /// Corners of the lower face.
    corners: Vec<DVec3>,
    /// From the lower face to the upper one.
    through: DVec3,
    /// Directions of its edges, its own thickness last.
    edges: Vec<DVec3>,
    /// Normals of its faces, its own plane's last.
    faces: Vec<DVec3>,
    /// Box around it.
    pub lo: DVec3,
    /// Box around it.
    pub hi: DVec3,
}

/// Two directions whose cross product is shorter than this (as unit vectors) give no plane of their own.
const ALONG_SIN: f64 = 1e-9;
/// Stretches shorter than this are rounding, mm.
const NOISE_MM: f64 = 1e-9;
/// Across a plane to which the way is parallel within this, nothing comes nearer.
const LEVEL_COS: f64 = 1e-12;

impl Prism {
    /// The prism over a convex outline in a slab's own plane, between two heights of it.
    pub fn over(slab: &Slab, outline: &[DVec2], from: f64, to: f64) -> Self {
        let f = &slab.frame;
        let corners: Vec<DVec3> = outline.iter().map(|p| f.out(p.extend(from))).collect();
        let through = f.z * (to - from);
        let mut edges: Vec<DVec3> = vec![];
        for (i, p) in corners.iter().enumerate() {
            let d = (corners[(i + 1) % corners.len()] - *p).normalize_or_zero();
            let known = edges.iter().any(|e| e.cross(d).length_squared() < ALONG_SIN * ALONG_SIN);
            if d != DVec3::ZERO && !known {
                edges.push(d);
            }
        }
        let mut faces: Vec<DVec3> = edges.iter().map(|e| e.cross(f.z)).collect();
        edges.push(f.z);
        faces.push(f.z);
        let all = corners.iter().flat_map(|c| [*c, *c + through]);
        let (lo, hi) = all.fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(l, h), p| (l.min(p), h.max(p)));
        Self { corners, through, edges, faces, lo, hi }
    }

    /// From and to along a direction.
    pub fn extent(&self, along: DVec3) -> (f64, f64) {
        let flat = self.corners.iter().map(|c| along.dot(*c));
        let (lo, hi) = flat.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
        let rise = along.dot(self.through);
        (lo + rise.min(0.0), hi + rise.max(0.0))
    }
}

/// From and to of the distances along `way` (a unit vector) at which `a`, moved by them, shares room with
/// `b`; `None` when it never does. Two convex solids are apart when a plane parallel to a face of either,
/// or to an edge of each, parts them (the separating axis theorem; Gottschalk, Lin and Manocha, SIGGRAPH
/// 1996, from memory). Each such plane is passed over one stretch of the way: what all stretches share is
/// the answer, exactly.
pub fn shared_stretch(a: &Prism, b: &Prism, way: DVec3) -> Option<(f64, f64)> {
    let mut stretch = box_stretch((a.lo, a.hi), (b.lo, b.hi), way)?;
    for n in a.faces.iter().chain(&b.faces) {
        stretch = narrowed(stretch, a, b, *n, way)?;
    }
    for d in &a.edges {
        for e in &b.edges {
            let n = d.cross(*e);
            if n.length_squared() > ALONG_SIN {
                stretch = narrowed(stretch, a, b, n.normalize_or_zero(), way)?;
            }
        }
    }
    Some(stretch)
}

fn narrowed(stretch: (f64, f64), a: &Prism, b: &Prism, n: DVec3, way: DVec3) -> Option<(f64, f64)> {
    meet(stretch, a.extent(n), b.extent(n), n.dot(way))
}

/// The same for two boxes along the axes of space.
pub fn box_stretch(a: (DVec3, DVec3), b: (DVec3, DVec3), way: DVec3) -> Option<(f64, f64)> {
    let mut stretch = (f64::NEG_INFINITY, f64::INFINITY);
    for k in 0..3 {
        stretch = meet(stretch, (a.0[k], a.1[k]), (b.0[k], b.1[k]), way[k])?;
    }
    Some(stretch)
}

/// The part of a stretch in which two ranges overlap, the first moving at `speed`.
fn meet(stretch: (f64, f64), a: (f64, f64), b: (f64, f64), speed: f64) -> Option<(f64, f64)> {
    if speed.abs() < LEVEL_COS {
        return (a.1 > b.0 + NOISE_MM && b.1 > a.0 + NOISE_MM).then_some(stretch);
    }
    let (s, t) = ((b.0 - a.1) / speed, (b.1 - a.0) / speed);
    let both = (stretch.0.max(s.min(t)), stretch.1.min(s.max(t)));
    (both.1 > both.0 + NOISE_MM).then_some(both)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Frame;

    fn block(at: DVec3, size: DVec3) -> Prism {
        let slab = Slab { frame: Frame { origin: at, ..Frame::WORLD }, thickness: size.z };
        let p = |x: f64, y: f64| DVec2::new(x, y);
        Prism::over(&slab, &[p(0.0, 0.0), p(size.x, 0.0), p(size.x, size.y), p(0.0, size.y)], 0.0, size.z)
    }

    #[test]
    fn blocks_meet_over_the_stretch_that_their_sizes_say() {
        let (a, b) = (block(DVec3::ZERO, DVec3::splat(10.0)), block(DVec3::new(30.0, 5.0, 0.0), DVec3::splat(10.0)));
        let (lo, hi) = shared_stretch(&a, &b, DVec3::X).unwrap();
        assert!((lo - 20.0).abs() < 1e-12 && (hi - 40.0).abs() < 1e-12);
        assert!(shared_stretch(&a, &b, DVec3::Y).is_none());
        // at 45° the corners decide: x from 20 to 40 and y from −5 to 15
        let way = DVec3::new(1.0, 1.0, 0.0).normalize();
        assert!(shared_stretch(&a, &b, way).is_none());
        let c = block(DVec3::new(10.0, 5.0, 0.0), DVec3::splat(10.0));
        let (lo, hi) = shared_stretch(&a, &c, way).unwrap();
        assert!((lo - 0.0).abs() < 1e-9 && (hi - 15.0 * 2.0_f64.sqrt()).abs() < 1e-9, "{lo} {hi}");
    }

    #[test]
    fn flush_faces_slide_along_one_another() {
        let (a, b) = (block(DVec3::ZERO, DVec3::splat(10.0)), block(DVec3::new(10.0, 0.0, 0.0), DVec3::splat(10.0)));
        assert!(shared_stretch(&a, &b, DVec3::Y).is_none());
    }

    /// A turned block against sampled shifts judged by the planes of both, for random places and ways.
    #[test]
    fn turned_blocks_against_sampled_shifts() {
        let mut seed = 5_u64;
        let mut next = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) as f64 / f64::from(u32::MAX >> 1) * 2.0 - 1.0
        };
        let outline = [(-4.0, -3.0), (6.0, -3.0), (3.0, 5.0), (-2.0, 5.0)].map(|(x, y)| DVec2::new(x, y));
        let mut tried = [0, 0];
        for _ in 0..60 {
            let mut v = || DVec3::new(next(), next(), next());
            let (z, x, at, way) = (v(), v(), v() * 15.0, v().normalize());
            let Some(frame) = Frame::new(at, z, x) else { continue };
            let slab = Slab { frame, thickness: 3.0 };
            let a = Prism::over(&slab, &outline, 0.0, 3.0);
            let b = Prism::over(&Slab { frame: Frame::WORLD, thickness: 3.0 }, &outline, 0.0, 3.0);
            let found = shared_stretch(&a, &b, way);
            for k in -10..10 {
                let s = f64::from(k) * 2.7;
                let near = found.is_some_and(|(lo, hi)| (s - lo).abs() < 0.05 || (s - hi).abs() < 0.05);
                if near {
                    continue;
                }
                let inside = found.is_some_and(|(lo, hi)| s > lo && s < hi);
                // a fine grid of points of the moved block, asked one by one
                let hit = (0..=12).any(|i| {
                    (0..=12).any(|j| {
                        (0..=4).any(|m| {
                            let p = DVec3::new(
                                -4.0 + 10.0 * f64::from(i) / 12.0,
                                -3.0 + 8.0 * f64::from(j) / 12.0,
                                3.0 * f64::from(m) / 4.0,
                            );
                            let holds = |p: DVec3| {
                                let flat = p.truncate();
                                let turn = |q: DVec2, r: DVec2| (r - q).perp_dot(flat - q) >= 0.0;
                                (0..4).all(|c| turn(outline[c], outline[(c + 1) % 4])) && (0.0..=3.0).contains(&p.z)
                            };
                            holds(p) && holds(slab.frame.out(p) + way * s)
                        })
                    })
                });
                if hit {
                    assert!(inside, "a shared point at {s} outside {found:?}");
                }
                tried[usize::from(hit)] += 1;
            }
        }
        assert!(tried[1] > 30, "{tried:?}");
    }
}
