//! Lengths, angles and ranges: one row a parameter, and the macros that keep a field and its row one
//! declaration.
//!
//! May import: nothing of this crate but `finding` (a row that is broken becomes a finding).

mod band;
pub mod dice;
mod names;
mod params;
mod readings;
mod row;
pub mod schema;
mod tagged;
mod whole;

pub use band::Band;
pub use names::{NAME_MAX_CHARS, check_name};
pub use params::Absent;
pub use readings::Readings;
pub(crate) use row::tidy;
pub use row::{DefaultUsed, Row};
pub use tagged::{any, decode, decode_fields, read_tagged};
pub use whole::whole;
#[cfg(test)]
mod tests;
