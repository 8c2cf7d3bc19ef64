//! Own DXF files read back by another reader (crate `dxf`).

use super::super::lines::{self, Line, Operation};
use super::super::{dxf as own, parts};
use crate::families::ALL;
use crate::make::tests::made;
use dxf::Drawing;
use dxf::entities::EntityType;

/// Layer, corners with bulges, closed.
type Seen = (String, Vec<[f64; 3]>, bool);

/// What the other reader sees.
fn read(bytes: &[u8]) -> (Drawing, Vec<Seen>) {
    let drawing = Drawing::load(&mut std::io::Cursor::new(bytes)).unwrap();
    let lines = drawing
        .entities()
        .map(|e| match &e.specific {
            EntityType::LwPolyline(p) => {
                let rows = p.vertices.iter().map(|v| [v.x, v.y, v.bulge]).collect();
                (e.common.layer.clone(), rows, p.is_closed())
            }
            other => panic!("{other:?}"),
        })
        .collect();
    (drawing, lines)
}

fn written(l: &Line) -> Seen {
    let rows = l.vertices.iter().map(|v| [v.p.x, v.p.y, v.bulge]).collect();
    (l.operation.name().to_owned(), rows, l.closed)
}

#[test]
fn another_reader_finds_every_line_where_it_was_written() {
    for about in ALL {
        let made = made((about.example)());
        let mut seen = 0;
        for sheet in &made.sheets {
            let lines = lines::of_sheet(&made, sheet);
            let (drawing, found) = read(&own::file(&lines, &["a note".to_owned()]));
            assert_eq!(drawing.header.default_drawing_units, dxf::enums::Units::Millimeters);
            assert_eq!(found, lines.iter().map(written).collect::<Vec<_>>(), "{}", about.tag);
            seen += found.len();
        }
        assert!(seen >= made.parts.len());
    }
}

#[test]
fn a_parts_own_file_is_its_drawn_outline() {
    let made = made((ALL[0].example)());
    let files = parts::write(&made).unwrap();
    assert_eq!(files.len(), made.parts.len());
    for (part, (path, bytes)) in made.parts.iter().zip(&files) {
        assert_eq!(*path, format!("parts/{}.dxf", part.code));
        let (_, found) = read(bytes);
        let edges: Vec<_> = found.iter().filter(|l| l.0 == Operation::Edges.name()).collect();
        assert_eq!(edges.len(), 1);
        assert_eq!(found.iter().filter(|l| l.0 == "openings").count(), part.drawn.holes.len());
        let last_opening = found.iter().rposition(|l| l.0 == "openings").unwrap_or(0);
        assert!(found.iter().position(|l| l.0 == "edges").unwrap() >= last_opening, "openings come first");
        let (lo, hi) = part.drawn.bounds();
        let (x, y) = edges[0].1.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| (a.min(v[0]), b.max(v[1])));
        assert!((x - lo.x).abs() < 1e-3 && (y - hi.y).abs() < 1e-3, "{}", part.code);
    }
}
