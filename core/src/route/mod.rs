//! What is cut first, and how many minutes it takes.
//!
//! May import: `units`, `finding`, `geom`.

use crate::geom::{Contour, DVec2};

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
    /// To burn through before moving, s.
    pub pierce_s: f64,
    /// Along a mark, mm/s.
    pub mark_mm_s: f64,
}

/// The order of a sheet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Route {
    /// Places in the list that was given, with the vertex at which each is entered.
    pub order: Vec<(usize, usize)>,
    /// Length of all cuts, once each, mm.
    pub cut_mm: f64,
    /// Length of all marks, mm.
    pub mark_mm: f64,
    /// Way between cuts, mm.
    pub travel_mm: f64,
    /// How often the beam burns through.
    pub pierces: usize,
    /// Time in all, minutes.
    pub minutes: f64,
}

/// Marks first, then openings, then edges; the nearest next within each.
#[must_use]
pub fn route(contours: &[RouteContour], motion: &Motion) -> Route {
    let mut r = Route::default();
    let mut here = DVec2::ZERO;
    for role in [Role::Mark, Role::Opening, Role::Edge] {
        let mut left: Vec<usize> = (0..contours.len()).filter(|i| contours[*i].role == role).collect();
        while let Some((k, _)) = left.iter().enumerate().min_by(|a, b| {
            let d = |i: usize| contours[i].contour.vertices.first().map_or(0.0, |v| v.p.distance(here));
            d(*a.1).total_cmp(&d(*b.1))
        }) {
            let i = left.swap_remove(k);
            let c = &contours[i].contour;
            let Some(start) = c.vertices.first().map(|v| v.p) else { continue };
            r.travel_mm += here.distance(start);
            if role == Role::Mark {
                r.mark_mm += c.vertices.windows(2).map(|w| w[0].p.distance(w[1].p)).sum::<f64>();
                here = c.vertices.last().map_or(start, |v| v.p);
            } else {
                r.cut_mm += c.length();
                r.pierces += 1;
                here = start;
            }
            r.order.push((i, 0));
        }
    }
    let cutting = r.cut_mm / motion.feed_mm_s.max(1e-3) * f64::from(motion.passes);
    let seconds = cutting + r.mark_mm / motion.mark_mm_s.max(1e-3) + r.travel_mm / motion.travel_mm_s.max(1e-3);
    r.minutes = (seconds + r.pierces as f64 * motion.pierce_s * f64::from(motion.passes)) / 60.0;
    r
}
