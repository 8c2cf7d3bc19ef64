//! An outline, grown by half the gap, as boxes that cover it.
//!
//! Two parts whose grown outlines do not overlap are a whole gap apart. The cover takes in every point
//! within the growth of the material: for each level, what the boundary sweeps there when a disc rolls
//! along it, and what lies between. Arcs are first replaced by lines that stay outside the material.

use super::block::{Block, UNIT_MM, ceil_units, floor_units};
use super::slabs::{Slab, Span, boxes, close_upwards, join, simplify};
use crate::geom::{Contour, DVec2, Region};

/// How far lines in the place of an arc may stand outside it, mm: far below a kerf.
const ARC_OFF_MM: f64 = 0.01;

/// How fine a cover is.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Fineness {
    /// Notches narrower than this are filled: nothing could lie in them, mm.
    pub fill_mm: f64,
    /// What one level may cover beyond the outline, mm².
    pub waste_mm2: f64,
}

/// One straight piece of the boundary.
#[derive(Clone, Copy, Debug)]
struct Edge {
    p: DVec2,
    q: DVec2,
}

/// Boxes that cover `region` grown by `grow_mm`, from `corner` as zero: as closely as it gets, finely, and
/// with steps `rougher` times as large.
pub fn covers(region: &Region, corner: DVec2, grow_mm: f64, fine: Fineness, rougher: f64) -> [Vec<Block>; 3] {
    let waste = fine.waste_mm2 / (UNIT_MM * UNIT_MM);
    let filled = simplify(stack(region, corner, grow_mm, fine.fill_mm), 1);
    // filling notches would also fill the ends of a round hole
    let closely = if region.holes.is_empty() { filled.clone() } else { stack(region, corner, grow_mm, 0.0) };
    let finely = simplify(filled, waste as i64);
    let roughly = simplify(finely.clone(), (waste * rougher * rougher) as i64);
    [boxes(&closely), boxes(&finely), boxes(&roughly)]
}

/// The grown outline as a stack of fine slabs.
fn stack(region: &Region, corner: DVec2, grow_mm: f64, fill_mm: f64) -> Vec<Slab> {
    let mut edges = vec![];
    for contour in region.contours() {
        outer_lines(contour, corner, &mut edges);
    }
    let levels = levels(&edges, grow_mm);
    let fill = floor_units(fill_mm);
    edges.sort_by(|a, b| a.low().total_cmp(&b.low()));
    let (mut next, mut active) = (0, vec![]);
    let mut stack: Vec<Slab> = vec![];
    for w in levels.windows(2) {
        let (low, high) = (f64::from(w[0]) * UNIT_MM, f64::from(w[1]) * UNIT_MM);
        active.retain(|e: &Edge| e.high() + grow_mm > low);
        while let Some(e) = edges.get(next).filter(|e| e.low() - grow_mm < high) {
            if e.high() + grow_mm > low {
                active.push(*e);
            }
            next += 1;
        }
        let spans = spans(&active, grow_mm, low, high, fill);
        if !spans.is_empty() {
            stack.push(Slab::new(w[0], w[1], spans));
        }
    }
    close_upwards(&mut stack, fill);
    for s in &mut stack {
        *s = Slab::new(s.y0, s.y1, std::mem::take(&mut s.spans));
    }
    stack
}

/// Lines along a contour that never enter its material, which lies to the left.
fn outer_lines(contour: &Contour, corner: DVec2, out: &mut Vec<Edge>) {
    for s in contour.segments() {
        let (a, b) = (s.a - corner, s.b - corner);
        let Some(arc) = s.arc() else {
            out.push(Edge { p: a, q: b });
            continue;
        };
        let center = arc.center - corner;
        let pieces = arc_pieces(arc.radius, arc.sweep_rad);
        let step = arc.sweep_rad / f64::from(pieces);
        let mut p = a;
        let mut to = |q: DVec2| {
            out.push(Edge { p, q });
            p = q;
        };
        for i in 0..pieces {
            // an outward arc is wrapped in its tangents, an inward one spanned by its chords
            let (at, stretch) = if arc.sweep_rad > 0.0 { (0.5, 1.0 / libm::cos(step / 2.0)) } else { (1.0, 1.0) };
            if arc.sweep_rad > 0.0 || i + 1 < pieces {
                to(center + (arc.at_angle(arc.start_rad + (f64::from(i) + at) * step) - arc.center) * stretch);
            }
        }
        to(b);
    }
}

