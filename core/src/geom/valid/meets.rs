//! Where edges cross, touch, or run along each other.

use super::{Fault, FaultKind, SAME_POINT_MM};
use crate::geom::meet::carrier_points;
use crate::geom::pairs::near_pairs;
use crate::geom::{Contour, DVec2, Segment};
use std::collections::BTreeSet;

/// What was found between rings.
#[derive(Default)]
pub(super) struct Joins {
    /// Rings that cross or run along each other, the lower first.
    pub crossed: BTreeSet<(usize, usize)>,
    /// Rings that touch: the lower, the higher, the higher one's edge, the point.
    pub touches: Vec<(usize, usize, usize, DVec2)>,
}

/// A ring without its edges of no length, and which corners of the ring as given are left.
struct Ring {
    contour: Contour,
    corners: Vec<usize>,
}

impl Ring {
    fn of(c: &Contour) -> Self {
        let long: Vec<bool> = c.segments().map(|s| s.chord().length() > SAME_POINT_MM).collect();
        let corners: Vec<usize> = (0..long.len()).filter(|&i| long[i]).collect();
        Self { contour: Contour { vertices: corners.iter().map(|&i| c.vertices[i]).collect() }, corners }
    }
    fn edge(&self, i: usize) -> Segment {
        let vertices = &self.contour.vertices;
        let (v, w) = (vertices[i % vertices.len()], vertices[(i + 1) % vertices.len()]);
        Segment::new(v.p, w.p, v.bulge)
    }
}

/// An edge with its ring and place there.
struct Edge<'a> {
    number: usize,
    ring: &'a Ring,
    at: usize,
    s: Segment,
}

impl Edge<'_> {
    /// The corner, of the ring as given, that the edge starts from.
    fn index(&self) -> usize {
        self.ring.corners[self.at]
    }
    fn leads_to(&self, other: &Edge<'_>) -> bool {
        self.number == other.number && (self.at + 1) % self.ring.corners.len() == other.at
    }
}

/// ISO 19125-1, 6.1.11.1 c: no two rings cross, and they may touch at points only; d: no cut lines or spikes, that
/// is doubled edges; 6.1.6.1: each ring is simple.
pub(super) fn meets(rings: &[&Contour], sound: &[usize], found: &mut Vec<Fault>) -> Joins {
    let compact: Vec<(usize, Ring)> = sound.iter().map(|&k| (k, Ring::of(rings[k]))).collect();
    let edges: Vec<Edge> = compact
        .iter()
        .flat_map(|(k, ring)| (0..ring.corners.len()).map(move |at| Edge { number: *k, ring, at, s: ring.edge(at) }))
        .collect();
    let boxes: Vec<_> = edges.iter().map(|e| e.s.bounds()).collect();
    let mut pairs = Vec::new();
    near_pairs(&boxes, SAME_POINT_MM, |i, j| pairs.push((i.min(j), i.max(j))));
    pairs.sort_unstable();
    let mut joins = Joins::default();
    for (i, j) in pairs {
        let (e, f) = (&edges[i], &edges[j]);
        let rings = (e.number, f.number);
        let mut fault = |kind, at| found.push(Fault { kind, contour: f.number, index: f.index(), at });
        match meeting(e, f) {
            Meeting::Apart => {}
            Meeting::Along(at) => {
                joins.crossed.insert(rings);
                fault(FaultKind::DoubledEdge, at);
            }
            Meeting::Crossing(at) => {
                joins.crossed.insert(rings);
                fault(kind_of(rings.0, rings.1), at);
            }
            Meeting::Touching(at) if rings.0 == rings.1 => fault(FaultKind::SelfTouches, at),
            Meeting::Touching(at) => joins.touch(rings, f.index(), at),
        }
    }
    joins.touches.retain(|t| !joins.crossed.contains(&(t.0, t.1)));
    joins
}

impl Joins {
    /// Corner to corner, up to four pairs of edges find the same point.
    fn touch(&mut self, (a, b): (usize, usize), index: usize, at: DVec2) {
        if !self.touches.iter().any(|t| (t.0, t.1) == (a, b) && t.3.distance(at) < ONE_TOUCH_MM) {
            self.touches.push((a, b, index, at));
        }
    }
}

/// Touches nearer than this are one: a circle keeps so near to its tangent (within [`SAME_POINT_MM`]) for as long.
const ONE_TOUCH_MM: f64 = 1e-3;

fn kind_of(a: usize, b: usize) -> FaultKind {
    match (a, b) {
        (a, b) if a == b => FaultKind::SelfCrosses,
        (0, _) => FaultKind::HoleCrossesOuter,
        _ => FaultKind::HolesOverlap,
    }
}

enum Meeting {
    Apart,
    Touching(DVec2),
    Crossing(DVec2),
    Along(DVec2),
}

