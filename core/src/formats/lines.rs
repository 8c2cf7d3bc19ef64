//! The lines of a cut file: which operation each belongs to, in the order in which they are cut.

use super::numbers::{fine, mm};
use crate::geom::{Contour, DVec2, Vertex};
use crate::made::{Made, Part, Placed, Sheet, laid};
use crate::route::{Role, RouteContour};

/// What the beam does along a line; named by what it is. Machines map these to their own settings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Operation {
    /// Single lines burnt into the face.
    Mark,
    /// Inner contours, cut through.
    Openings,
    /// Outer contours, cut through.
    Edges,
}

impl Operation {
    /// All operations, in the order in which a part goes through them.
    pub const ALL: [Self; 3] = [Self::Mark, Self::Openings, Self::Edges];

    /// Name of its layer or group.
    pub fn name(self) -> &'static str {
        match self {
            Self::Mark => "mark",
            Self::Openings => "openings",
            Self::Edges => "edges",
        }
    }
}

/// One line to be followed. Numbers are rounded as they are printed.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Its operation.
    pub operation: Operation,
    /// Corners; a bulge belongs to the edge that starts there.
    pub vertices: Vec<Vertex>,
    /// Whether the last corner's edge leads back to the first.
    pub closed: bool,
}

/// Edges shorter than this make a machine stutter and cut nothing (common practice, no source).
const SHORTEST_MM: f64 = 0.001;

/// The lines of a part alone, in its own frame.
pub fn of_part(part: &Part) -> Vec<Line> {
    let home = [Placed { part: 0, turn_rad: 0.0, shift: DVec2::ZERO }];
    in_turn(&laid(std::slice::from_ref(part), &home))
}

/// Contours that lie where they are cut, operation by operation.
pub fn in_turn(contours: &[RouteContour]) -> Vec<Line> {
    let mut lines: Vec<Line> = contours.iter().filter_map(|c| line(c, 0)).collect();
    lines.sort_by_key(|l| l.operation);
    lines
}

/// The lines of a sheet, in the order of its route.
pub fn of_sheet(made: &Made, sheet: &Sheet) -> Vec<Line> {
    let all = laid(&made.parts, &sheet.places);
    sheet.route.order.iter().filter_map(|(i, entry)| line(all.get(*i)?, *entry)).collect()
}

/// A routed contour as it is written, beginning where it is entered; `None` when nothing is left of it.
fn line(c: &RouteContour, entry: usize) -> Option<Line> {
    let operation = match c.role {
        Role::Mark => Operation::Mark,
        Role::Opening => Operation::Openings,
        Role::Edge => Operation::Edges,
    };
    let closed = c.role != Role::Mark;
    let mut vertices = without_short_edges(&c.contour, closed);
    let from = vertices.iter().position(|(i, _)| *i >= entry).unwrap_or(0);
    if closed {
        vertices.rotate_left(from);
    } else if entry > 0 {
        // an open line is entered at either end
        vertices.reverse();
    }
    let vertices: Vec<Vertex> = vertices
        .into_iter()
        .map(|(_, v)| Vertex { p: DVec2::new(mm(v.p.x), mm(v.p.y)), bulge: fine(v.bulge) })
        .collect();
    (vertices.len() >= 2).then_some(Line { operation, vertices, closed })
}

/// The corners that are written, with their places in the contour. Which ones does not depend on
/// where the contour is entered, so a part has the same corners alone and on its sheet.
fn without_short_edges(c: &Contour, closed: bool) -> Vec<(usize, Vertex)> {
    let mut kept: Vec<(usize, Vertex)> = Vec::with_capacity(c.vertices.len());
    for (i, v) in c.vertices.iter().enumerate() {
        match kept.last_mut() {
            // the corner stays where it was, and its edge is the next one's
            Some((_, last)) if last.p.distance(v.p) < SHORTEST_MM => last.bulge = v.bulge,
            _ => kept.push((i, *v)),
        }
    }
    if let (true, [first, .., last]) = (closed, kept.as_slice())
        && first.1.p.distance(last.1.p) < SHORTEST_MM
    {
        kept.pop();
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square() -> Contour {
        Contour::rect(DVec2::ZERO, DVec2::new(10.0, 10.0))
    }

    #[test]
    fn a_line_begins_where_it_is_entered() {
        let c = RouteContour { contour: square(), role: Role::Edge, part: 0 };
        let l = line(&c, 2).unwrap();
        assert_eq!(l.vertices[0].p, DVec2::new(10.0, 10.0));
        assert_eq!((l.vertices.len(), l.closed, l.operation), (4, true, Operation::Edges));
        let m = RouteContour { contour: Contour::polygon(&[DVec2::ZERO, DVec2::X]), role: Role::Mark, part: 0 };
        assert_eq!(line(&m, 1).unwrap().vertices[0].p, DVec2::X);
    }

    #[test]
    fn an_edge_too_short_to_cut_is_not_written() {
        let mut c = square();
        c.vertices.insert(1, Vertex { p: DVec2::new(10.0, -0.0005), bulge: 0.0 });
        c.vertices.push(Vertex { p: DVec2::new(0.0, 0.0004), bulge: 0.0 });
        let c = RouteContour { contour: c, role: Role::Opening, part: 0 };
        assert_eq!(line(&c, 0).unwrap().vertices.len(), 4);
    }
}
