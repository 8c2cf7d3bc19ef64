//! Parts that stand in one another deeper than their fit squeezes.

use super::package::Package;
use crate::geom::DVec3;
use crate::solid::overlap;

/// Deeper than this is a collision, mm: a tenth of the kerf, below what glue and a mallet even out.
pub const TOUCH_MM: f64 = 0.02;

/// Two parts that collide.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Collision {
    /// Places in the list of parts, the lower first.
    pub parts: (usize, usize),
    /// How deep, mm.
    pub depth_mm: f64,
    /// What their fit squeezes, mm.
    pub squeeze_mm: f64,
    /// Where, in the space.
    pub at: DVec3,
}

/// All collisions, and how many pairs were near enough to be tried. `None` when stopped.
pub fn collisions(package: &Package, stop: &dyn Fn() -> bool) -> Option<(Vec<Collision>, usize)> {
    let boxes: Vec<(DVec3, DVec3)> = package.parts.iter().map(|p| p.plate().bounds()).collect();
    let mut order: Vec<usize> = (0..boxes.len()).collect();
    order.sort_by(|a, b| boxes[*a].0.x.total_cmp(&boxes[*b].0.x).then(a.cmp(b)));
    let (mut all, mut tried) = (vec![], 0);
    for (k, i) in order.iter().enumerate() {
        if stop() {
            return None;
        }
        for j in order[k + 1..].iter().take_while(|j| boxes[**j].0.x < boxes[*i].1.x) {
            let (p, q) = (*i.min(j), *i.max(j));
            let meets = boxes[p].0.cmplt(boxes[q].1).all() && boxes[q].0.cmplt(boxes[p].1).all();
            if !meets {
                continue;
            }
            tried += 1;
            let squeeze_mm = package
                .joints
                .iter()
                .filter(|j| (j.a.min(j.b), j.a.max(j.b)) == (p, q))
                .map(|j| -j.fit_mm)
                .fold(0.0, f64::max);
            if let Some(o) = overlap(package.parts[p].plate(), package.parts[q].plate())
                && o.depth_mm > TOUCH_MM + squeeze_mm
            {
                all.push(Collision { parts: (p, q), depth_mm: o.depth_mm, squeeze_mm, at: o.at });
            }
        }
    }
    all.sort_by_key(|c| c.parts);
    Some((all, tried))
}
