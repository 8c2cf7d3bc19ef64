//! The catalogue: every different outline in every turn, as boxes.

use std::collections::BTreeMap;

use super::block::{Block, ceil_units, floor_units};
use super::cover::{Fineness, covers};
use super::outline::{allowed_turns, net_area, turned_region};
use super::types::{NestPart, Rules};
use crate::geom::{Contour, DVec2, Region};

/// One outline in one turn. Its zero is the lower left corner of its drawn bounds.
#[derive(Clone, Debug)]
pub struct Shape {
    /// Turn about the part's own zero, degrees.
    pub turn_deg: f64,
    /// Lower left corner of the turned bounds, in the turned own frame, mm.
    pub corner: DVec2,
    /// Size of the bounds, mm.
    pub size: DVec2,
    /// Size of the bounds in units, rounded up.
    pub width: i32,
    /// The same along y.
    pub height: i32,
    /// Boxes that cover the outline grown by half the gap.
    pub blocks: Vec<Block>,
    /// Many small ones, for what fits narrowly into a hole.
    pub close: Vec<Block>,
    /// Bounds of its holes, less the gap.
    pub holes: Vec<Block>,
    /// Fewer and larger ones that do so too.
    pub rough: Vec<Block>,
    /// Steps of the larger ones along a slanting outline, mm.
    pub rough_step_mm: f64,
}

/// Parts with the same outline and the same turns.
#[derive(Clone, Debug)]
pub struct Kind {
    /// Indices into [`Catalogue::shapes`], one for each turn that looks different.
    pub shapes: Vec<u32>,
    /// Net area of one part, mm².
    pub area: f64,
}

/// All outlines of a job.
#[derive(Clone, Debug, Default)]
pub struct Catalogue {
    /// Outlines in their turns.
    pub shapes: Vec<Shape>,
    /// Different outlines.
    pub kinds: Vec<Kind>,
    /// Which kind each part is, in the parts' order.
    pub kind_of: Vec<u32>,
    /// How finely they are covered.
    pub fine: Fineness,
    /// Whether any part has a hole.
    pub has_holes: bool,
}

impl Catalogue {
    /// Sorts the parts into kinds and covers each kind in each of its turns.
    pub fn new(parts: &[NestPart], rules: &Rules) -> Self {
        let narrowest = narrowest(parts, rules);
        let step = narrowest * STEP;
        let fine = Fineness { fill_mm: narrowest * FILL, waste_mm2: step * step };
        let has_holes = parts.iter().any(|p| !p.region.holes.is_empty());
        let mut all = Self { fine, has_holes, ..Self::default() };
        let mut known = BTreeMap::new();
        for part in parts {
            let turns = allowed_turns(part);
            let kind = *known.entry(fingerprint(&part.region, &turns)).or_insert_with(|| {
                let shapes = all.add_turns(&part.region, &turns, rules.gap_mm / 2.0, fine);
                all.kinds.push(Kind { shapes, area: net_area(&part.region) });
                all.kinds.len() as u32 - 1
            });
            all.kind_of.push(kind);
        }
        all
    }

    fn add_turns(&mut self, region: &Region, turns: &[f64], grow_mm: f64, fine: Fineness) -> Vec<u32> {
        let mut own: Vec<u32> = vec![];
        let mut outlines: Vec<Region> = vec![];
        for &turn_deg in turns {
            let turned = turned_region(region, turn_deg);
            let turned = turned.moved(-turned.bounds().0);
            if outlines.iter().any(|o| same_outline(o, &turned)) {
                continue;
            }
            outlines.push(turned);
            let shape = Shape::new(region, turn_deg, grow_mm, fine);
            let looks_like = |i: &u32| {
                let s = &self.shapes[*i as usize];
                (s.width, s.height, &s.blocks) == (shape.width, shape.height, &shape.blocks)
            };
            if !own.iter().any(looks_like) {
                own.push(self.shapes.len() as u32);
                self.shapes.push(shape);
            }
        }
        own
    }
}

/// Share of the narrowest part's width below which a notch is filled: no part but a pointed one enters a
/// notch much narrower than itself.
const FILL: f64 = 0.7;
/// Steps along a slanting outline, as a share of the narrowest part's width.
const STEP: f64 = 0.12;
/// How many times larger the steps of the rough cover are.
const ROUGH: f64 = 3.0;

/// Least size of any part, in its own frame, with the gap, mm.
fn narrowest(parts: &[NestPart], rules: &Rules) -> f64 {
    let size = |p: &NestPart| {
        let (low, high) = p.region.bounds();
        (high - low).min_element()
    };
    parts.iter().map(size).fold(f64::INFINITY, f64::min).min(1e4) + rules.gap_mm
}

/// Whether two outlines with a common corner look the same: each one's corners and middles of edges lie
/// on the other's boundary.
fn same_outline(a: &Region, b: &Region) -> bool {
    const NEAR_MM: f64 = 1e-6;
    let on = |p: DVec2, other: &Region| other.segments().any(|s| s.distance_to_point(p) < NEAR_MM);
    let lies_on = |one: &Region, other: &Region| one.segments().all(|s| on(s.a, other) && on(s.mid(), other));
    lies_on(a, b) && lies_on(b, a)
}

impl Shape {
    /// The outline turned, measured and covered.
    pub fn new(region: &Region, turn_deg: f64, grow_mm: f64, fine: Fineness) -> Self {
        let region = turned_region(region, turn_deg);
        let (corner, far) = region.bounds();
        let size = far - corner;
        let (width, height) = (ceil_units(size.x), ceil_units(size.y));
        let [close, blocks, rough] = covers(&region, corner, grow_mm, fine, ROUGH);
        let rough_step_mm = fine.waste_mm2.sqrt() * ROUGH;
        let hole = |h: &Contour| {
            let (low, high) = Region { outer: h.clone(), holes: vec![] }.bounds();
            let gap = DVec2::splat(2.0 * grow_mm);
            let (low, high) = (low - corner + gap, high - corner - gap);
            Block { x0: floor_units(low.x), x1: ceil_units(high.x), y0: floor_units(low.y), y1: ceil_units(high.y) }
        };
        let holes = region.holes.iter().map(hole).collect();
        Self { turn_deg, corner, size, width, height, blocks, close, holes, rough, rough_step_mm }
    }
}

/// Bits that are equal exactly when outline and turns are.
fn fingerprint(region: &Region, turns: &[f64]) -> Vec<u64> {
    let mut bits: Vec<u64> = turns.iter().map(|t| t.to_bits()).collect();
    for contour in region.contours() {
        bits.push(contour.vertices.len() as u64);
        for v in &contour.vertices {
            bits.extend([v.p.x.to_bits(), v.p.y.to_bits(), v.bulge.to_bits()]);
        }
    }
    bits
}
