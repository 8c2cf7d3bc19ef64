//! `cautions.txt`: the usual cautions for the materials and the machine. Nothing removes them.

use super::{File, PackageFault};
use crate::made::Made;
use crate::material::{Profile, cautions};

/// One file.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    let used: Vec<&Profile> = made
        .job
        .stocks
        .iter()
        .enumerate()
        .filter(|(i, _)| made.parts.iter().any(|p| p.stock == *i))
        .map(|(_, s)| &s.profile)
        .collect();
    let mut text = String::from("CAUTIONS\n\n");
    for caution in cautions(made.job.cutter.process, &used) {
        text.push_str("- ");
        text.push_str(&caution.text);
        text.push('\n');
    }
    Ok(vec![("cautions.txt".to_owned(), text.into_bytes())])
}
