//! `sheets/NN-MATERIAL.dxf` and `.svg`: nested parts, ready to cut; `-plan.svg`: the same for people.

use super::{File, PackageFault, bill, dxf, lines, names, sheet_plan, sheet_svg};
use crate::made::{Made, Sheet};

/// Three files a sheet.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    let mut files = vec![];
    let rows = bill::sheet_rows(made);
    for (sheet, row) in made.sheets.iter().zip(&rows) {
        let (lines, path) = (lines::of_sheet(made, sheet), names::of_sheet(made, sheet));
        let about = about(made, sheet);
        files.push((
            format!("{path}.svg"),
            sheet_svg::file(&lines, sheet.size_mm, &format!("Sheet {}", sheet.number), &about),
        ));
        files.push((format!("{path}.dxf"), dxf::file(&lines, &[about])));
        files.extend(sheet_plan::file(made, sheet, row).map(|plan| (format!("{path}-plan.svg"), plan)));
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
