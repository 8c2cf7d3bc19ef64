//! What is visited: a contour with the gates at which it is entered and left, and what has to come first.

use super::types::{Role, RouteContour};
use crate::geom::DVec2;

/// One way to follow a contour.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gate {
    /// The vertex at which it begins.
    pub vertex: usize,
    /// Where the head comes to.
    pub enter: DVec2,
    /// Where it is afterwards.
    pub leave: DVec2,
}

/// A contour to be followed once.
#[derive(Clone, Debug)]
pub struct Visit {
    /// Its place in the list that was given.
    pub contour: usize,
    /// All ways to follow it; never empty. The two ways of an open line are each other's reverse.
    pub gates: Vec<Gate>,
    /// Whether it is an open line.
    pub open: bool,
    /// The visit that frees what this one cuts, and so comes later: the edge around an opening, or the
    /// opening in which a part lies.
    pub freed_by: Option<usize>,
    /// All visits that come before this one: what lies in it, at any depth.
    pub before: Vec<usize>,
    /// Least x and y of all gates.
    pub low: DVec2,
    /// Greatest x and y of all gates.
    pub high: DVec2,
}

/// More gates than this a contour is never given: a traced outline has hundreds of vertices side by side,
/// and the way gets no shorter by trying them all.
const GATES_MOST: usize = 160;

impl Visit {
    fn new(contour: usize, c: &RouteContour) -> Option<Self> {
        let v = &c.contour.vertices;
        let (first, last) = (v.first()?.p, v.last()?.p);
        let open = c.role == Role::Mark;
        let gates: Vec<Gate> = if open {
            let end = v.len() - 1;
            vec![Gate { vertex: 0, enter: first, leave: last }, Gate { vertex: end, enter: last, leave: first }]
        } else {
            let step = v.len().div_ceil(GATES_MOST);
            let gate = |i: usize| Gate { vertex: i, enter: v[i].p, leave: v[i].p };
            (0..v.len()).step_by(step).map(gate).collect()
        };
        let low = gates.iter().fold(first, |m, g| m.min(g.enter));
        let high = gates.iter().fold(first, |m, g| m.max(g.enter));
        Some(Self { contour, gates, open, freed_by: None, before: vec![], low, high })
    }
    /// The gate that leads the other way; of a closed contour it is the same.
    pub fn back(&self, gate: usize) -> usize {
        if self.open { gate ^ 1 } else { gate }
    }
    /// How far a place is from the box of the gates: no gate is nearer.
    pub fn distance(&self, p: DVec2) -> f64 {
        (self.low - p).max(p - self.high).max(DVec2::ZERO).length()
    }
    /// How far apart the boxes of two visits are.
    pub fn apart(&self, other: &Self) -> f64 {
        (self.low - other.high).max(other.low - self.high).max(DVec2::ZERO).length()
    }
}

/// The visits of one phase, marks or cuts, with what has to come first.
pub fn visits(contours: &[RouteContour], marks: bool) -> Vec<Visit> {
    let wanted = contours.iter().enumerate().filter(|(_, c)| (c.role == Role::Mark) == marks);
    let mut all: Vec<Visit> = wanted.filter_map(|(i, c)| Visit::new(i, c)).collect();
    if !marks {
        let above = freed_by(&all.iter().map(|v| &contours[v.contour]).collect::<Vec<_>>());
        for (i, up) in above.iter().enumerate() {
            all[i].freed_by = *up;
            let mut at = *up;
            while let Some(host) = at {
                all[host].before.push(i);
                at = above[host];
            }
        }
    }
    all
}

/// What frees each of these: the edge of its part, or the smallest opening of another part around it. It
/// is larger than what it frees, so no chain runs in a circle.
fn freed_by(cuts: &[&RouteContour]) -> Vec<Option<usize>> {
    let bounds: Vec<(DVec2, DVec2)> = cuts.iter().map(|c| c.contour.bounds()).collect();
    let areas: Vec<f64> = cuts.iter().map(|c| c.contour.area().abs()).collect();
    let frees = |k: usize, i: usize| {
        let (host, c) = (cuts[k], cuts[i]);
        if host.role == c.role || (host.part == c.part) != (c.role == Role::Opening) || areas[k] <= areas[i] {
            return false;
        }
        let boxed = bounds[k].0.cmple(bounds[i].0).all() && bounds[k].1.cmpge(bounds[i].1).all();
        boxed && c.contour.vertices.first().is_some_and(|v| host.contour.contains(v.p))
    };
    let smallest = |a: &usize, b: &usize| areas[*a].total_cmp(&areas[*b]);
    (0..cuts.len()).map(|i| (0..cuts.len()).filter(|k| frees(*k, i)).min_by(smallest)).collect()
}
