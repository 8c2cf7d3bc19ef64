//! The sheets at hand, in units.

use super::block::{UNIT_MM, floor_units};
use super::cover::Fineness;
use super::shape::Shape;
use super::types::{Rules, SheetSupply};
use crate::geom::{DVec2, Region};

/// One supply as the search sees it. The zero is the lower left corner of the room within the margins.
#[derive(Clone, Debug)]
pub struct Stock {
    /// Room within the margins, mm.
    pub room: DVec2,
    /// Gap between parts, mm.
    pub gap: f64,
    /// Area of the whole sheet, mm².
    pub area: f64,
    /// How many there are.
    pub count: usize,
    /// Places to keep out of: a shape each and where its zero stands.
    pub keep_outs: Vec<(Shape, i32, i32)>,
}

impl Stock {
    /// Measures a supply.
    pub fn new(supply: &SheetSupply, rules: &Rules, fine: Fineness) -> Self {
        let size = DVec2::new(supply.width_mm, supply.height_mm);
        let keep_out = |contour: &crate::geom::Contour| {
            let region = Region { outer: contour.clone(), holes: vec![] };
            // whole units of its own corner are the move, the rest stays in the shape: nothing is rounded twice
            let mut shape = Shape::new(&region, 0.0, rules.gap_mm / 2.0, fine);
            let at = shape.corner - DVec2::splat(rules.margin_mm);
            let (x, y) = (floor_units(at.x), floor_units(at.y));
            for b in &mut shape.blocks {
                // the corner lies up to one unit beyond the whole number
                b.x1 += 1;
                b.y1 += 1;
            }
            (shape, x, y)
        };
        Self {
            room: size - DVec2::splat(2.0 * rules.margin_mm),
            gap: rules.gap_mm,
            area: size.x * size.y,
            count: supply.count.unwrap_or(usize::MAX),
            keep_outs: supply.keep_outs.iter().map(keep_out).collect(),
        }
    }

    /// Area that grown outlines may take, square units: half a gap reaches over each edge of the room.
    pub fn grown_room(&self) -> f64 {
        (self.room.x + self.gap) * (self.room.y + self.gap) / (UNIT_MM * UNIT_MM)
    }

    /// Farthest that a shape's zero can stand from the room's, in units; negative when it is too large.
    pub fn reach(&self, shape: &Shape) -> (i32, i32) {
        (floor_units(self.room.x - shape.size.x), floor_units(self.room.y - shape.size.y))
    }
}
