//! Side view: convex outlines in the plane of y (to the back) and z (up), and how far one must stand
//! behind another.

use crate::geom::{DVec2, DVec3, Frame, hull};
use crate::things::Solid;

/// A convex outline; x of each point is the holder's y, y is its z.
pub type Outline = Vec<DVec2>;

/// The hull of a thing at a pose that leans in this plane only, and of the same thing moved by `way`.
#[must_use]
pub fn of_thing(solid: &Solid, pose: &Frame, way: DVec2) -> Outline {
    let own: Vec<(f64, f64)> = match solid {
        Solid::Revolution(r) => r.profile().iter().flat_map(|(z, r)| [(*r, *z), (-*r, *z)]).collect(),
        Solid::Prism(p) => p.section().vertices.iter().flat_map(|v| [(v.p.y, 0.0), (v.p.y, p.height())]).collect(),
    };
    let seen = own.into_iter().map(|(y, z)| pose.out(DVec3::new(0.0, y, z))).map(|p| DVec2::new(p.y, p.z));
    hull(&seen.flat_map(|p| [p, p + way]).collect::<Vec<_>>())
}

/// Greatest `n · p` of an outline.
#[must_use]
pub fn extent(outline: &[DVec2], n: DVec2) -> f64 {
    outline.iter().map(|p| n.dot(*p)).fold(f64::NEG_INFINITY, f64::max)
}

/// How far `behind` has to be moved to the back so that it stands at least `gap` clear of `front`;
/// negative when it may come nearer. Convex outlines are clear when one of their edges' normals says
/// so; corners that face one another are kept a little farther apart than asked.
#[must_use]
pub fn push_mm(front: &[DVec2], behind: &[DVec2], gap: f64) -> f64 {
    let edges = |o: &[DVec2]| (0..o.len()).map(|i| o[(i + 1) % o.len()] - o[i]).collect::<Vec<_>>();
    edges(front)
        .into_iter()
        .chain(edges(behind))
        .filter_map(DVec2::try_normalize)
        .flat_map(|e| [e.perp(), -e.perp()])
        .filter(|n| n.x > ACROSS)
        .map(|n| (extent(front, n) + gap + extent(behind, -n)) / n.x)
        .fold(f64::INFINITY, f64::min)
}

/// Normals that hardly look to the back push nothing there.
const ACROSS: f64 = 1e-6;

/// Whether two outlines are at least `gap` apart, seen along their edges' normals.
#[must_use]
pub fn clear(a: &[DVec2], b: &[DVec2], gap: f64) -> bool {
    let edges = |o: &[DVec2]| (0..o.len()).map(|i| o[(i + 1) % o.len()] - o[i]).collect::<Vec<_>>();
    edges(a)
        .into_iter()
        .chain(edges(b))
        .filter_map(DVec2::try_normalize)
        .flat_map(|e| [e.perp(), -e.perp()])
        .any(|n| extent(a, n) + gap <= -extent(b, -n) + 1e-9)
}

/// The outline moved to the back.
#[must_use]
pub fn moved(outline: &[DVec2], y: f64) -> Outline {
    outline.iter().map(|p| DVec2::new(p.x + y, p.y)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(at: f64, size: f64) -> Outline {
        [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)].map(|(x, y)| DVec2::new(at + x * size, y * size)).to_vec()
    }

    #[test]
    fn one_square_stands_a_gap_behind_another() {
        let push = push_mm(&square(0.0, 10.0), &square(3.0, 4.0), 2.0);
        assert!((push - 9.0).abs() < 1e-12, "{push}");
        assert!(clear(&square(0.0, 10.0), &square(12.0, 4.0), 2.0));
        assert!(!clear(&square(0.0, 10.0), &square(11.9, 4.0), 2.0));
    }
}
