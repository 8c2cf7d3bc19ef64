//! What is burnt on a part's face: its code and, beside each joint, the joint's letters, as single lines.
//!
//! May import: `units`, `finding`, `geom`, `assembly`, `finish`.

use crate::finish::Built;
use crate::geom::DVec2;

/// The marks of one panel, in its own plane; each an open polyline.
#[must_use]
pub fn of_panel(built: &Built, panel: usize) -> Vec<Vec<DVec2>> {
    let _ = (built, panel);
    vec![]
}
