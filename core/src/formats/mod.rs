//! What is written out of everything that was made: one file a format, one line in the list.
//!
//! Files hold no date and no clock, numbers are rounded before they are printed, and what a caller
//! named is text wherever it stands: never a path, markup, a formula or a DXF group.
//!
//! May import: every room above. Computes nothing that another room knows.

mod assembly;
mod bill;
mod bill_csv;
mod bill_json;
mod cautions;
mod chance;
mod coupon;
mod dxf;
mod glb;
mod lines;
mod names;
mod numbers;
mod order;
mod package;
mod parts;
mod plan;
mod prototype;
mod report;
mod sheet_plan;
mod sheet_svg;
mod sheets;
mod spec;
mod together;
#[cfg(test)]
mod tests;

pub use package::{PackageFault, archive, package};

use crate::coupon::Coupon;
use crate::finding::Finding;
use crate::finish::Built;
use crate::job::Job;
use crate::made::{Made, Part};

/// A file of the package: its path in it, and its bytes.
pub type File = (String, Vec<u8>);

/// One format.
#[derive(Clone, Copy)]
pub struct Format {
    /// What it writes: a path, or a folder of them.
    pub path: &'static str,
    /// Writes all files of this format.
    pub write: fn(&Made) -> Result<Vec<File>, PackageFault>,
}

/// The list of all formats of a package, in the order of their paths.
pub const ALL: &[Format] = &[
    Format { path: "assembly.json", write: assembly::write },
    Format { path: "bill.csv", write: bill_csv::write },
    Format { path: "bill.json", write: bill_json::write },
    Format { path: "cautions.txt", write: cautions::write },
    Format { path: "coupon/", write: coupon::write },
    Format { path: "model.glb", write: glb::write },
    Format { path: "order.txt", write: order::write },
    Format { path: "parts/", write: parts::write },
    Format { path: "plan.svg", write: plan::write },
    Format { path: "report.json", write: report::write },
    Format { path: "sheets/", write: sheets::write },
    Format { path: "spec.json", write: spec::write },
];

/// The cut file of one part alone, in its own frame.
#[must_use]
pub fn part_file(part: &Part) -> File {
    parts::file(part)
}

/// A JSON file, indented: people read it too.
///
/// # Errors
/// When a number in it is not finite.
pub fn json_file<T: serde::Serialize>(path: &str, value: &T) -> Result<Vec<File>, PackageFault> {
    package::json(path, value)
}

/// Coupons alone, as a ZIP.
///
/// # Errors
/// When a file could not be written; the text says which and why.
pub fn coupons(job: &Job, coupons: &[Coupon]) -> Result<Vec<u8>, PackageFault> {
    package::archive(coupon::files(job, coupons)?)
}

/// The report as JSON: verdict, findings, checks, defaults, minutes, cost, sheets.
///
/// # Errors
/// When a number in it is not finite.
pub fn report(made: &Made) -> Result<Vec<u8>, PackageFault> {
    report::bytes(made)
}

/// The assembled model as glTF 2.0 binary.
///
/// # Errors
/// When a part or thing has no faces, or the model is too large.
pub fn glb(made: &Made) -> Result<Vec<u8>, PackageFault> {
    glb::bytes(made)
}

/// Plan and sections as SVG, to scale on A3.
///
/// # Errors
/// When the job's number could not be computed.
pub fn plan(made: &Made) -> Result<String, PackageFault> {
    plan::svg(made)
}

/// The plan of a refused request as far as it could be derived: holders, parts and things that a
/// refusal points at are red, and the findings stand beside them. `None` when nothing was derived.
#[must_use]
pub fn plan_refused(job: Option<&Job>, holders: &[Built], findings: &[Finding]) -> Option<String> {
    plan::refused(job, holders, findings)
}