/// Pieces into which an arc is cut so that no line stands off by more than [`ARC_OFF_MM`]:
/// r(1/cos(θ/2) − 1) ≈ rθ²/8.
fn arc_pieces(radius: f64, sweep_rad: f64) -> u32 {
    let step = (8.0 * ARC_OFF_MM / radius.max(ARC_OFF_MM)).sqrt().min(1.0);
    (sweep_rad.abs() / step).ceil().clamp(1.0, 720.0) as u32
}

/// Heights at which the cover may change: where level edges begin and end once grown, and steps between
/// them where an edge slants.
fn levels(edges: &[Edge], grow: f64) -> Vec<i32> {
    let mut sharp: Vec<i32> = vec![];
    let mut add = |y: f64| sharp.extend([floor_units(y), ceil_units(y)]);
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    let mut slanting: Vec<Span> = vec![];
    for e in edges {
        (low, high) = (low.min(e.low()), high.max(e.high()));
        if e.is_straight_on() {
            for y in [e.low(), e.high()] {
                add(y - grow);
                add(y + grow);
            }
        } else {
            slanting.push((floor_units(e.low() - grow), ceil_units(e.high() + grow)));
        }
    }
    let slanting = join(slanting, 1);
    add(low - grow);
    add(high + grow);
    sharp.sort_unstable();
    sharp.dedup();
    let step = (((high - low) / MOST_STEPS).max(FINEST_STEP_MM) / UNIT_MM) as i32;
    let mut out: Vec<i32> = vec![];
    for w in sharp.windows(2) {
        let between = w[1] - w[0];
        let slants = slanting.iter().any(|s| s.0 < w[1] && w[0] < s.1);
        let cuts = if slants { (between / step).max(1) } else { 1 };
        out.extend((0..cuts).map(|i| w[0] + (i64::from(between) * i64::from(i) / i64::from(cuts)) as i32));
    }
    out.extend(sharp.last());
    out
}

/// Slope below which an edge counts as level or upright.
const FLAT: f64 = 1e-6;
/// Steps over the whole height of a slanting outline, before they are joined.
const MOST_STEPS: f64 = 256.0;
/// Steps lower than this bring nothing, mm.
const FINEST_STEP_MM: f64 = 0.25;

/// Stretches that the grown outline takes anywhere between two heights.
fn spans(edges: &[Edge], grow: f64, low: f64, high: f64, fill: i32) -> Vec<Span> {
    let mid = (low + high) / 2.0;
    let mut out: Vec<Span> = vec![];
    let mut crossings: Vec<f64> = vec![];
    for e in edges {
        let (a, z) = (leftmost(e, grow, low, high), -leftmost(&e.mirrored(), grow, low, high));
        out.push((floor_units(a), ceil_units(z)));
        if (e.p.y <= mid) != (e.q.y <= mid) {
            crossings.push(e.p.x + (e.q.x - e.p.x) * (mid - e.p.y) / (e.q.y - e.p.y));
        }
    }
    crossings.sort_by(f64::total_cmp);
    out.extend(crossings.chunks_exact(2).map(|c| (floor_units(c[0]), ceil_units(c[1]))));
    join(out, fill.max(1))
}

impl Edge {
    fn low(&self) -> f64 {
        self.p.y.min(self.q.y)
    }
    fn high(&self) -> f64 {
        self.p.y.max(self.q.y)
    }
    /// Level or upright.
    fn is_straight_on(&self) -> bool {
        let d = (self.q - self.p).abs();
        d.y <= FLAT * d.x || d.x <= FLAT * d.y
    }
    fn mirrored(&self) -> Self {
        let m = |v: DVec2| DVec2::new(-v.x, v.y);
        Self { p: m(self.p), q: m(self.q) }
    }
}

/// Least x of an edge grown by a disc, between two heights that it reaches. The left side of what is swept
/// is convex, so it is least where the whole is leftmost, or as near to there as the heights allow.
fn leftmost(e: &Edge, grow: f64, low: f64, high: f64) -> f64 {
    let left = if e.p.x <= e.q.x { e.p } else { e.q };
    let right = if e.p.x <= e.q.x { e.q } else { e.p };
    let y = left.y.clamp(low, high);
    let mut x = disc_left(left, grow, y).min(disc_left(right, grow, y));
    let d = right - left;
    // the side of the swept band that looks left, if the edge is not level
    if d.y != 0.0 {
        let normal = DVec2::new(-d.y.abs(), d.x * d.y.signum()).normalize_or_zero() * grow;
        let (a, b) = (left + normal, right + normal);
        if a.y.min(b.y) <= y && y <= a.y.max(b.y) {
            x = x.min(a.x + d.x * (y - a.y) / d.y);
        }
    }
    x
}

