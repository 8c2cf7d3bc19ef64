//! One flat part before it has an outline: a slab with a place in space.

use crate::geom::{Contour, DVec2, DVec3, HalfSpace, Slab};

/// Which panel of its assembly.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PanelId(pub usize);

/// What a panel does; checks ask for it (a floor sags, a divider is lifted out).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// Outer wall.
    Wall,
    /// Bottom that carries what stands on it.
    Floor,
    /// Partition inside walls.
    Divider,
    /// Level plate with openings, above a floor.
    Deck,
    /// Leaning plate with openings, square to the axes of what it holds.
    Plate,
    /// Leaning plate that carries or stops what lies on it.
    Ramp,
    /// Strip that carries a loose panel.
    Ledge,
}

/// How the face grain may lie on the sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Grain {
    /// Along this direction of the panel's own plane.
    Along(DVec2),
    /// It does not matter here.
    Free,
}

impl Grain {
    /// Along the longer way of a part of this size in its own plane: slender parts bend least so
    /// (common practice, no source).
    #[must_use]
    pub fn along_longer(x_mm: f64, y_mm: f64) -> Self {
        Self::Along(if x_mm < y_mm { DVec2::Y } else { DVec2::X })
    }

    /// Along the shorter way: what lies level on four edges carries across its short span (common
    /// practice, no source).
    #[must_use]
    pub fn along_shorter(x_mm: f64, y_mm: f64) -> Self {
        Self::Along(if x_mm < y_mm { DVec2::X } else { DVec2::Y })
    }

    /// Its angle from the panel's own x, degrees, from 0 to below 180: a grain has no front end.
    #[must_use]
    pub fn angle_deg(self) -> Option<f64> {
        match self {
            Self::Free => None,
            Self::Along(d) => Some(libm::atan2(d.y, d.x).to_degrees().rem_euclid(180.0)),
        }
    }
}

/// A named tool solid that cuts straight through a panel: a hand hole, a raked front, a chamfer.
#[derive(Clone, Debug, PartialEq)]
pub struct Tool {
    /// What it is for.
    pub name: &'static str,
    /// What it takes away, in the panel's own plane.
    pub contour: Contour,
}

/// One flat part: a slab, a seed inside its body, and how far it may reach. The face at
/// z = thickness of its own frame is the one that the beam enters; marks are burnt on it, so it is
/// turned to the hidden side where there is one.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// What people call it (`front`, `divider across 2`).
    pub name: String,
    /// What it does.
    pub role: Role,
    /// Which of the job's stocks it is cut from.
    pub stock: usize,
    /// Where it stands, and its thickness.
    pub slab: Slab,
    /// A point within its body, in the holder's frame: the side of every other panel on which it lies.
    pub seed: DVec3,
    /// How far it may reach, beside the limits that its meetings set. In the holder's frame.
    pub bounds: Vec<HalfSpace>,
    /// Of all panels that share a corner, the one of highest rank owns the corner's cube.
    pub rank: u32,
    /// Named tools that cut it.
    pub tools: Vec<Tool>,
    /// How the grain lies.
    pub grain: Grain,
}
