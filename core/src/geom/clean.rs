//! Takes out of an outline what nobody can cut: edges without length, edges there and back, corners that
//! turn nowhere.

use super::{Contour, DVec2, Region, Segment, Vertex};

/// A corner this near to the line or arc through its neighbours is no corner.
const NO_CORNER_MM: f64 = 1e-7;

/// The same region without zero-length edges, doubled edges (there and back), corners on a straight line,
/// and joints between arcs of one circle. Merged arcs stay at most half-circles, which every format and
/// machine takes. A hole with no area left is dropped.
#[must_use]
pub fn clean(region: &Region) -> Region {
    let made = |c: &Contour| clean_contour(c, NO_CORNER_MM);
    let holes = region.holes.iter().map(made).filter(|h| h.vertices.len() > 1).collect();
    Region { outer: made(&region.outer), holes }
}

/// The same for one outline, with corners up to `tol` off their neighbours' line taken out.
pub(crate) fn clean_contour(contour: &Contour, tol: f64) -> Contour {
    let mut edges: Vec<Run> = contour.segments().map(Run::new).collect();
    // each pass only shortens; what one pass joins can make its neighbours joinable
    loop {
        let before = edges.len();
        edges = pass(edges, tol);
        // start elsewhere, so that the seam is looked at too
        if !edges.is_empty() {
            let by = 1.min(edges.len() - 1);
            edges.rotate_left(by);
        }
        if edges.len() == before {
            break;
        }
    }
    edges = pass(edges, tol);
    if edges.len() < 2 {
        return Contour::default();
    }
    Contour { vertices: edges.iter().map(|e| Vertex { p: e.segment.a, bulge: e.segment.bulge }).collect() }
}

/// An edge and the corners it has swallowed, which it must not leave.
struct Run {
    segment: Segment,
    over: Vec<DVec2>,
}

impl Run {
    fn new(segment: Segment) -> Self {
        Self { segment, over: Vec::new() }
    }
}

fn pass(edges: Vec<Run>, tol: f64) -> Vec<Run> {
    let mut out: Vec<Run> = Vec::with_capacity(edges.len());
    for mut edge in edges {
        loop {
            if is_point(&edge.segment, tol) {
                break;
            }
            let Some(last) = out.last_mut() else {
                out.push(edge);
                break;
            };
            // an end that was moved by a dropped edge
            edge.segment.a = last.segment.b;
            match joined(last, &edge, tol) {
                None => {
                    out.push(edge);
                    break;
                }
                Some(run) => {
                    out.pop();
                    edge = run;
                }
            }
        }
    }
    close_seam(&mut out);
    out
}

/// After dropped edges the last end may stand a hair off the first start.
fn close_seam(out: &mut [Run]) {
    let Some(first) = out.first().map(|r| r.segment.a) else { return };
    if let Some(last) = out.last_mut() {
        last.segment.b = first;
    }
}

fn is_point(s: &Segment, tol: f64) -> bool {
    s.chord().length() <= tol.min(NO_CORNER_MM) && s.bulge.abs() <= 1.0
}

/// One edge for two, if that leaves every swallowed corner within `tol`.
fn joined(e: &Run, f: &Run, tol: f64) -> Option<Run> {
    let (s, t) = (&e.segment, &f.segment);
    let (a, b) = (s.a, t.b);
    if there_and_back(s, t, tol) {
        return Some(Run::new(Segment::new(a, b, remainder_bulge(s, t))));
    }
    let bulge = match (s.is_line(), t.is_line()) {
        (true, true) if s.chord().dot(t.chord()) > 0.0 => 0.0,
        (false, false) if s.bulge * t.bulge > 0.0 => libm::tan(libm::atan(s.bulge) + libm::atan(t.bulge)),
        _ => return None,
    };
    // beyond a half-circle (and its rounding) two arcs stay two
    if bulge.abs() > 1.0 + 1e-6 || bulge * (s.bulge + t.bulge) < 0.0 {
        return None;
    }
    let merged = Segment::new(a, b, bulge);
    let mut over: Vec<DVec2> = e.over.iter().chain(&f.over).copied().collect();
    over.push(s.b);
    let fits = |p: &DVec2| merged.distance_to_point(*p) <= tol;
    (over.iter().all(fits) && fits(&s.mid()) && fits(&t.mid())).then_some(Run { segment: merged, over })
}

/// Whether the second edge goes back over the first, wholly or in part.
fn there_and_back(s: &Segment, t: &Segment, tol: f64) -> bool {
    if s.end_dir().dot(t.start_dir()) >= 0.0 {
        return false;
    }
    // the shorter one's free end and middle lie on the longer one
    let (short, free, long) = if s.length() <= t.length() { (s, s.a, t) } else { (t, t.b, s) };
    long.distance_to_point(free) <= tol && long.distance_to_point(short.mid()) <= tol
}

/// Bulge of what remains of the longer edge beyond the shorter one.
fn remainder_bulge(s: &Segment, t: &Segment) -> f64 {
    let left = libm::atan(s.bulge) + libm::atan(t.bulge);
    if s.is_line() || t.is_line() { 0.0 } else { libm::tan(left) }
}
