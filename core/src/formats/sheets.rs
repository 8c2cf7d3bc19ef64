//! `sheets/NN-MATERIAL.dxf` and `.svg`: nested parts, ready to cut.

use super::{File, PackageFault, dxf, lines, names, sheet_svg};
use crate::made::{Made, Sheet};

/// Two files a sheet.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    let mut files = vec![];
    for sheet in &made.sheets {
        let (lines, path) = (lines::of_sheet(made, sheet), names::of_sheet(made, sheet));
        let about = about(made, sheet);
        files.push((format!("{path}.svg"), sheet_svg::file(&lines, sheet, &about)));
        files.push((format!("{path}.dxf"), dxf::file(&lines, &[about])));
    }
    Ok(files)
}

/// What a person who opens the file has to know. Nothing that a caller named stands here.
fn about(made: &Made, sheet: &Sheet) -> String {
    let (w, h) = sheet.size_mm;
    let stock = made.job.stocks.get(sheet.stock);
    let material = stock.map_or("", |s| s.profile.id.as_str());
    let kerf = dxf::kerf_said(stock.map_or(0.0, |s| s.drawn_kerf_mm));
    format!("sheet {} of {}, {material}, {w} x {h} mm, {kerf}", sheet.number, made.sheets.len())
}
