//! The catalogue: every different outline in every turn, as boxes.

use std::collections::BTreeMap;

use super::block::{Block, ceil_units, floor_units};
use super::outline::{allowed_turns, net_area, turned_region};
use super::types::{NestPart, Rules};
use crate::geom::{DVec2, Region};

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
}

impl Catalogue {
    /// Sorts the parts into kinds and covers each kind in each of its turns.
    pub fn new(parts: &[NestPart], rules: &Rules) -> Self {
        let mut all = Self::default();
        let mut known = BTreeMap::new();
        for part in parts {
            let turns = allowed_turns(part);
            let kind = *known.entry(fingerprint(&part.region, &turns)).or_insert_with(|| {
                let shapes = all.add_turns(&part.region, &turns, rules.gap_mm / 2.0);
                all.kinds.push(Kind { shapes, area: net_area(&part.region) });
                all.kinds.len() as u32 - 1
            });
            all.kind_of.push(kind);
        }
        all
    }

    fn add_turns(&mut self, region: &Region, turns: &[f64], grow_mm: f64) -> Vec<u32> {
        let mut own: Vec<u32> = vec![];
        for &turn_deg in turns {
            let shape = Shape::new(region, turn_deg, grow_mm);
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

impl Shape {
    /// The outline turned, measured and covered.
    pub fn new(region: &Region, turn_deg: f64, grow_mm: f64) -> Self {
        let region = turned_region(region, turn_deg);
        let (corner, far) = region.bounds();
        let size = far - corner;
        let (width, height) = (ceil_units(size.x), ceil_units(size.y));
        let block = Block {
            x0: floor_units(-grow_mm),
            x1: ceil_units(size.x + grow_mm),
            y0: floor_units(-grow_mm),
            y1: ceil_units(size.y + grow_mm),
        };
        Self { turn_deg, corner, size, width, height, blocks: vec![block] }
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
