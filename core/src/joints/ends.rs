//! A blank that ends at another one, and the side from which it comes.

use super::{Blank, Section, Side};
use crate::geom::DVec3;

/// A blank with a point inside its body: from there it looks at the other slab.
#[derive(Clone, Copy, Debug)]
pub struct Ends<'a> {
    /// The plate.
    pub blank: &'a Blank,
    /// A point within its body.
    pub seed: DVec3,
}

impl Ends<'_> {
    /// +1 or −1: the way across the line from the body to the other slab.
    #[must_use]
    pub fn toward(&self, x: &Section, side: Side) -> f64 {
        x.toward(side, self.seed)
    }
    /// How far the blank reaches across the line, on the other slab's side.
    #[must_use]
    pub fn outermost(&self, x: &Section, side: Side) -> f64 {
        let (lo, hi) = self.blank.reach(x.across(side));
        if self.toward(x, side) > 0.0 { hi } else { lo }
    }
}
