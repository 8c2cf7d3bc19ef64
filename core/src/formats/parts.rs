//! `parts/CODE.dxf`: each part alone, drawn size, in its own frame, for a recut.

use super::{File, PackageFault, dxf, lines, names};
use crate::made::{Made, Part};

/// One file a part.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    Ok(made.parts.iter().map(file).collect())
}

/// The file of one part.
pub fn file(part: &Part) -> File {
    (names::of_part(part), dxf::file(&lines::of_part(part), &[about(part)]))
}

/// What a person who opens the file has to know. Nothing that a caller named stands here.
fn about(part: &Part) -> String {
    let kerf = dxf::kerf_said(part.kerf_mm);
    format!("part {} {}, thickness {} mm, {kerf}", part.code, part.name, super::numbers::mm2(part.thickness_mm))
}
