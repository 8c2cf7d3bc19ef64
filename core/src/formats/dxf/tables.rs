//! The TABLES section: view, line types, the operations' layers, and what a file has to have.

use super::super::lines::Operation;
use super::tags::{Handles, Tags};
use crate::geom::DVec2;

/// Handles that other sections name.
pub struct Owners {
    /// Block record of the model space: the owner of everything drawn.
    pub model_space: String,
    /// Block record of the paper space.
    pub paper_space: String,
    /// Root dictionary.
    pub root: String,
}

impl Owners {
    /// Takes the handles that are named before they are written.
    pub fn new(handles: &mut Handles) -> Self {
        Self { model_space: handles.take(), paper_space: handles.take(), root: handles.take() }
    }
}

/// Colour 7 is drawn black or white, whichever is seen: no operation is given a colour.
const NO_COLOUR: i64 = 7;

/// All nine tables.
pub fn write(t: &mut Tags, handles: &mut Handles, owners: &Owners, low: DVec2, high: DVec2) {
    table(t, handles, "VPORT", 1, |t, handles, own| view(t, handles, own, low, high));
    table(t, handles, "LTYPE", 3, |t, handles, own| {
        for (name, about) in [("ByBlock", ""), ("ByLayer", ""), ("Continuous", "Solid line")] {
            record(t, handles, own, "LTYPE", "AcDbLinetypeTableRecord", name);
            t.whole(70, 0);
            t.tag(3, about);
            t.whole(72, 65);
            t.whole(73, 0);
            t.number(40, 0.0);
        }
    });
    table(t, handles, "LAYER", 4, |t, handles, own| {
        for name in ["0"].into_iter().chain(Operation::ALL.map(Operation::name)) {
            record(t, handles, own, "LAYER", "AcDbLayerTableRecord", name);
            t.whole(70, 0);
            t.whole(62, NO_COLOUR);
            t.tag(6, "Continuous");
        }
    });
    table(t, handles, "STYLE", 1, |t, handles, own| {
        record(t, handles, own, "STYLE", "AcDbTextStyleTableRecord", "Standard");
        t.whole(70, 0);
        t.number(40, 0.0);
        t.number(41, 1.0);
        t.number(50, 0.0);
        t.whole(71, 0);
        t.number(42, 2.5);
        t.tag(3, "txt");
        t.tag(4, "");
    });
    table(t, handles, "VIEW", 0, |_, _, _| {});
    table(t, handles, "UCS", 0, |_, _, _| {});
    table(t, handles, "APPID", 1, |t, handles, own| {
        record(t, handles, own, "APPID", "AcDbRegAppTableRecord", "ACAD");
        t.whole(70, 0);
    });
    table(t, handles, "DIMSTYLE", 1, |t, handles, own| {
        t.tag(100, "AcDbDimStyleTable");
        t.whole(71, 0);
        t.tag(0, "DIMSTYLE");
        // the one record whose handle has a code of its own
        t.tag(105, &handles.take());
        named(t, own, "AcDbDimStyleTableRecord", "Standard");
        t.whole(70, 0);
    });
    table(t, handles, "BLOCK_RECORD", 2, |t, _, own| {
        for (handle, name) in [(&owners.model_space, "*Model_Space"), (&owners.paper_space, "*Paper_Space")] {
            t.tag(0, "BLOCK_RECORD");
            t.tag(5, handle);
            named(t, own, "AcDbBlockTableRecord", name);
            t.tag(340, "0");
        }
    });
}

fn table(t: &mut Tags, handles: &mut Handles, name: &str, rows: i64, body: impl FnOnce(&mut Tags, &mut Handles, &str)) {
    let own = handles.take();
    t.tag(0, "TABLE");
    t.tag(2, name);
    t.tag(5, &own);
    t.tag(330, "0");
    t.tag(100, "AcDbSymbolTable");
    t.whole(70, rows);
    body(t, handles, &own);
    t.tag(0, "ENDTAB");
}

fn record(t: &mut Tags, handles: &mut Handles, table: &str, kind: &str, class: &str, name: &str) {
    t.tag(0, kind);
    t.tag(5, &handles.take());
    named(t, table, class, name);
}

fn named(t: &mut Tags, table: &str, class: &str, name: &str) {
    t.tag(330, table);
    t.tag(100, "AcDbSymbolTableRecord");
    t.tag(100, class);
    t.tag(2, name);
}

/// A window that shows everything when the file is opened.
fn view(t: &mut Tags, handles: &mut Handles, own: &str, low: DVec2, high: DVec2) {
    record(t, handles, own, "VPORT", "AcDbViewportTableRecord", "*Active");
    let size = (high - low).max(DVec2::ONE);
    t.whole(70, 0);
    t.point(10, DVec2::ZERO, None);
    t.point(11, DVec2::ONE, None);
    t.point(12, (low + high) / 2.0, None);
    t.point(13, DVec2::ZERO, None);
    t.point(14, DVec2::splat(10.0), None);
    t.point(15, DVec2::splat(10.0), None);
    t.point(16, DVec2::ZERO, Some(1.0));
    t.point(17, DVec2::ZERO, Some(0.0));
    t.number(40, size.y * 1.1);
    t.number(41, size.x / size.y);
}
