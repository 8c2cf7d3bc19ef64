//! One place for one thing: the thing, its pose, and what it passes through.

use super::PanelId;
use crate::geom::{DVec3, Frame};
use crate::things::Solid;

/// A panel that a thing passes through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Opening {
    /// The panel that is opened.
    pub panel: PanelId,
    /// Clearance on the diameter, mm.
    pub clearance_mm: f64,
    /// Whether the opening is swept along the thing's way out until it leaves the panel, so that the
    /// thing need not be threaded through.
    pub open: bool,
}

/// One place for one thing.
#[derive(Clone, Debug, PartialEq)]
pub struct Berth {
    /// Which of the job's things.
    pub thing: usize,
    /// The thing's outside.
    pub solid: Solid,
    /// Where the thing sits: its own z axis runs from the centre of its base to its top.
    pub pose: Frame,
    /// Unit direction in which the thing is taken out.
    pub way_out: DVec3,
    /// The panels that it passes through.
    pub openings: Vec<Opening>,
}

/// A compartment: the clear room between panels in which loose things lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bay {
    /// From and to along x.
    pub x: (f64, f64),
    /// From and to along y.
    pub y: (f64, f64),
    /// From and to along z.
    pub z: (f64, f64),
    /// Which of the job's things it is for, if any.
    pub thing: Option<usize>,
}
