//! BLOCKS and OBJECTS: the two spaces and the root dictionary that a file has to have.

use super::tables::Owners;
use super::tags::{Handles, Tags};

/// The empty blocks of model and paper space.
pub fn blocks(t: &mut Tags, handles: &mut Handles, owners: &Owners) {
    for (record, name) in [(&owners.model_space, "*Model_Space"), (&owners.paper_space, "*Paper_Space")] {
        entity(t, handles, record, "BLOCK", "AcDbBlockBegin");
        t.tag(2, name);
        t.whole(70, 0);
        t.point(10, crate::geom::DVec2::ZERO, Some(0.0));
        t.tag(3, name);
        t.tag(1, "");
        entity(t, handles, record, "ENDBLK", "AcDbBlockEnd");
    }
}

fn entity(t: &mut Tags, handles: &mut Handles, owner: &str, kind: &str, class: &str) {
    t.tag(0, kind);
    t.tag(5, &handles.take());
    t.tag(330, owner);
    t.tag(100, "AcDbEntity");
    t.tag(8, "0");
    t.tag(100, class);
}

/// The root dictionary and its one entry, the list of groups.
pub fn dictionaries(t: &mut Tags, handles: &mut Handles, owners: &Owners) {
    let groups = handles.take();
    dictionary(t, &owners.root, "0");
    t.tag(3, "ACAD_GROUP");
    t.tag(350, &groups);
    dictionary(t, &groups, &owners.root);
}

fn dictionary(t: &mut Tags, handle: &str, owner: &str) {
    t.tag(0, "DICTIONARY");
    t.tag(5, handle);
    t.tag(330, owner);
    t.tag(100, "AcDbDictionary");
    t.whole(281, 1);
}
