//! The cautions that come with every package. They defer to the machine's manual, to local codes and
//! to licensed practice, and nothing that a caller sends removes them.

use super::data::catalogue;
use super::profile::{Process, Profile};
use super::received::{Caution, When};

/// The cautions for a job, in the order of the file, each once.
#[must_use]
pub fn cautions(process: Process, materials: &[&Profile]) -> Vec<&'static Caution> {
    let asked = |id: &str| materials.iter().any(|m| m.cautions.iter().any(|c| c == id));
    catalogue()
        .cautions
        .iter()
        .filter(|c| match c.when {
            When::Always => true,
            When::Laser => process == Process::Co2,
            When::Knife => process == Process::Knife,
            When::Material => asked(&c.id),
        })
        .collect()
}