fn disc_left(center: DVec2, radius: f64, y: f64) -> f64 {
    let h = y - center.y;
    let w2 = radius * radius - h * h;
    if w2 < -1e-12 { f64::INFINITY } else { center.x - w2.max(0.0).sqrt() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cover(region: &Region, corner: DVec2, grow_mm: f64, fine: Fineness) -> Vec<Block> {
        let [_, finely, _] = covers(region, corner, grow_mm, fine, 1.0);
        finely
    }
    const FINE: Fineness = Fineness { fill_mm: 0.0, waste_mm2: 8.0 };

    fn covered(blocks: &[Block], p: DVec2) -> bool {
        let (x, y) = (p.x / UNIT_MM, p.y / UNIT_MM);
        let over =
            |b: &Block| f64::from(b.x0) <= x && x <= f64::from(b.x1) && f64::from(b.y0) <= y && y <= f64::from(b.y1);
        blocks.iter().any(over)
    }
    fn region(outer: Contour, holes: Vec<Contour>) -> Region {
        Region { outer: outer.ccw(), holes: holes.iter().map(Contour::cw).collect() }
    }
    fn area_mm2(blocks: &[Block]) -> f64 {
        blocks.iter().map(|b| f64::from(b.x1 - b.x0) * UNIT_MM * f64::from(b.y1 - b.y0) * UNIT_MM).sum()
    }

    #[test]
    fn a_rectangle_is_one_box() {
        let r = region(Contour::rect(DVec2::new(3.0, 4.0), DVec2::new(103.0, 54.0)), vec![]);
        let blocks = cover(&r, DVec2::new(3.0, 4.0), 1.5, FINE);
        assert_eq!(blocks, [Block { x0: -15_000, x1: 1_015_000, y0: -15_000, y1: 515_000 }]);
    }

    #[test]
    fn every_point_within_the_growth_is_covered_and_the_cover_is_near() {
        let star: Vec<DVec2> =
            (0..14).map(|i| DVec2::from_angle(f64::from(i) * 0.448_8) * if i % 2 == 0 { 50.0 } else { 22.0 }).collect();
        let ring = region(Contour::circle(DVec2::ZERO, 60.0), vec![Contour::circle(DVec2::ZERO, 41.0)]);
        let shapes = [
            ring.clone(),
            region(Contour::polygon(&star), vec![]),
            region(Contour::polygon(&star.iter().map(|p| p.perp() * 1.3 + *p * 0.2).collect::<Vec<_>>()), vec![]),
        ];
        for r in shapes {
            let corner = r.bounds().0;
            let blocks = cover(&r, corner, 2.0, FINE);
            for s in r.segments() {
                for i in 0..40 {
                    let p = s.at(f64::from(i) / 40.0) - corner;
                    for k in 0..12 {
                        let rim = p + DVec2::from_angle(f64::from(k) * 0.52) * 1.999;
                        assert!(covered(&blocks, rim), "{rim} of {r:?}");
                    }
                }
            }
            let grown = r.area() + 2.0 * r.length() + 8.0;
            let got = area_mm2(&blocks);
            assert!(got < grown * 1.10, "{got} {grown} {} boxes", blocks.len());
        }
        let blocks = cover(&ring, ring.bounds().0, 2.0, FINE);
        assert!(!covered(&blocks, DVec2::splat(60.0)), "the hole stays open");
    }

    #[test]
    fn fingers_are_filled_when_nothing_could_lie_between_them() {
        let mut comb = vec![DVec2::ZERO, DVec2::new(100.0, 0.0)];
        for i in 0..10 {
            let x = 100.0 - f64::from(i) * 10.0;
            comb.extend(
                [(x, 60.0), (x - 4.0, 60.0), (x - 4.0, 57.0), (x - 9.0, 57.0), (x - 9.0, 60.0)].map(DVec2::from),
            );
        }
        comb.push(DVec2::new(0.0, 60.0));
        let tall: Vec<DVec2> = comb.iter().map(|p| DVec2::new(60.0 - p.y, p.x)).collect();
        for points in [comb, tall] {
            let r = region(Contour::polygon(&points), vec![]);
            let fine = Fineness { fill_mm: 8.0, waste_mm2: 1.0 };
            assert_eq!(cover(&r, r.bounds().0, 1.0, fine).len(), 1, "{points:?}");
        }
    }
}
