//! The basic shapes: line, polyline, polygon, rectangle, circle.

use super::super::fault::unread;
use super::super::line::arc;
use super::path::Drawn;
use super::transform::{millimetres, numbers};
use super::xml::Element;
use crate::finding::Finding;
use crate::geom::{DVec2, Vertex};

/// The contours of one shape, in its own units.
pub fn read(file: &str, e: &Element) -> Result<Vec<Drawn>, Finding> {
    let number = |key: &str| match e.get(key) {
        None => Ok(0.0),
        Some(text) => text.trim().parse::<f64>().ok().filter(|v| v.is_finite()).ok_or_else(|| {
            let why = format!("{file} has a <{}> whose {key} is \"{text}\".", e.name);
            unread(file, format!("{} {key}=\"{text}\"", e.name), "finite numbers without units", why)
        }),
    };
    let at = |x: &str, y: &str| Ok::<DVec2, Finding>(DVec2::new(number(x)?, number(y)?));
    let polygon = |points: &[DVec2], closed| vec![(points.iter().map(|&p| Vertex { p, bulge: 0.0 }).collect(), closed)];
    match e.name.as_str() {
        "line" => Ok(polygon(&[at("x1", "y1")?, at("x2", "y2")?], false)),
        "polyline" | "polygon" => {
            let text = e.get("points").unwrap_or_default();
            let v = numbers(text).filter(|v| v.len() % 2 == 0).ok_or_else(|| {
                unread(file, text, "pairs of finite numbers", format!("{file} has a <{}> with odd points.", e.name))
            })?;
            let points: Vec<DVec2> = v.chunks_exact(2).map(|p| DVec2::new(p[0], p[1])).collect();
            Ok(polygon(&points, e.name == "polygon"))
        }
        "rect" => {
            let (lo, size) = (at("x", "y")?, at("width", "height")?);
            let square = ["rx", "ry"].iter().all(|k| e.get(k).and_then(millimetres).is_none());
            if !square || size.cmple(DVec2::ZERO).any() {
                let why = format!("{file} has a <rect> with rounded corners or without a size.");
                return Err(unread(file, "rect", "rectangles with square corners", why));
            }
            let hi = lo + size;
            Ok(polygon(&[lo, DVec2::new(hi.x, lo.y), hi, DVec2::new(lo.x, hi.y)], true))
        }
        _ => {
            let r = number("r")?;
            if r <= 0.0 {
                return Err(unread(
                    file,
                    format!("circle r={r}"),
                    "a radius above 0",
                    format!("{file} has such a circle."),
                ));
            }
            let segments = arc(at("cx", "cy")?, r, 0.0, core::f64::consts::TAU);
            Ok(vec![(segments.iter().map(|s| Vertex { p: s.a, bulge: s.bulge }).collect(), true)])
        }
    }
}
