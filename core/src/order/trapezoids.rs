//! Straight-edged rings cut into convex pieces: trapezoids with two parallel sides.

use crate::geom::DVec2;

/// Strips narrower than this hold nothing, mm: rounding of corners that were meant to be in line.
const NARROW_MM: f64 = 1e-6;

/// One edge that is not square to the way of the sweep, from left to right.
#[derive(Clone, Copy)]
struct Edge {
    a: DVec2,
    b: DVec2,
}

impl Edge {
    /// Its height at `x`, never beyond its ends.
    fn at(&self, x: f64) -> f64 {
        let share = ((x - self.a.x) / (self.b.x - self.a.x)).clamp(0.0, 1.0);
        self.a.y + (self.b.y - self.a.y) * share
    }
}

/// A trapezoid that is still growing to the right.
struct Open {
    lower: usize,
    upper: usize,
    from: f64,
}

/// Convex pieces whose union is what the rings enclose (even-odd), three or four corners each,
/// counter-clockwise. Swept along the axis with fewer different places, so that a plate with many
/// teeth on two sides does not fall into needless pieces.
pub fn trapezoids(rings: &[Vec<DVec2>]) -> Vec<Vec<DVec2>> {
    let turned: Vec<Vec<DVec2>> = rings.iter().map(|r| r.iter().map(|p| DVec2::new(p.y, p.x)).collect()).collect();
    if places(&turned).len() >= places(rings).len() {
        return swept(rings);
    }
    let mut pieces = swept(&turned);
    for piece in &mut pieces {
        for p in piece.iter_mut() {
            *p = DVec2::new(p.y, p.x);
        }
        piece.reverse();
    }
    pieces
}

/// Every place along x at which a corner stands.
fn places(rings: &[Vec<DVec2>]) -> Vec<f64> {
    let mut xs: Vec<f64> = rings.iter().flatten().map(|p| p.x).collect();
    xs.sort_by(f64::total_cmp);
    xs.dedup_by(|a, b| (*a - *b).abs() < NARROW_MM);
    xs
}

fn swept(rings: &[Vec<DVec2>]) -> Vec<Vec<DVec2>> {
    let edges = edges(rings);
    let xs = places(rings);
    let (mut pieces, mut active, mut next, mut open) = (vec![], Vec::<usize>::new(), 0, Vec::<Open>::new());
    for w in xs.windows(2) {
        let mid = (w[0] + w[1]) / 2.0;
        while next < edges.len() && edges[next].a.x <= mid {
            active.push(next);
            next += 1;
        }
        active.retain(|e| edges[*e].b.x > mid);
        active.sort_by(|p, q| edges[*p].at(mid).total_cmp(&edges[*q].at(mid)).then(p.cmp(q)));
        let pairs: Vec<(usize, usize)> = active.chunks_exact(2).map(|c| (c[0], c[1])).collect();
        let mut kept = vec![];
        for o in open.drain(..) {
            if pairs.contains(&(o.lower, o.upper)) {
                kept.push(o);
            } else {
                close(&edges, &o, w[0], &mut pieces);
            }
        }
        for (lower, upper) in pairs {
            if !kept.iter().any(|o| (o.lower, o.upper) == (lower, upper)) {
                kept.push(Open { lower, upper, from: w[0] });
            }
        }
        open = kept;
    }
    if let Some(last) = xs.last() {
        for o in &open {
            close(&edges, o, *last, &mut pieces);
        }
    }
    pieces
}

/// All edges that are not square to x, by their left end.
fn edges(rings: &[Vec<DVec2>]) -> Vec<Edge> {
    let mut edges = vec![];
    for ring in rings {
        for (i, p) in ring.iter().enumerate() {
            let q = ring[(i + 1) % ring.len()];
            if (p.x - q.x).abs() > NARROW_MM / 2.0 {
                edges.push(if p.x < q.x { Edge { a: *p, b: q } } else { Edge { a: q, b: *p } });
            }
        }
    }
    edges.sort_by(|e, f| e.a.x.total_cmp(&f.a.x).then(e.a.y.total_cmp(&f.a.y)));
    edges
}

fn close(edges: &[Edge], o: &Open, to: f64, pieces: &mut Vec<Vec<DVec2>>) {
    let corner = |e: usize, x: f64| DVec2::new(x, edges[e].at(x));
    let mut piece = vec![corner(o.lower, o.from), corner(o.lower, to), corner(o.upper, to), corner(o.upper, o.from)];
    piece.dedup_by(|p, q| p.distance(*q) < NARROW_MM);
    if piece.len() > 1 && piece[0].distance(piece[piece.len() - 1]) < NARROW_MM {
        piece.pop();
    }
    if piece.len() >= 3 {
        pieces.push(piece);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn area(ring: &[DVec2]) -> f64 {
        (0..ring.len()).map(|i| ring[i].perp_dot(ring[(i + 1) % ring.len()])).sum::<f64>() / 2.0
    }
    fn ring(points: &[(f64, f64)]) -> Vec<DVec2> {
        points.iter().map(|p| DVec2::new(p.0, p.1)).collect()
    }

    #[test]
    fn a_frame_falls_into_four_pieces() {
        let outer = ring(&[(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)]);
        let hole = ring(&[(2.0, 2.0), (2.0, 8.0), (8.0, 8.0), (8.0, 2.0)]);
        let pieces = trapezoids(&[outer, hole]);
        assert_eq!(pieces.len(), 4);
        assert!((pieces.iter().map(|p| area(p)).sum::<f64>() - 64.0).abs() < 1e-9);
        assert!(pieces.iter().all(|p| area(p) > 0.0));
    }

    #[test]
    fn random_stars_keep_their_area_and_every_piece_is_convex() {
        let mut seed = 11_u64;
        let mut next = || {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (seed >> 33) as f64 / f64::from(u32::MAX >> 1)
        };
        for _ in 0..200 {
            let n = 5 + (next() * 20.0) as usize;
            let star: Vec<DVec2> = (0..n)
                .map(|k| {
                    let (s, c) = libm::sincos(std::f64::consts::TAU * k as f64 / n as f64);
                    DVec2::new(c, s) * (5.0 + 20.0 * next())
                })
                .collect();
            let want = area(&star);
            let pieces = trapezoids(&[star]);
            let have: f64 = pieces.iter().map(|p| area(p)).sum();
            assert!((have - want).abs() < 1e-6 * want, "{have} {want}");
            for p in &pieces {
                for i in 0..p.len() {
                    let (a, b, c) = (p[i], p[(i + 1) % p.len()], p[(i + 2) % p.len()]);
                    assert!((b - a).perp_dot(c - b) > -1e-9);
                }
            }
        }
    }
}
