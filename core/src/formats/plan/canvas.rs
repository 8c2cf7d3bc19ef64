//! A page in millimetres: lines, areas, words and dimensions, on SVG.

use super::super::numbers::mm2;
use crate::geom::DVec2;
use std::fmt::Write as _;
use svg::Document;
use svg::node::element::{Description, Group, Path, Rectangle, Text, Title};

/// Height of small and of plain letters, mm (ISO 3098 has 2.5 and 3.5).
pub const SMALL_MM: f64 = 2.5;
/// Plain letters.
pub const PLAIN_MM: f64 = 3.5;
/// Mean width of a letter of a plain sans-serif, in its size.
const LETTER_WIDTH: f64 = 0.56;

/// How a line or an area looks.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// Colour of the line, or `none`.
    pub stroke: &'static str,
    /// Width of the line, mm.
    pub width_mm: f64,
    /// Colour of the area, or `none`.
    pub fill: &'static str,
    /// Dashes, empty for a whole line.
    pub dashes: &'static str,
    /// 1 hides what lies below.
    pub opacity: f64,
}

impl Style {
    /// A line without an area.
    pub const fn line(stroke: &'static str, width_mm: f64) -> Self {
        Self { stroke, width_mm, fill: "none", dashes: "", opacity: 1.0 }
    }
    /// An area with a line around it.
    pub const fn area(fill: &'static str, stroke: &'static str, width_mm: f64) -> Self {
        Self { stroke, width_mm, fill, dashes: "", opacity: 1.0 }
    }
    /// The same, dashed.
    pub const fn dashed(self, dashes: &'static str) -> Self {
        Self { dashes, ..self }
    }
    /// The same, letting through what lies below.
    pub const fn clear(self, opacity: f64) -> Self {
        Self { opacity, ..self }
    }
}

/// Where words stand beside their point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// They begin there.
    Start,
    /// Their middle is there.
    Middle,
}

/// A growing page; y runs down.
pub struct Canvas {
    size: DVec2,
    group: Group,
    taken: Vec<(DVec2, DVec2)>,
}

impl Canvas {
    /// An empty white page.
    pub fn new(size: DVec2) -> Self {
        let paper = Rectangle::new().set("width", size.x).set("height", size.y).set("fill", "white");
        Self { size, group: Group::new().add(paper), taken: vec![] }
    }

    /// Closed outlines as one area; holes are left out by the even-odd rule.
    pub fn area(&mut self, outlines: &[Vec<DVec2>], style: Style) {
        self.path(outlines, true, style);
    }

    /// An open line.
    pub fn line(&mut self, points: &[DVec2], style: Style) {
        self.path(&[points.to_vec()], false, style);
    }

    fn path(&mut self, outlines: &[Vec<DVec2>], closed: bool, style: Style) {
        let mut d = String::new();
        for o in outlines {
            for (i, p) in o.iter().enumerate() {
                // writing to a String cannot fail
                let _ = write!(d, "{}{} {}", if i == 0 { "M" } else { "L" }, mm2(p.x), mm2(p.y));
            }
            if closed && !o.is_empty() {
                d.push('Z');
            }
        }
        if d.is_empty() {
            return;
        }
        let mut path = Path::new()
            .set("d", d)
            .set("fill", style.fill)
            .set("fill-rule", "evenodd")
            .set("stroke", style.stroke)
            .set("stroke-width", style.width_mm)
            .set("stroke-linejoin", "round");
        if !style.dashes.is_empty() {
            path = path.set("stroke-dasharray", style.dashes);
        }
        if style.opacity < 1.0 {
            path = path.set("fill-opacity", style.opacity);
        }
        self.group = std::mem::take(&mut self.group).add(path);
    }

    /// Words at a point (their lower edge there), turned counter-clockwise.
    pub fn words(&mut self, at: DVec2, text: &str, size_mm: f64, anchor: Anchor, turn_deg: f64, colour: &str) {
        let mut t = Text::new(text)
            .set("x", mm2(at.x))
            .set("y", mm2(at.y))
            .set("font-size", size_mm)
            .set("fill", colour)
            .set("text-anchor", if anchor == Anchor::Middle { "middle" } else { "start" });
        if turn_deg != 0.0 {
            t = t.set("transform", format!("rotate({} {} {})", -turn_deg, mm2(at.x), mm2(at.y)));
        }
        self.group = std::mem::take(&mut self.group).add(t);
    }

    /// Keeps labels off the way from one point to another.
    pub fn reserve(&mut self, a: DVec2, b: DVec2) {
        self.taken.push((a.min(b) - DVec2::ONE, a.max(b) + DVec2::ONE));
    }

    /// Words with their middle on the point, in a white field or not, unless others stand there already.
    pub fn label(&mut self, at: DVec2, text: &str, size_mm: f64, colour: &str, field: bool) -> bool {
        let half = DVec2::new(words_mm(text, size_mm) / 2.0 + 0.3, size_mm * 0.6);
        let (lo, hi) = (at - half, at + half);
        if self.taken.iter().any(|(a, b)| lo.x < b.x && a.x < hi.x && lo.y < b.y && a.y < hi.y) {
            return false;
        }
        self.taken.push((lo, hi));
        if field {
            let corners = [lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)];
            self.area(&[corners.to_vec()], Style::area("white", "none", 0.0).clear(0.8));
        }
        self.words(at + DVec2::new(0.0, size_mm * 0.36), text, size_mm, Anchor::Middle, 0.0, colour);
        true
    }

    /// A dimension between two points of the page, its line `off` away to the right of the way from
    /// `a` to `b`; level or upright.
    pub fn dimension(&mut self, a: DVec2, b: DVec2, off: f64, text: &str) {
        const THIN: Style = Style::line("#333", 0.13);
        const TICK_MM: f64 = 1.2;
        let Some(along) = (b - a).try_normalize() else { return };
        let side = DVec2::new(-along.y, along.x) * off;
        let (p, q) = (a + side, b + side);
        let beyond = side.normalize_or_zero() * 1.5;
        for (from, to) in [(a, p), (b, q)] {
            self.line(&[from + beyond * 0.5, to + beyond], THIN);
            let tick = (along + DVec2::new(along.y, -along.x)) * (TICK_MM / 2.0);
            self.line(&[to - tick, to + tick], Style::line("#333", 0.25));
        }
        self.line(&[p, q], THIN);
        let upright = along.x.abs() < 0.5;
        let middle = (p + q) / 2.0 + if upright { DVec2::new(-0.7, 0.0) } else { DVec2::new(0.0, -0.7) };
        // what does not fit between the ticks would be read as a part of its neighbour
        if words_mm(text, SMALL_MM) <= (q - p).length() {
            self.words(middle, text, SMALL_MM, Anchor::Middle, if upright { 90.0 } else { 0.0 }, "#333");
        }
    }

    /// The finished file.
    pub fn into_svg(self, title: &str, about: &str) -> String {
        let doc = Document::new()
            .set("width", format!("{}mm", self.size.x))
            .set("height", format!("{}mm", self.size.y))
            .set("viewBox", (0, 0, self.size.x, self.size.y))
            .set("font-family", "sans-serif")
            .add(Title::new(title))
            .add(Description::new().add(svg::node::Text::new(about)))
            .add(self.group);
        format!("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n{doc}\n")
    }
}

/// About how long words are, mm.
pub fn words_mm(text: &str, size_mm: f64) -> f64 {
    text.chars().count() as f64 * size_mm * LETTER_WIDTH
}
