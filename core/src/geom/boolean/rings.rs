//! Walks boundary pieces into rings, and sorts rings into outer boundaries and holes.

use super::SLIVER_MM2;
use super::split::Piece;
use crate::geom::clean::clean_contour;
use crate::geom::{Contour, DVec2, Region, Vertex};
use std::collections::BTreeMap;

/// Rings with the inside on their left, none touching itself; and how many pieces closed no ring.
pub(super) fn walk(kept: &[Piece], points: &[DVec2]) -> (Vec<Contour>, usize) {
    let mut leaving: BTreeMap<u32, Vec<usize>> = BTreeMap::new();
    for (i, p) in kept.iter().enumerate() {
        leaving.entry(p.from).or_default().push(i);
    }
    let mut used = vec![false; kept.len()];
    let (mut rings, mut loose) = (Vec::new(), 0);
    for start in 0..kept.len() {
        if used[start] {
            continue;
        }
        let mut way = Vec::new();
        let mut at = start;
        loop {
            used[at] = true;
            way.push(at);
            close_ring(&mut way, kept, points, &mut rings);
            if way.is_empty() {
                break;
            }
            match next(kept, &leaving, &used, at) {
                Some(i) => at = i,
                None => {
                    loose += way.len();
                    break;
                }
            }
        }
    }
    (rings, loose)
}

/// Takes a ring off the end of the way as soon as the way is back where it has been.
fn close_ring(way: &mut Vec<usize>, kept: &[Piece], points: &[DVec2], rings: &mut Vec<Contour>) {
    let Some(&last) = way.last() else { return };
    let Some(first) = way.iter().position(|&i| kept[i].from == kept[last].to) else { return };
    let corner = |i: usize| Vertex { p: points[kept[i].from as usize], bulge: kept[i].segment.bulge };
    rings.push(Contour { vertices: way.drain(first..).map(corner).collect() });
}

/// The piece to go on with: where several leave, the one that bounds the same wedge of inside, the first
/// clockwise from the way back.
fn next(kept: &[Piece], leaving: &BTreeMap<u32, Vec<usize>>, used: &[bool], at: usize) -> Option<usize> {
    let free: Vec<usize> = leaving.get(&kept[at].to)?.iter().copied().filter(|&i| !used[i]).collect();
    if free.len() < 2 {
        return free.first().copied();
    }
    // compare directions at one distance from the corner: edges that leave tangent to each other differ there
    let reach = free.iter().chain([&at]).map(|&i| kept[i].segment.chord().length()).fold(f64::INFINITY, f64::min) / 2.0;
    let back = kept[at].segment.reversed().heading(reach);
    let clockwise = |i: usize| {
        let d = kept[i].segment.heading(reach);
        let turn = -libm::atan2(back.perp_dot(d), back.dot(d));
        if turn <= 0.0 { turn + 2.0 * core::f64::consts::PI } else { turn }
    };
    free.into_iter().min_by(|&i, &j| clockwise(i).total_cmp(&clockwise(j)).then(i.cmp(&j)))
}

/// Counter-clockwise rings are outer boundaries; each clockwise one is a hole of the smallest that holds it.
/// Asked of the rings as walked: their pieces touch other rings at ends only, so a piece's middle is clear.
pub(super) fn regions(rings: Vec<Contour>, snap: f64) -> Vec<Region> {
    let mut outers: Vec<(f64, Region)> = Vec::new();
    let mut holes: Vec<Contour> = Vec::new();
    for ring in rings {
        let area = ring.area();
        if area >= SLIVER_MM2 {
            outers.push((area, Region { outer: ring, holes: Vec::new() }));
        } else if area <= -SLIVER_MM2 {
            holes.push(ring);
        }
    }
    outers.sort_by(|a, b| a.0.total_cmp(&b.0));
    for hole in holes {
        let Some(clear) = hole.segments().next().map(|s| s.mid()) else { continue };
        if let Some((_, r)) = outers.iter_mut().find(|(_, r)| r.outer.contains(clear)) {
            r.holes.push(hole);
        }
    }
    let mut done: Vec<(f64, Region)> = outers.into_iter().map(|(_, r)| (r.area(), tidied(&r, snap))).collect();
    done.retain(|(area, _)| *area >= SLIVER_MM2);
    done.sort_by(|a, b| rank(a.0, &a.1.outer, b.0, &b.1.outer));
    done.into_iter().map(|(_, r)| r).collect()
}

fn tidied(r: &Region, snap: f64) -> Region {
    let tidy = |c: &Contour| from_first_corner(clean_contour(c, snap));
    let mut holes: Vec<(f64, Contour)> = r.holes.iter().map(|h| (h.area(), tidy(h))).collect();
    holes.sort_by(|a, b| rank(a.0, &a.1, b.0, &b.1));
    Region { outer: tidy(&r.outer), holes: holes.into_iter().map(|(_, h)| h).collect() }
}

/// Largest first; areas alike to a millionth are told apart by place, lowest x then y first.
fn rank(a: f64, p: &Contour, b: f64, q: &Contour) -> core::cmp::Ordering {
    let coarse = |area: f64| (area.abs() * 1e6).round();
    let first = |c: &Contour| c.vertices.first().map_or(DVec2::ZERO, |v| v.p);
    let (s, t) = (first(p), first(q));
    coarse(b).total_cmp(&coarse(a)).then(s.x.total_cmp(&t.x)).then(s.y.total_cmp(&t.y))
}

/// The same ring from its leftmost (then lowest) corner, so that the order of the input does not show.
fn from_first_corner(mut ring: Contour) -> Contour {
    let key = |i: &usize, j: &usize| {
        let (p, q) = (ring.vertices[*i].p, ring.vertices[*j].p);
        p.x.total_cmp(&q.x).then(p.y.total_cmp(&q.y))
    };
    let first = (0..ring.vertices.len()).min_by(key).unwrap_or(0);
    ring.vertices.rotate_left(first);
    ring
}
