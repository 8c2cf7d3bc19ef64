//! Reads an SVG: the lines of its shapes in millimetres, y turned up, each under the name of its group.
//!
//! SVG 1.1 (W3C, second edition), chapters 7 (units, transforms), 8 (paths) and 9 (basic shapes). What draws
//! by reference (`use`, `pattern`, `image`), text and documents with a DTD are refused or passed over by name.

mod path;
mod shapes;
mod transform;
mod xml;

use super::fault::{short, unread};
use super::limits::{ReadLimits, reached};
use super::line::Line;
use crate::finding::Finding;
use crate::geom::{DVec2, Vertex};
use transform::Turn;
use xml::{Element, Event, Reader};

/// Lines, and the height of the page: y runs down in the file, and up here.
///
/// # Errors
/// The first thing that cannot be read, with its place.
pub fn read(file: &str, bytes: &[u8], limits: &ReadLimits) -> Result<Vec<Line>, Finding> {
    let text = core::str::from_utf8(bytes)
        .map_err(|e| unread(file, format!("byte {}", e.valid_up_to()), "UTF-8", format!("{file} is not UTF-8.")))?;
    let mut walk = Walk { file, limits, lines: vec![], corners: 0, stack: vec![], page: None };
    let mut xml = Reader::new(file, text);
    while let Some(event) = xml.next()? {
        match event {
            Event::Open(e) => walk.open(&e)?,
            Event::Close => {
                walk.stack.pop();
            }
        }
    }
    if walk.page.is_none() || !walk.stack.is_empty() {
        return Err(unread(file, "no whole svg element", "a whole SVG", format!("{file} is no whole SVG.")));
    }
    walk.finished()
}

/// What holds for the shapes within a group.
#[derive(Clone)]
struct Scope {
    name: String,
    turn: Turn,
    shown: bool,
}

struct Walk<'a> {
    file: &'a str,
    limits: &'a ReadLimits,
    lines: Vec<Line>,
    corners: usize,
    stack: Vec<Scope>,
    /// Height of the page in mm.
    page: Option<f64>,
}

/// Elements whose content is not drawn.
const UNSEEN: [&str; 9] = ["defs", "symbol", "clipPath", "mask", "marker", "metadata", "style", "title", "desc"];

impl Walk<'_> {
    fn open(&mut self, e: &Element) -> Result<(), Finding> {
        let outer = self.stack.last().cloned();
        if self.stack.len() >= self.limits.depth {
            return Err(reached(
                "too-deep",
                self.file,
                "groups within one another",
                self.stack.len(),
                self.limits.depth,
            ));
        }
        let scope = match (outer, e.name.as_str()) {
            (None, "svg") => self.root(e)?,
            (None, other) => {
                let why = format!("{} begins with <{}>, not with <svg>.", self.file, short(other));
                return Err(unread(self.file, other, "an svg element at the root", why));
            }
            (Some(outer), name) => {
                let own = e.get("transform").map_or(Ok(Turn::NONE), |t| transform::read(self.file, t))?;
                let shown = outer.shown && !UNSEEN.contains(&name) && e.get("display") != Some("none");
                let label =
                    if outer.name.is_empty() && name == "g" { e.get("id").unwrap_or_default() } else { &outer.name };
                let scope = Scope { name: label.to_owned(), turn: outer.turn.after(&own), shown };
                if shown {
                    self.shape(e, &scope)?;
                }
                scope
            }
        };
        if !e.empty {
            self.stack.push(scope);
        }
        Ok(())
    }

    /// Size and view box of the root say how long a unit is. Both must scale alike.
    fn root(&mut self, e: &Element) -> Result<Scope, Finding> {
        let fault = |found: String, why: &str| {
            let need = "width and height in mm (or cm, in, pt, px) and a viewBox of the same proportions";
            unread(self.file, found, need, format!("{}: {why}.", self.file))
        };
        let length = |key: &str| {
            let text = e.get(key).unwrap_or_default();
            transform::millimetres(text).ok_or_else(|| fault(format!("{key} \"{text}\""), "its size cannot be told"))
        };
        let (w, h) = (length("width")?, length("height")?);
        let view = match e.get("viewBox") {
            // without a view box a unit is a px: 25.4/96 mm (CSS)
            None => [0.0, 0.0, w * 96.0 / 25.4, h * 96.0 / 25.4],
            Some(text) => transform::numbers(text)
                .and_then(|v| <[f64; 4]>::try_from(v).ok())
                .ok_or_else(|| fault(text.to_owned(), "its viewBox is not four numbers"))?,
        };
        let (sx, sy) = (w / view[2], h / view[3]);
        if !(sx.is_finite() && sx > 0.0 && (sx - sy).abs() <= 1e-6 * sx) {
            return Err(fault(format!("scales {sx} and {sy}"), "width and height scale unequally"));
        }
        self.page = Some(h);
        let turn = Turn { x: DVec2::new(sx, 0.0), y: DVec2::new(0.0, sx), o: DVec2::new(-view[0], -view[1]) * sx };
        Ok(Scope { name: String::new(), turn, shown: true })
    }

    fn shape(&mut self, e: &Element, scope: &Scope) -> Result<(), Finding> {
        let contours = match e.name.as_str() {
            "path" => path::read(self.file, e.get("d").unwrap_or_default(), self.limits.vertices)?,
            "line" | "polyline" | "polygon" | "rect" | "circle" => shapes::read(self.file, e)?,
            "use" | "image" | "pattern" | "ellipse" | "foreignObject" => {
                let why = format!("{} has <{}>: convert it to paths.", self.file, e.name);
                return Err(unread(self.file, e.name.as_str(), "paths, lines, polygons, rectangles, circles", why));
            }
            _ => return Ok(()),
        };
        let hand = scope.turn.hand(self.file)?;
        for (vertices, closed) in contours {
            let vertices: Vec<Vertex> =
                vertices.iter().map(|v| Vertex { p: scope.turn.at(v.p), bulge: v.bulge * hand }).collect();
            self.corners += vertices.len();
            if self.corners > self.limits.vertices {
                return Err(reached("too-many-vertices", self.file, "corners", self.corners, self.limits.vertices));
            }
            self.lines.push(Line { layer: scope.name.clone(), vertices, closed });
        }
        Ok(())
    }

    /// Turns y up: the page's lower edge is 0.
    fn finished(mut self) -> Result<Vec<Line>, Finding> {
        let page = self.page.unwrap_or_default();
        for line in &mut self.lines {
            for v in &mut line.vertices {
                *v = Vertex { p: DVec2::new(v.p.x, page - v.p.y), bulge: -v.bulge };
            }
            if !line.is_sound() {
                let why = format!("{} has a line with numbers that no part has.", self.file);
                return Err(unread(self.file, "a number", "numbers that are finite and within 100 m", why));
            }
        }
        Ok(self.lines)
    }
}

#[cfg(test)]
mod tests;
