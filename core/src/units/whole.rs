//! Whole numbers as JSON knows them: `82` and `82.0` are the same number.

use serde::{Deserialize, Deserializer, de::Error};

/// Reads a whole number, however its decimals are written; for `deserialize_with`.
///
/// # Errors
/// A number with a fraction, a negative one, or one above `u32::MAX`.
pub fn whole<'de, D: Deserializer<'de>>(from: D) -> Result<Option<u32>, D::Error> {
    let Some(n) = Option::<f64>::deserialize(from)? else { return Ok(None) };
    let fits = n.fract() == 0.0 && n >= 0.0 && n <= f64::from(u32::MAX);
    if fits { Ok(Some(n as u32)) } else { Err(D::Error::custom(format!("found {n}, expected a whole number"))) }
}
