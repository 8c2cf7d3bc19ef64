//! The data files of `shared/` as they are written; serde ends here.

mod cutter;
mod dangers;
mod profile;

pub(super) use cutter::cutter;
pub use dangers::{Caution, Forbidden, When};
pub(super) use dangers::{cautions, never};
pub(super) use profile::profile;
