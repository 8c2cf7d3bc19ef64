//! DXF R2007 (AC1021): LWPOLYLINEs with bulges on one layer an operation, in millimetres.
//!
//! Written here and not by a library: readers mend what table heads without handles, owners or
//! dictionaries leave open, and a machine's reader is the last place where something should be
//! mended. Group codes and their order: DXF reference (2007), chapters HEADER to OBJECTS.

mod objects;
mod tables;
mod tags;

use super::lines::Line;
use super::numbers::mm;
use crate::geom::{DVec2, Segment};
use tags::{Handles, Tags};

/// $INSUNITS: millimetres (DXF reference, HEADER).
const MILLIMETRES: i64 = 4;

/// How the kerf stands in the file, for its head.
pub fn kerf_said(kerf_mm: f64) -> String {
    if kerf_mm > 0.0 {
        format!("kerf {kerf_mm} applied in this file (mm), burn on the line")
    } else {
        "kerf not applied in this file, the machine makes up for it".to_owned()
    }
}

/// A whole file. `notes` are comments at its head; they may hold any text.
pub fn file(lines: &[Line], notes: &[String]) -> Vec<u8> {
    let mut handles = Handles::default();
    let owners = tables::Owners::new(&mut handles);
    let mut body = Tags::default();
    body.section("CLASSES", |_| {});
    let (low, high) = bounds(lines);
    body.section("TABLES", |t| tables::write(t, &mut handles, &owners, low, high));
    body.section("BLOCKS", |t| objects::blocks(t, &mut handles, &owners));
    body.section("ENTITIES", |t| lines.iter().for_each(|l| polyline(t, &mut handles, &owners, l)));
    body.section("OBJECTS", |t| objects::dictionaries(t, &mut handles, &owners));
    let mut all = Tags::default();
    notes.iter().for_each(|n| all.comment(n));
    all.section("HEADER", |t| header(t, &handles, low, high));
    all.append(body);
    all.tag(0, "EOF");
    all.into_bytes()
}

fn header(t: &mut Tags, handles: &Handles, low: DVec2, high: DVec2) {
    t.variable("$ACADVER", |t| t.tag(1, "AC1021"));
    t.variable("$DWGCODEPAGE", |t| t.tag(3, "ANSI_1252"));
    t.variable("$HANDSEED", |t| t.tag(5, &handles.next_free()));
    t.variable("$INSUNITS", |t| t.whole(70, MILLIMETRES));
    t.variable("$MEASUREMENT", |t| t.whole(70, 1));
    t.variable("$LUNITS", |t| t.whole(70, 2));
    t.variable("$EXTMIN", |t| t.point(10, low, Some(0.0)));
    t.variable("$EXTMAX", |t| t.point(10, high, Some(0.0)));
    t.variable("$LIMMIN", |t| t.point(10, low, None));
    t.variable("$LIMMAX", |t| t.point(10, high, None));
    t.variable("$CLAYER", |t| t.tag(8, "0"));
}

fn polyline(t: &mut Tags, handles: &mut Handles, owners: &tables::Owners, line: &Line) {
    t.tag(0, "LWPOLYLINE");
    t.tag(5, &handles.take());
    t.tag(330, &owners.model_space);
    t.tag(100, "AcDbEntity");
    t.tag(8, line.operation.name());
    t.tag(100, "AcDbPolyline");
    t.whole(90, line.vertices.len() as i64);
    t.whole(70, i64::from(line.closed));
    for v in &line.vertices {
        t.point(10, v.p, None);
        if v.bulge != 0.0 {
            t.number(42, v.bulge);
        }
    }
}

/// Least and greatest x and y of all lines; zeros when there are none.
fn bounds(lines: &[Line]) -> (DVec2, DVec2) {
    let mut around: Option<(DVec2, DVec2)> = None;
    for l in lines {
        let n = l.vertices.len();
        for i in 0..if l.closed { n } else { n.saturating_sub(1) } {
            let (v, w) = (l.vertices[i], l.vertices[(i + 1) % n]);
            let (lo, hi) = Segment::new(v.p, w.p, v.bulge).bounds();
            around = Some(around.map_or((lo, hi), |(a, b)| (a.min(lo), b.max(hi))));
        }
    }
    let round = |p: DVec2| DVec2::new(mm(p.x), mm(p.y));
    around.map_or((DVec2::ZERO, DVec2::ZERO), |(lo, hi)| (round(lo), round(hi)))
}
