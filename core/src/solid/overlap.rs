//! How deep two finished panels stand in one another.

use super::Plate;
use super::strip::{Pair, area, width};
use crate::geom::{DVec2, DVec3, Region, intersect};
use crate::joints::Side;

/// What two plates share.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overlap {
    /// Smallest width of the deepest shared piece, mm: how far one would have to move.
    pub depth_mm: f64,
    /// Shared volume, mm³ (exact between straight edges).
    pub volume_mm3: f64,
    /// A point in the deepest piece.
    pub at: DVec3,
}

/// A shared piece thinner than this is rounding, mm: a thousandth of what is judged (0.02).
const NOISE_MM: f64 = 2e-5;

/// What two plates share; `None` when they are apart or only touch.
#[must_use]
pub fn overlap(a: Plate, b: Plate) -> Option<Overlap> {
    let ((a0, a1), (b0, b1)) = (a.bounds(), b.bounds());
    let apart = a0.cmpgt(b1 - NOISE_MM).any() || b0.cmpgt(a1 - NOISE_MM).any();
    if apart {
        return None;
    }
    match Pair::of(a, b) {
        Some(pair) => crossing(&pair),
        None => parallel(a, b),
    }
}

/// One stretch of the common line between two corners of either outline. Over it each shared
/// piece's edges run straight, so its width is greatest at an end or where a kink lies.
fn crossing(pair: &Pair) -> Option<Overlap> {
    let shared = pair.x.crossing();
    let places = places(pair, &shared);
    let (mut volume, mut bars) = (0.0, vec![]);
    for w in places.windows(2) {
        let h = w[1] - w[0];
        // two Gauss points are exact for a volume that is a cubic along the line
        let half = h * 0.288_675_134_594_812_9;
        let mid = (w[0] + w[1]) / 2.0;
        let gauss = [at(pair, &shared, mid - half), at(pair, &shared, mid + half)];
        volume += h * (gauss[0].0 + gauss[1].0) / 2.0;
        let inside = h * 1e-6;
        let widest = [at(pair, &shared, w[0] + inside), at(pair, &shared, mid), at(pair, &shared, w[1] - inside)]
            .into_iter()
            .chain(gauss)
            .max_by(|p, q| p.1.total_cmp(&q.1));
        let (_, width, p) = widest.unwrap_or((0.0, 0.0, DVec2::ZERO));
        let place = pair.x.ua * p.x + pair.x.slab(Side::A).frame.z * p.y + pair.x.e * mid;
        bars.push(Bar { length: h, width, at: place });
    }
    let (depth_mm, at) = deepest(&bars)?;
    (depth_mm > NOISE_MM).then_some(Overlap { depth_mm, volume_mm3: volume, at })
}

/// A stretch along the line with the width of its widest shared piece.
#[derive(Clone, Copy)]
struct Bar {
    length: f64,
    width: f64,
    at: DVec3,
}

/// A body is as deep as the widest square that fits in its outline along the line: where it is thin, or
/// short, it is not deep, though it may hang together with what is long, or wide. Each bar is asked how far its
/// own width goes on to either side; a stack of rising bars answers that in one pass.
fn deepest(bars: &[Bar]) -> Option<(f64, DVec3)> {
    let mut best: Option<(f64, DVec3)> = None;
    // width, where that width begins along the line, and a place
    let mut rising: Vec<(f64, f64, DVec3)> = vec![];
    let mut s = 0.0;
    let end = Bar { length: 0.0, width: 0.0, at: DVec3::ZERO };
    for bar in bars.iter().chain([&end]) {
        let mut from = s;
        while let Some((width, begins, at)) = rising.pop_if(|top| top.0 >= bar.width) {
            let depth = width.min(s - begins);
            if best.is_none_or(|b| b.0 < depth) {
                best = Some((depth, at));
            }
            from = begins;
        }
        rising.push((bar.width, from, bar.at));
        s += bar.length;
    }
    best
}

/// All places along the line at which something may change: corners of both outlines, limited to
/// the stretch that both reach.
fn places(pair: &Pair, shared: &[DVec2]) -> Vec<f64> {
    let reach = |side: Side| {
        let (lo, hi) = pair.laid(side).bounds();
        (lo.x, hi.x)
    };
    let (ra, rb) = (reach(Side::A), reach(Side::B));
    let (from, to) = (ra.0.max(rb.0), ra.1.min(rb.1));
    let mut all = vec![from, to];
    for side in [Side::A, Side::B] {
        let (lo, hi) = pair.x.range(side, shared);
        for contour in pair.laid(side).contours() {
            for seg in contour.segments() {
                let near = seg.a.y.max(seg.b.y).max(arc_top(&seg)) >= lo - 1.0
                    && seg.a.y.min(seg.b.y).min(arc_low(&seg)) <= hi + 1.0;
                if !near {
                    continue;
                }
                all.push(seg.a.x);
                all.push(seg.b.x);
                if !seg.is_line() {
                    // an arc is no straight edge: a few more places make it nearly one
                    all.extend((1..8).map(|k| seg.a.x + (seg.b.x - seg.a.x) * k as f64 / 8.0));
                }
                // a sloping edge that enters the band between its corners
                for level in [lo, hi] {
                    if seg.is_line() && (seg.a.y - level) * (seg.b.y - level) < 0.0 {
                        all.push(seg.a.x + (seg.b.x - seg.a.x) * (level - seg.a.y) / (seg.b.y - seg.a.y));
                    }
                }
            }
        }
    }
    all.retain(|s| *s >= from && *s <= to);
    all.sort_by(f64::total_cmp);
    all.dedup_by(|p, q| (*p - *q).abs() < 1e-9);
    all
}

