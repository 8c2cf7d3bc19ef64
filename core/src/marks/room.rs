//! Where on a face there is room: inside the outline, clear of every cut, and of other marks.

use super::lettering::Lettering;
use crate::geom::{DVec2, Region, Segment};

/// Marks stay this far apart, mm: closer ones read as one word.
const APART_MM: f64 = 3.0;

/// An edge with the box around it.
struct Edge {
    lo: DVec2,
    hi: DVec2,
    segment: Segment,
}

/// A face with what is taken of it.
pub struct Room<'a> {
    region: &'a Region,
    edges: Vec<Edge>,
    taken: Vec<[DVec2; 4]>,
}

impl<'a> Room<'a> {
    /// A face without marks.
    #[must_use]
    pub fn new(region: &'a Region) -> Self {
        let edge = |segment: Segment| {
            let (lo, hi) = segment.bounds();
            Edge { lo, hi, segment }
        };
        Self { region, edges: region.segments().map(edge).collect(), taken: vec![] }
    }

    /// Takes a place if there is room, `clear_mm` off every cut.
    pub fn take(&mut self, words: &Lettering, at: DVec2, clear_mm: f64) -> bool {
        let corners = words.corners(at);
        let free = self.clear_of_cuts(&corners, at, clear_mm) && self.clear_of_marks(&corners);
        if free {
            self.taken.push(corners);
        }
        free
    }

    fn clear_of_cuts(&self, corners: &[DVec2; 4], middle: DVec2, clear_mm: f64) -> bool {
        let (lo, hi) = around(corners);
        let (lo, hi) = (lo - DVec2::splat(clear_mm), hi + DVec2::splat(clear_mm));
        let near = |e: &&Edge| e.lo.x < hi.x && lo.x < e.hi.x && e.lo.y < hi.y && lo.y < e.hi.y;
        // the middle in the material and no edge near: then all of the box is in it. An edge that lies
        // wholly within the box is nearer to the middle than the box's own sides, so its start is asked
        let crossed = self.edges.iter().filter(near).any(|e| {
            inside(corners, e.segment.a) || sides(corners).iter().any(|s| s.nearest_to(&e.segment).0 < clear_mm)
        });
        !crossed && self.region.contains(middle)
    }

    fn clear_of_marks(&self, corners: &[DVec2; 4]) -> bool {
        self.taken.iter().all(|t| {
            let near = sides(corners).iter().any(|s| sides(t).iter().any(|o| s.nearest_to(o).0 < APART_MM));
            !near && !inside(corners, t[0]) && !inside(t, corners[0])
        })
    }
}

fn sides(corners: &[DVec2; 4]) -> [Segment; 4] {
    [0, 1, 2, 3].map(|i| Segment::line(corners[i], corners[(i + 1) % 4]))
}

fn around(corners: &[DVec2; 4]) -> (DVec2, DVec2) {
    corners.iter().fold((corners[0], corners[0]), |(lo, hi), p| (lo.min(*p), hi.max(*p)))
}

/// Whether a point lies in a box given counter-clockwise.
fn inside(corners: &[DVec2; 4], p: DVec2) -> bool {
    sides(corners).iter().all(|s| s.chord().perp_dot(p - s.a) >= 0.0)
}
