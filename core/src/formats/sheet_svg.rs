//! SVG of a sheet: true millimetres, one group an operation, arcs as arcs.

use super::lines::{Line, Operation};
use super::numbers::mm;
use crate::geom::{DVec2, Segment};
use std::fmt::Write as _;
use svg::Document;
use svg::node::Text;
use svg::node::element::{Description, Group, Path, Title};

/// Width of a drawn line, mm: as good as none for a machine, still seen on a screen.
const STROKE_MM: f64 = 0.1;

/// The file: y runs down in SVG, so it is turned over.
pub fn file(lines: &[Line], size_mm: (f64, f64), title: &str, about: &str) -> Vec<u8> {
    let (w, h) = (mm(size_mm.0), mm(size_mm.1));
    let mut doc = Document::new()
        .set("width", format!("{w}mm"))
        .set("height", format!("{h}mm"))
        .set("viewBox", (0, 0, w, h))
        .add(Title::new(title))
        .add(Description::new().add(Text::new(about)));
    for operation in Operation::ALL {
        let mut group = Group::new()
            .set("id", operation.name())
            .set("fill", "none")
            .set("stroke", "black")
            .set("stroke-width", STROKE_MM);
        for line in lines.iter().filter(|l| l.operation == operation) {
            group = group.add(Path::new().set("d", path(line, h)));
        }
        doc = doc.add(group);
    }
    format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{doc}\n").into_bytes()
}

/// Path data of a line, with y measured down from `height`.
fn path(line: &Line, height: f64) -> String {
    let down = |p: DVec2| (p.x, mm(height - p.y));
    let mut d = String::new();
    let n = line.vertices.len();
    let Some(first) = line.vertices.first() else { return d };
    let (x, y) = down(first.p);
    // writing to a String cannot fail
    let _ = write!(d, "M{x} {y}");
    let edges = if line.closed { n } else { n - 1 };
    for i in 0..edges {
        let (v, w) = (line.vertices[i], line.vertices[(i + 1) % n]);
        let s = Segment::new(v.p, w.p, v.bulge);
        let (x, y) = down(w.p);
        if !s.is_line() {
            // (|θ| > π) large; y is turned over, so a clockwise arc sweeps by positive angles
            let (large, sweep) = (i32::from(v.bulge.abs() > 1.0), i32::from(v.bulge < 0.0));
            let r = radius(&s);
            let _ = write!(d, "A{r} {r} 0 {large} {sweep} {x} {y}");
        } else if i + 1 < n {
            // Z draws the last straight edge
            let _ = write!(d, "L{x} {y}");
        }
    }
    if line.closed {
        d.push('Z');
    }
    d
}

/// Radius with digits to spare: a half circle's must not fall below half its chord.
fn radius(s: &Segment) -> f64 {
    super::numbers::fine(s.radius())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geom::Vertex;

    // A 10,10 0 0 1 from 0,0 to 10,10 has its centre at (0,10) and length 15.70796 in SVG's y-down
    // numbers (SVG 2, appendix B.2): here turned over, a quarter that runs clockwise in y-up numbers.
    #[test]
    fn a_quarter_arc_is_one_arc_command() {
        let k = libm::tan(std::f64::consts::FRAC_PI_8);
        let v = |x, y, bulge| Vertex { p: DVec2::new(x, y), bulge };
        let line = Line {
            operation: Operation::Edges,
            vertices: vec![v(0.0, 20.0, -k), v(10.0, 10.0, 0.0), v(0.0, 10.0, 0.0)],
            closed: true,
        };
        assert_eq!(path(&line, 20.0), "M0 0A10 10 0 0 1 10 10L0 10Z");
    }
}