/// How two edges meet, their common corner left out if they are neighbours.
fn meeting(e: &Edge, f: &Edge) -> Meeting {
    let on_both = |p: DVec2| [&e.s, &f.s].iter().all(|s| s.distance_to_point(p) <= SAME_POINT_MM);
    let mut points: Vec<DVec2> = Vec::new();
    let carriers = carrier_points(&e.s, &f.s, SAME_POINT_MM).into_iter().flatten();
    for p in [e.s.a, e.s.b, f.s.a, f.s.b].into_iter().chain(carriers).filter(|&p| on_both(p)) {
        let along = |q: &DVec2| on_both(e.s.at((e.s.fraction(p) + e.s.fraction(*q)) / 2.0));
        match points.iter().find(|q| q.distance(p) > glance(&e.s, &f.s, p) && along(q)) {
            Some(q) => return Meeting::Along((p + *q) / 2.0),
            // a second point of one glancing touch says nothing new
            None if points.iter().any(|q| q.distance(p) <= 10.0 * SAME_POINT_MM || along(q)) => {}
            None => points.push(p),
        }
    }
    let shared = |p: DVec2| {
        (e.leads_to(f) && e.s.b.distance(p) <= glance(&e.s, &f.s, p))
            || (f.leads_to(e) && e.s.a.distance(p) <= glance(&e.s, &f.s, p))
    };
    points.retain(|&p| !shared(p));
    match points.iter().find(|&&p| crosses(e, f, p)) {
        Some(&at) => Meeting::Crossing(at),
        None => points.first().map_or(Meeting::Apart, |&at| Meeting::Touching(at)),
    }
}

/// How far apart two points of one touch at `p` may be. Edges that part at an angle: hardly; edges tangent to each
/// other keep within a distance t over 2·√(2t/κ), κ being the difference of their curvatures.
fn glance(s: &Segment, t: &Segment, p: DVec2) -> f64 {
    let dir = |e: &Segment| e.center().map_or(e.start_dir(), |c| (p - c).normalize_or_zero().perp() * e.bulge.signum());
    let curvature = |e: &Segment| if e.is_line() { 0.0 } else { e.bulge.signum() / e.radius() };
    let (d, g) = (dir(s), dir(t));
    let kappa = (curvature(s) - curvature(t) * d.dot(g).signum()).abs();
    // lines or arcs of one circle: any two points apart are a stretch in common
    if d.perp_dot(g).abs() > 1e-2 || kappa < 1e-7 {
        10.0 * SAME_POINT_MM
    } else {
        4.0 * (2.0 * SAME_POINT_MM / kappa).sqrt()
    }
}

/// Whether the boundaries of `e` and `f` change sides at `p`: from just before to just after it, does `f`'s
/// boundary go from one side of `e`'s to the other?
fn crosses(e: &Edge, f: &Edge, p: DVec2) -> bool {
    let [(e_in, e_out), (f_in, f_out)] = [e, f].map(|g| arms(g, p));
    // both ways out of p along e divide the turn; f's ways lie in one part or in both
    let reach = [&e_in, &e_out, &f_in, &f_out].iter().map(|s| s.chord().length()).fold(f64::INFINITY, f64::min) / 2.0;
    let [back, on, f_back, f_on] = [e_in.reversed(), e_out, f_in.reversed(), f_out].map(|s| s.heading(reach));
    let turn = |d: DVec2| {
        let a = libm::atan2(back.perp_dot(d), back.dot(d));
        if a < 0.0 { a + 2.0 * core::f64::consts::PI } else { a }
    };
    let limit = turn(on);
    // a way of f that runs along one of e's is neither side: that pair of edges is found doubled
    let along = |d: DVec2| [back, on].iter().any(|&b| b.distance(d) < SAME_WAY);
    if along(f_back) || along(f_on) {
        return false;
    }
    (turn(f_back) < limit) != (turn(f_on) < limit)
}

/// Unit directions this near are one: a length of a hundred millimetres then parts by ten times [`SAME_POINT_MM`].
const SAME_WAY: f64 = 1e-9;

/// The pieces of boundary that lead to `p` and on from it.
fn arms(g: &Edge, p: DVec2) -> (Segment, Segment) {
    let n = g.ring.corners.len();
    if g.s.a.distance(p) <= 10.0 * SAME_POINT_MM {
        return (g.ring.edge(g.at + n - 1), g.s);
    }
    if g.s.b.distance(p) <= 10.0 * SAME_POINT_MM {
        return (g.s, g.ring.edge(g.at + 1));
    }
    let at = g.s.fraction(p);
    let quarter = libm::atan(g.s.bulge);
    let (to, from) = (libm::tan(quarter * at), libm::tan(quarter * (1.0 - at)));
    (Segment::new(g.s.a, p, to), Segment::new(p, g.s.b, from))
}
