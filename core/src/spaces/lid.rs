//! A lid: what it leaves above the rim, shut and as it swings.

use super::house::{LID_ABOVE, LID_BESIDE};
use super::plan::Plan;
use super::spec::{LidSpec, Side};
use crate::finding::Finding;

/// A lid that turns about the inner edge of the rim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lid {
    /// How deep it is inside, above the rim.
    pub depth_mm: f64,
    /// Free room that is kept under it.
    pub clearance_mm: f64,
    /// Free room that is kept beside it as it swings.
    pub side_clearance_mm: f64,
    /// The side with the hinge.
    pub hinge: Side,
    /// From the hinge to the far inner wall of the lid.
    pub span_mm: f64,
}

impl Lid {
    /// From a received lid over a rim. All faults go to `out`.
    pub(super) fn checked(spec: &LidSpec, rim: &Plan, at: &str, out: &mut Vec<Finding>) -> Self {
        spec.check(at, out);
        LID_ABOVE.check(spec.clearance_mm(), &format!("{at}/clearance_mm"), out);
        LID_BESIDE.check(spec.side_clearance_mm(), &format!("{at}/side_clearance_mm"), out);
        let span_mm = match spec.hinge {
            Side::Front | Side::Back => rim.depth_mm,
            Side::Left | Side::Right => rim.width_mm,
        };
        Self {
            depth_mm: spec.depth_mm(),
            clearance_mm: spec.clearance_mm(),
            side_clearance_mm: spec.side_clearance_mm(),
            hinge: spec.hinge,
            span_mm,
        }
    }

    /// Free room between a point and the lid's far wall as the lid swings shut; negative when it is hit.
    ///
    /// `from_hinge_mm` is measured level from the hinge's side, `above_rim_mm` upwards from the rim.
    /// Derived: seen from the lid the point moves on a circle about the hinge, and comes nearest to the
    /// far wall where it passes the rim.
    #[must_use]
    pub fn swing_margin_mm(&self, from_hinge_mm: f64, above_rim_mm: f64) -> f64 {
        if above_rim_mm <= 0.0 {
            return f64::INFINITY;
        }
        self.span_mm - libm::hypot(from_hinge_mm, above_rim_mm)
    }
}
