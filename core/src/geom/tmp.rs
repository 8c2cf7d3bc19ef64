//! tmp
use super::*;
/// e
#[derive(Debug)]
pub struct OffsetError;
impl std::fmt::Display for OffsetError {
    fn fmt(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
        write!(f, "x")
    }
}
/// g
pub fn grow(r: &Region, _d: f64) -> Result<Region, OffsetError> {
    Ok(r.clone())
}
/// f
pub fn fit_closed(p: &[DVec2], _t: f64) -> Contour {
    Contour::polygon(p)
}
