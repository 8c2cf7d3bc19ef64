//! Words at a size and a turn, with the box around them, about their own middle.

use super::glyphs::{ARROW, ARROW_HIGH, HIGH, STEP, Stroke, WIDE, strokes};
use crate::geom::DVec2;

/// Strokes about their middle, and the box that they fill.
#[derive(Clone, Debug, PartialEq)]
pub struct Lettering {
    /// Open polylines about the middle.
    pub lines: Vec<Vec<DVec2>>,
    /// Half the box along the line of writing, and half of it across.
    pub half: DVec2,
    /// Unit vector along the line of writing.
    pub along: DVec2,
}

impl Lettering {
    /// Words `height_mm` high with their heads towards `up` (a unit vector). Read from the face, they
    /// are not mirrored: the line of writing runs to the right of `up`.
    #[must_use]
    pub fn of(words: &str, height_mm: f64, up: DVec2) -> Self {
        let glyphs = words.chars().map(|c| strokes(c).unwrap_or(&[]));
        let wide = (words.chars().count().max(1) - 1) as f64 * STEP + WIDE;
        let lines = glyphs.enumerate().flat_map(|(i, g)| g.iter().map(move |s| (*s, i as f64 * STEP)));
        Self::built(lines, DVec2::new(wide, HIGH), height_mm / HIGH, up)
    }

    /// An arrow that points along `to` (a unit vector); its letters would be `height_mm` high.
    #[must_use]
    pub fn arrow(height_mm: f64, to: DVec2) -> Self {
        Self::built(ARROW.iter().map(|s| (*s, 0.0)), DVec2::new(WIDE, ARROW_HIGH), height_mm / HIGH, to)
    }

    fn built(strokes: impl Iterator<Item = (Stroke, f64)>, size: DVec2, scale: f64, up: DVec2) -> Self {
        let along = DVec2::new(up.y, -up.x);
        let at = |(x, y): (f64, f64), from: f64| {
            let p = (DVec2::new(x + from, y) - size / 2.0) * scale;
            along * p.x + up * p.y
        };
        let lines = strokes.map(|(s, from)| s.iter().map(|p| at(*p, from)).collect()).collect();
        Self { lines, half: size * scale / 2.0, along }
    }

    /// Two pieces side by side along the line of writing of the first, with a letter's gap.
    #[must_use]
    pub fn beside(self, other: Self) -> Self {
        let gap = self.half.y * 2.0 * (STEP - WIDE) / HIGH;
        let across = self.along.perp();
        // the other's box as seen along this one's line of writing
        let seen =
            |d: DVec2| (other.along.dot(d) * other.half.x).abs() + (other.along.perp().dot(d) * other.half.y).abs();
        let (wide, high) = (seen(self.along), seen(across));
        let half = DVec2::new(self.half.x + gap / 2.0 + wide, self.half.y.max(high));
        let own = self.along * (self.half.x - half.x);
        let its = self.along * (half.x - wide);
        let moved = |lines: Vec<Vec<DVec2>>, by: DVec2| -> Vec<Vec<DVec2>> {
            lines.into_iter().map(|l| l.into_iter().map(|p| p + by).collect()).collect()
        };
        let mut lines = moved(self.lines, own);
        lines.extend(moved(other.lines, its));
        Self { lines, half, along: self.along }
    }

    /// The box's corners about a point, counter-clockwise.
    #[must_use]
    pub fn corners(&self, at: DVec2) -> [DVec2; 4] {
        let (x, y) = (self.along * self.half.x, self.along.perp() * self.half.y);
        [at - x - y, at + x - y, at + x + y, at - x + y]
    }

    /// The strokes about a point.
    #[must_use]
    pub fn at(&self, at: DVec2) -> Vec<Vec<DVec2>> {
        self.lines.iter().map(|l| l.iter().map(|p| *p + at).collect()).collect()
    }

    /// How far the box reaches from its middle along a unit direction.
    #[must_use]
    pub fn reach(&self, d: DVec2) -> f64 {
        (self.along.dot(d) * self.half.x).abs() + (self.along.perp().dot(d) * self.half.y).abs()
    }
}
