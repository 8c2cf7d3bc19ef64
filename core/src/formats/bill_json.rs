//! `bill.json`: the bill for programs.

use super::{File, PackageFault, bill};
use crate::made::Made;

/// One file.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    super::package::json("bill.json", &bill::of(made)?)
}
