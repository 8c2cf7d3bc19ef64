//! Whether two things stand in one another: both as convex pieces, held apart by a plane or not.

use super::boards::SLIM_MM;
use super::held::Held;
use crate::geom::{DVec3, Frame};
use crate::things::Solid;

/// A convex piece of a thing, a hair smaller than it is.
#[derive(Clone, Debug)]
pub(crate) enum Piece {
    /// Two circles about one axis: centre and radius of each.
    Frustum { axis: DVec3, ends: [(DVec3, f64); 2] },
    /// Corners.
    Hull(Vec<DVec3>),
}

impl Piece {
    /// The pieces of a thing where it stands.
    pub(crate) fn of(held: &Held) -> Vec<Self> {
        let f: &Frame = &held.pose;
        match held.berth.solid.grown(-2.0 * SLIM_MM) {
            Solid::Revolution(r) => {
                let at = |z: f64| f.out(DVec3::new(0.0, 0.0, z));
                r.profile()
                    .windows(2)
                    .filter(|w| w[1].0 - w[0].0 > 3.0 * SLIM_MM)
                    .map(|w| Self::Frustum {
                        axis: f.z,
                        ends: [(at(w[0].0 + SLIM_MM), w[0].1), (at(w[1].0 - SLIM_MM), w[1].1)],
                    })
                    .collect()
            }
            Solid::Prism(p) => {
                let corners = p.section().vertices.iter().map(|v| v.p);
                let ends = [SLIM_MM, p.height() - SLIM_MM];
                vec![Self::Hull(corners.flat_map(|c| ends.map(|z| f.out(c.extend(z)))).collect())]
            }
        }
    }

    /// The farthest point along a direction.
    fn support(&self, d: DVec3) -> DVec3 {
        match self {
            Self::Frustum { axis, ends } => {
                let rim = (d - *axis * d.dot(*axis)).normalize_or_zero();
                let [a, b] = ends.map(|(c, r)| c + rim * r);
                if a.dot(d) >= b.dot(d) { a } else { b }
            }
            Self::Hull(points) => {
                points.iter().copied().max_by(|p, q| p.dot(d).total_cmp(&q.dot(d))).unwrap_or(DVec3::ZERO)
            }
        }
    }
}

/// Rounds after which two pieces count as touching only: smooth ones come nearer by a share each round.
const MOST_ROUNDS: usize = 64;
/// Nearer to zero than this the difference of two pieces holds it, mm.
const ZERO_MM: f64 = 1e-7;

/// Whether two pieces share room when `a` sweeps along `way` (zero: stands still). The distance of
/// their difference to zero, by Gilbert, Johnson and Keerthi's algorithm (IEEE Journal of Robotics and
/// Automation 4 (1988) 193; from memory); a plane between them ends it.
pub(crate) fn share_room(a: &Piece, b: &Piece, way: DVec3) -> bool {
    let support = |d: DVec3| {
        let moved = if d.dot(way) > 0.0 { way } else { DVec3::ZERO };
        a.support(d) + moved - b.support(-d)
    };
    let mut simplex = vec![support(DVec3::X)];
    let mut v = simplex[0];
    for _ in 0..MOST_ROUNDS {
        if v.length() < ZERO_MM {
            return true;
        }
        let w = support(-v);
        if w.dot(v) > 0.0 {
            return false;
        }
        simplex.push(w);
        v = nearest(&mut simplex);
    }
    false
}

/// The point of a simplex (1 to 4 points) nearest to zero; corners that do not bear it are dropped.
fn nearest(simplex: &mut Vec<DVec3>) -> DVec3 {
    let n = simplex.len();
    let mut best: Option<(f64, DVec3, Vec<DVec3>)> = None;
    for mask in 1_u32..(1 << n) {
        let part: Vec<DVec3> = (0..n).filter(|i| mask & (1 << i) != 0).map(|i| simplex[i]).collect();
        let Some(p) = foot(&part) else { continue };
        let d = p.length_squared();
        if best.as_ref().is_none_or(|b| d < b.0 - 1e-18) {
            best = Some((d, p, part));
        }
    }
    match best {
        Some((_, p, part)) => {
            *simplex = part;
            p
        }
        None => simplex[0],
    }
}

/// The foot of zero on the flat through some points, when it lies between them.
fn foot(part: &[DVec3]) -> Option<DVec3> {
    match part {
        [a] => Some(*a),
        [a, b] => {
            let d = *b - *a;
            let t = -a.dot(d) / d.length_squared();
            (t > 0.0 && t < 1.0).then(|| *a + d * t)
        }
        [a, b, c] => {
            let n = (*b - *a).cross(*c - *a);
            let area = n.length_squared();
            if area <= 0.0 {
                return None;
            }
            let p = n * (a.dot(n) / area);
            let inside = |u: &DVec3, v: &DVec3| (*v - *u).cross(p - *u).dot(n) >= 0.0;
            (inside(a, b) && inside(b, c) && inside(c, a)).then_some(p)
        }
        [a, b, c, d] => {
            let behind = |p: &DVec3, q: &DVec3, r: &DVec3, s: &DVec3| {
                let n = (*q - *p).cross(*r - *p);
                n.dot(-*p) * n.dot(*s - *p) >= 0.0
            };
            let flat = (*b - *a).cross(*c - *a).dot(*d - *a).abs() < 1e-12;
            let holds = !flat && behind(a, b, c, d) && behind(a, b, d, c) && behind(a, c, d, b) && behind(b, c, d, a);
            holds.then_some(DVec3::ZERO)
        }
        _ => None,
    }
}

