//! What a route is made from, and what it says.

use crate::geom::Contour;

/// What a contour is for; they are cut in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// A single line burnt into the face; open.
    Mark,
    /// An inner contour.
    Opening,
    /// The outer contour of a part.
    Edge,
}

/// One contour of a sheet, in the sheet's frame.
#[derive(Clone, Debug)]
pub struct RouteContour {
    /// The line that the beam follows.
    pub contour: Contour,
    /// What it is for.
    pub role: Role,
    /// Which part it belongs to.
    pub part: usize,
}

/// How the cutter moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Motion {
    /// Along a cut, mm/s.
    pub feed_mm_s: f64,
    /// How often each cut is followed.
    pub passes: u32,
    /// Between cuts, mm/s.
    pub travel_mm_s: f64,
    /// Acceleration, mm/s².
    pub accel_mm_s2: f64,
    /// To burn through before moving, s; at the start of each cut, in each pass.
    pub pierce_s: f64,
    /// Along a mark, mm/s.
    pub mark_mm_s: f64,
}

/// The order of a sheet, and what it costs.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Route {
    /// Places in the list that was given, with the vertex at which each is entered: of a mark its first
    /// or its last, of a cut any.
    pub order: Vec<(usize, usize)>,
    /// Length of all cuts, once each, mm.
    pub cut_mm: f64,
    /// Length of all marks, mm.
    pub mark_mm: f64,
    /// Way between cuts, from the sheet's zero to the start of the last, mm.
    pub travel_mm: f64,
    /// How often the beam burns through.
    pub pierces: usize,
    /// Time along cuts, all passes, s.
    pub cut_s: f64,
    /// Time along marks, s.
    pub mark_s: f64,
    /// Time between cuts, s.
    pub travel_s: f64,
    /// Time to burn through, s.
    pub pierce_s: f64,
    /// Time in all, minutes.
    pub minutes: f64,
}