fn arc_top(seg: &crate::geom::Segment) -> f64 {
    seg.arc().map_or(f64::NEG_INFINITY, |c| c.center.y + c.radius)
}
fn arc_low(seg: &crate::geom::Segment) -> f64 {
    seg.arc().map_or(f64::INFINITY, |c| c.center.y - c.radius)
}

/// Shared area at place `s`, the width of its widest piece, and a point in that.
fn at(pair: &Pair, shared: &[DVec2], s: f64) -> (f64, f64, DVec2) {
    let (mut total, mut deepest, mut place) = (0.0, 0.0, DVec2::ZERO);
    let (ua, ub) = (pair.across(Side::A, s), pair.across(Side::B, s));
    for ia in &ua {
        let piece = pair.within(shared, Side::A, *ia);
        if piece.len() < 3 {
            continue;
        }
        for ib in &ub {
            let both = pair.within(&piece, Side::B, *ib);
            if both.len() < 3 {
                continue;
            }
            total += area(&both);
            let w = width(&both);
            if w > deepest {
                deepest = w;
                place = both.iter().copied().sum::<DVec2>() / both.len() as f64;
            }
        }
    }
    (total, deepest, place)
}

/// Parallel plates share a slice when their faces overlap, over what their outlines share.
fn parallel(a: Plate, b: Plate) -> Option<Overlap> {
    let f = &a.slab.frame;
    let z = [0.0, b.slab.thickness].map(|z| f.into_own(b.slab.frame.out(DVec3::new(0.0, 0.0, z))).z);
    let (lo, hi) = (z[0].min(z[1]).max(0.0), z[0].max(z[1]).min(a.slab.thickness));
    if hi - lo < NOISE_MM {
        return None;
    }
    let seen = seen_from(a, b);
    let pieces = intersect(a.region, &seen);
    let deepest = pieces.iter().max_by(|p, q| p.area().total_cmp(&q.area()))?;
    // twice the area over the girth is the width of a long piece, and less for a compact one
    let across = 2.0 * deepest.area() / deepest.length().max(f64::MIN_POSITIVE);
    let depth = (hi - lo).min(2.0 * across);
    let volume = pieces.iter().map(Region::area).sum::<f64>() * (hi - lo);
    let c = deepest.centroid();
    (across > NOISE_MM).then(|| Overlap { depth_mm: depth, volume_mm3: volume, at: f.out(c.extend((lo + hi) / 2.0)) })
}

/// B's outline in A's plane. A plate whose face looks the other way is seen mirrored.
fn seen_from(a: Plate, b: Plate) -> Region {
    let (fa, fb) = (&a.slab.frame, &b.slab.frame);
    let o = fa.into_own(fb.origin).truncate();
    let (x, y) = (fa.dir_own(fb.x).truncate(), fa.dir_own(fb.y).truncate());
    if fa.z.dot(fb.z) > 0.0 {
        return b.region.mapped(o, x, y);
    }
    let mirrored = |c: &crate::geom::Contour| crate::geom::Contour {
        vertices: c
            .vertices
            .iter()
            .map(|v| crate::geom::Vertex { p: o + x * v.p.x + y * v.p.y, bulge: -v.bulge })
            .collect(),
    };
    Region::new(mirrored(&b.region.outer), b.region.holes.iter().map(mirrored).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bars(of: &[(f64, f64)]) -> Vec<Bar> {
        of.iter().map(|&(length, width)| Bar { length, width, at: DVec3::new(width, 0.0, 0.0) }).collect()
    }

    #[test]
    fn what_is_thin_or_short_is_not_deep() {
        // widths are sums of bars, so they are right to rounding
        let deep = |of: &[(f64, f64)]| deepest(&bars(of)).map(|d| (d.0 * 1e9).round() * 1e-9);
        let near = |v: f64| Some((v * 1e9).round() * 1e-9);
        assert_eq!(deep(&[(10.0, 0.5)]), near(0.5));
        assert_eq!(deep(&[(0.1, 6.0)]), near(0.1));
        // a squeezed flank, and beside it a face that touches by rounding
        assert_eq!(deep(&[(0.015, 6.0), (9.0, 1e-4), (0.015, 6.0)]), near(0.015));
        assert_eq!(deep(&[(1.0, 2.0), (1.0, 3.0), (1.0, 2.5)]), near(2.0));
        assert_eq!(deep(&[]), None);
    }
}
