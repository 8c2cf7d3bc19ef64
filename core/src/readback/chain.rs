//! Loose lines and arcs, joined end to end into closed contours.

use super::fault::{short, unread};
use super::line::Line;
use crate::finding::Finding;
use crate::geom::{Contour, DVec2, Vertex};
use std::collections::BTreeMap;

/// Ends nearer than this are one point, mm: editors round to a thousandth, and a beam is ten times as wide.
pub(super) const JOIN_MM: f64 = 0.01;

/// All contours of lines that the beam follows through the sheet.
///
/// # Errors
/// A contour that does not close: where its ends are, and how far apart.
pub fn closed(file: &str, lines: &[&Line]) -> Result<Vec<Contour>, Finding> {
    let mut done: Vec<Contour> = vec![];
    let mut open: Vec<&Line> = vec![];
    for line in lines.iter().filter(|l| l.vertices.len() > 1) {
        if line.closed { done.push(tidy(&line.vertices)) } else { open.push(line) }
    }
    let mut ends = Ends::of(&open);
    let mut used = vec![false; open.len()];
    for first in 0..open.len() {
        if used[first] {
            continue;
        }
        used[first] = true;
        ends.take(&open, first);
        let mut chain = open[first].vertices.clone();
        loop {
            let (head, tail) = (chain[0].p, chain[chain.len() - 1].p);
            match ends.nearest(&open, tail) {
                _ if chain.len() > 2 && head.distance(tail) <= JOIN_MM => break,
                Some((next, at_start)) => {
                    used[next] = true;
                    ends.take(&open, next);
                    chain.pop();
                    let more = if at_start { open[next].vertices.clone() } else { backward(&open[next].vertices) };
                    chain.extend(more);
                }
                None => return Err(gap(file, &open[first].layer, head, tail)),
            }
        }
        chain.pop();
        done.push(tidy(&chain));
    }
    Ok(done.into_iter().filter(|c| c.vertices.len() > 1).collect())
}

/// The same open line walked the other way.
fn backward(vertices: &[Vertex]) -> Vec<Vertex> {
    let n = vertices.len();
    (0..n).rev().map(|i| Vertex { p: vertices[i].p, bulge: if i > 0 { -vertices[i - 1].bulge } else { 0.0 } }).collect()
}

/// Without corners that stand where the next one does.
fn tidy(vertices: &[Vertex]) -> Contour {
    let mut kept: Vec<Vertex> = Vec::with_capacity(vertices.len());
    for v in vertices {
        match kept.last_mut() {
            Some(last) if last.p.distance(v.p) < SAME_MM => last.bulge = v.bulge,
            _ => kept.push(*v),
        }
    }
    while kept.len() > 1 && kept[0].p.distance(kept[kept.len() - 1].p) < SAME_MM {
        kept.pop();
    }
    Contour { vertices: kept }
}

/// Corners nearer than this are one, mm: below what any file prints.
const SAME_MM: f64 = 1e-5;

fn gap(file: &str, layer: &str, head: DVec2, tail: DVec2) -> Finding {
    let apart = head.distance(tail);
    let why = format!(
        "A contour of {file} on layer \"{}\" is open: from x {:.3} y {:.3} to x {:.3} y {:.3} {apart:.3} mm are missing.",
        short(layer),
        tail.x,
        tail.y,
        head.x,
        head.y
    );
    unread(file, format!("an open contour, {apart:.3} mm apart"), "closed contours", why)
}

/// The free ends of open lines, by place.
struct Ends {
    cells: BTreeMap<(i64, i64), Vec<(usize, bool)>>,
}

fn cell(p: DVec2) -> (i64, i64) {
    // places are within 1e5 mm: no overflow
    ((p.x / JOIN_MM).floor() as i64, (p.y / JOIN_MM).floor() as i64)
}

/// Where a line starts (true) or ends.
fn end_of(line: &Line, at_start: bool) -> DVec2 {
    let v = if at_start { line.vertices.first() } else { line.vertices.last() };
    v.map_or(DVec2::ZERO, |v| v.p)
}

impl Ends {
    fn of(lines: &[&Line]) -> Self {
        let mut cells: BTreeMap<(i64, i64), Vec<(usize, bool)>> = BTreeMap::new();
        for (i, line) in lines.iter().enumerate() {
            for at_start in [true, false] {
                cells.entry(cell(end_of(line, at_start))).or_default().push((i, at_start));
            }
        }
        Self { cells }
    }

    fn take(&mut self, lines: &[&Line], i: usize) {
        for at_start in [true, false] {
            if let Some(list) = self.cells.get_mut(&cell(end_of(lines[i], at_start))) {
                list.retain(|e| e.0 != i);
            }
        }
    }

    fn nearest(&self, lines: &[&Line], p: DVec2) -> Option<(usize, bool)> {
        let (x, y) = cell(p);
        let around = (-1..=1).flat_map(|i| (-1..=1).map(move |j| (x + i, y + j)));
        around
            .filter_map(|c| self.cells.get(&c))
            .flatten()
            .map(|e| (end_of(lines[e.0], e.1).distance(p), *e))
            .filter(|(d, _)| *d <= JOIN_MM)
            .min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)))
            .map(|(_, e)| e)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(points: &[(f64, f64)]) -> Line {
        let vertices = points.iter().map(|&(x, y)| Vertex { p: DVec2::new(x, y), bulge: 0.0 }).collect();
        Line { layer: "0".into(), vertices, closed: false }
    }

    #[test]
    fn lines_in_any_order_and_sense_close() {
        let lines = [
            line(&[(10.0, 0.0), (10.0, 5.0)]),
            line(&[(0.0, 0.0), (10.002, 0.0)]),
            line(&[(0.0, 5.0), (0.0, 0.0)]),
            line(&[(0.0, 5.0), (4.0, 5.0), (10.0, 5.0)]),
        ];
        let all = closed("x", &lines.iter().collect::<Vec<_>>()).unwrap();
        assert_eq!(all.len(), 1);
        assert!((all[0].area().abs() - 50.0).abs() < 0.01);
    }

    #[test]
    fn a_gap_is_named_with_its_width() {
        let lines = [line(&[(0.0, 0.0), (10.0, 0.0), (10.0, 5.0), (0.0, 0.5)])];
        let f = closed("parts/A1.dxf", &lines.iter().collect::<Vec<_>>()).unwrap_err();
        assert_eq!(f.place, "parts/A1.dxf");
        assert!(f.why.contains("0.500 mm are missing"), "{}", f.why);
    }
}
