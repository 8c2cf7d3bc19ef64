//! `coupon/NN-MATERIAL.dxf`, `.svg`, `.txt`, `.json`: what to cut and try first, and the form for its answers.

use super::{File, PackageFault, dxf, lines, names, package, sheet_svg};
use crate::coupon::{Coupon, Sample};
use crate::job::Job;
use crate::made::Made;
use std::fmt::Write as _;

/// The coupons of a package.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    files(&made.job, &made.coupons)
}

/// Cut files for each rectangle, and for each stock a page of words and the readings request to be filled in.
pub fn files(job: &Job, coupons: &[Coupon]) -> Result<Vec<File>, PackageFault> {
    let mut files = vec![];
    for (i, c) in coupons.iter().enumerate() {
        let Some(stock) = job.stocks.get(c.stock) else { continue };
        let path = format!("coupon/{:02}-{}", i + 1, names::slug(&stock.material));
        for (k, sheetlet) in c.sheetlets.iter().enumerate() {
            let ending = if k == 0 { String::new() } else { format!("-{}", k + 1) };
            let size = (sheetlet.size_mm[0], sheetlet.size_mm[1]);
            let kerf = dxf::kerf_said(stock.drawn_kerf_mm);
            let about = format!(
                "coupon {} of {}, {}, {} x {} mm; joints: {kerf}; strip and slots as drawn",
                k + 1,
                c.sheetlets.len(),
                stock.profile.id,
                size.0,
                size.1
            );
            let lines = lines::in_turn(&sheetlet.lines);
            files.push((format!("{path}{ending}.svg"), sheet_svg::file(&lines, size, "Coupon", &about)));
            files.push((format!("{path}{ending}.dxf"), dxf::file(&lines, &[about])));
        }
        files.push((format!("{path}.txt"), words(c).into_bytes()));
        files.extend(package::json(&format!("{path}.json"), &c.readings)?);
    }
    Ok(files)
}

/// What each piece is for.
fn words(c: &Coupon) -> String {
    let mut text = String::from(
        "Cut this from the corner of the sheet that the holders are cut from, at the same place of the bed, focus,\n\
         speed and power. Fill the answers into the .json file beside this page and post it to /v1/readings.\n\n",
    );
    // writing to a String cannot fail
    for strip in &c.readings.strips {
        let _ = write!(
            text,
            "Strip: {} pieces drawn {} mm in all. Push them together, measure: measured_mm.\n\n",
            strip.pieces(),
            strip.drawn_mm()
        );
    }
    for comb in &c.readings.combs {
        let _ = writeln!(text, "Comb {:?}: push the tongue T edgewise into each slot, say how it feels.", comb.grain);
        for (i, slot) in comb.slots.iter().enumerate() {
            let _ = writeln!(text, "  {}  drawn {:.2} mm", i + 1, slot.drawn_mm);
        }
    }
    text.push_str("  refuses, mallet, thumb, slide, loose, rattles\n\n");
    for s in &c.samples {
        let _ = writeln!(text, "{}", sample(s));
    }
    text
}

fn sample(s: &Sample) -> String {
    let end = if s.finished.is_some() { "" } else { "; too large for a coupon, left out" };
    format!("{0}A + {0}B: {1} at {2:.1} degrees, fit {3:+.2} mm{end}", s.code, s.kind, s.angle_deg, s.fit_mm)
}