/// Whether two things share room when the first sweeps along `way`.
pub(crate) fn collide(a: &[Piece], b: &[Piece], way: DVec3) -> bool {
    a.iter().any(|p| b.iter().any(|q| share_room(p, q, way)))
}

/// How far the second thing would have to be moved along `away` (a unit vector) to be clear of the
/// first, mm, up to `most`.
pub(crate) fn depth_mm(a: &[Piece], b: &[Piece], away: DVec3, most: f64) -> f64 {
    let (mut lo, mut hi) = (0.0, most);
    // 1e-3 of the way is as much as anybody can measure
    for _ in 0..14 {
        let mid = (lo + hi) / 2.0;
        let moved: Vec<Piece> = b.iter().map(|p| p.moved(away * mid)).collect();
        if collide(a, &moved, DVec3::ZERO) { lo = mid } else { hi = mid }
    }
    hi
}

impl Piece {
    /// The same somewhere else.
    pub(crate) fn moved(&self, by: DVec3) -> Self {
        match self {
            Self::Frustum { axis, ends } => Self::Frustum { axis: *axis, ends: ends.map(|(c, r)| (c + by, r)) },
            Self::Hull(points) => Self::Hull(points.iter().map(|p| *p + by).collect()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drum(at: DVec3, axis: DVec3, r: f64, h: f64) -> Piece {
        Piece::Frustum { axis, ends: [(at, r), (at + axis * h, r)] }
    }

    #[test]
    fn cylinders_side_by_side_and_crossed() {
        let a = drum(DVec3::ZERO, DVec3::Z, 20.0, 100.0);
        for gap in [0.001, 0.1, 5.0] {
            let angle = 0.3_f64;
            let at = DVec3::new(libm::cos(angle), libm::sin(angle), 0.0) * (40.0 + gap);
            assert!(!share_room(&a, &drum(at, DVec3::Z, 20.0, 100.0), DVec3::ZERO), "{gap}");
            let at = DVec3::new(libm::cos(angle), libm::sin(angle), 0.0) * (40.0 - gap);
            assert!(share_room(&a, &drum(at, DVec3::Z, 20.0, 100.0), DVec3::ZERO), "{gap}");
        }
        // crossed at right angles their axes must be 20 + 15 apart
        let crossed = |off: f64| drum(DVec3::new(off, -50.0, 50.0), DVec3::Y, 15.0, 100.0);
        assert!(share_room(&a, &crossed(34.99), DVec3::ZERO));
        assert!(!share_room(&a, &crossed(35.01), DVec3::ZERO));
        // end to end
        assert!(!share_room(&a, &drum(DVec3::Z * 100.001, DVec3::Z, 20.0, 10.0), DVec3::ZERO));
        // and swept into one that stands aside
        let aside = drum(DVec3::new(0.0, 80.0, 0.0), DVec3::Z, 20.0, 100.0);
        assert!(!share_room(&a, &aside, DVec3::Y * 39.9));
        assert!(share_room(&a, &aside, DVec3::Y * 40.1));
    }

    #[test]
    fn boxes_against_samples() {
        let corners = |lo: DVec3, hi: DVec3| {
            let pick = |b: bool, l: f64, h: f64| if b { h } else { l };
            let all = (0..8).map(|i| {
                DVec3::new(pick(i & 1 > 0, lo.x, hi.x), pick(i & 2 > 0, lo.y, hi.y), pick(i & 4 > 0, lo.z, hi.z))
            });
            Piece::Hull(all.collect())
        };
        let a = corners(DVec3::ZERO, DVec3::splat(10.0));
        let mut seed = 7_u64;
        let mut next = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            ((seed >> 33) as f64 / f64::from(u32::MAX >> 1)) * 30.0 - 15.0
        };
        let mut both = [0, 0];
        for _ in 0..500 {
            let lo = DVec3::new(next(), next(), next());
            let hi = lo + DVec3::new(6.0, 9.0, 12.0);
            let want = lo.cmplt(DVec3::splat(10.0)).all() && hi.cmpgt(DVec3::ZERO).all();
            assert_eq!(share_room(&a, &corners(lo, hi), DVec3::ZERO), want, "{lo} {hi}");
            both[usize::from(want)] += 1;
        }
        assert!(both[0] > 50 && both[1] > 50, "{both:?}");
    }
}
