//! Numbers, lengths, and the transforms that leave a part the same: turns, moves, equal scales.

use super::super::fault::{short, unread};
use crate::finding::Finding;
use crate::geom::DVec2;

/// An affine map: x and y axes and the zero of the inner system.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// Where the x axis goes.
    pub x: DVec2,
    /// Where the y axis goes.
    pub y: DVec2,
    /// Where the zero goes.
    pub o: DVec2,
}

impl Turn {
    /// Leaves all as it is.
    pub const NONE: Self = Self { x: DVec2::X, y: DVec2::Y, o: DVec2::ZERO };

    /// Where a point goes.
    pub fn at(&self, p: DVec2) -> DVec2 {
        self.x * p.x + self.y * p.y + self.o
    }

    /// This one after an inner one.
    pub fn after(&self, inner: &Self) -> Self {
        let dir = |d: DVec2| self.x * d.x + self.y * d.y;
        Self { x: dir(inner.x), y: dir(inner.y), o: self.at(inner.o) }
    }

    /// +1 or −1: whether arcs keep their sense. Refused where circles would not stay circles.
    pub fn hand(&self, file: &str) -> Result<f64, Finding> {
        let (a, b) = (self.x.length(), self.y.length());
        let skewed = self.x.dot(self.y).abs() > 1e-6 * a * b || (a - b).abs() > 1e-6 * a;
        if !(a.is_finite() && a > 0.0) || skewed {
            let found = format!("axes of {a} and {b}, scalar product {}", self.x.dot(self.y));
            let why = format!("{file} has a transform that scales unequally or skews.");
            return Err(unread(file, found, "turns, moves, and equal scales", why));
        }
        Ok(if self.x.perp_dot(self.y) > 0.0 { 1.0 } else { -1.0 })
    }
}

/// Numbers apart by blanks or commas; `None` when one is none or is not finite.
pub fn numbers(text: &str) -> Option<Vec<f64>> {
    text.split([' ', ',', '\t', '\n', '\r'])
        .filter(|s| !s.is_empty())
        .map(|s| s.parse::<f64>().ok().filter(|v| v.is_finite()))
        .collect()
}

/// A length with its unit in mm: CSS units, px where none stands.
pub fn millimetres(text: &str) -> Option<f64> {
    let units = [("mm", 1.0), ("cm", 10.0), ("in", 25.4), ("pt", 25.4 / 72.0), ("pc", 25.4 / 6.0), ("px", 25.4 / 96.0)];
    let text = text.trim();
    let (number, unit) =
        units.iter().find_map(|(u, mm)| text.strip_suffix(u).map(|n| (n, *mm))).unwrap_or((text, 25.4 / 96.0));
    number.trim().parse::<f64>().ok().map(|v| v * unit).filter(|v| v.is_finite() && *v > 0.0)
}

/// A `transform` attribute.
pub fn read(file: &str, text: &str) -> Result<Turn, Finding> {
    let fault = || {
        unread(
            file,
            text,
            "matrix, translate, rotate or scale",
            format!("{file} has the transform \"{}\", which is not read.", short(text)),
        )
    };
    let mut turn = Turn::NONE;
    let mut rest = text.trim();
    while !rest.is_empty() {
        let (name, after) = rest.split_once('(').ok_or_else(fault)?;
        let (inside, after) = after.split_once(')').ok_or_else(fault)?;
        let v = numbers(inside).ok_or_else(fault)?;
        turn = turn.after(&one(name.trim(), &v).ok_or_else(fault)?);
        rest = after.trim_start_matches([' ', ',', '\n', '\t', '\r']);
    }
    Ok(turn)
}

fn one(name: &str, v: &[f64]) -> Option<Turn> {
    let moved = |o: DVec2| Turn { o, ..Turn::NONE };
    match (name, v) {
        ("matrix", [a, b, c, d, e, f]) => {
            Some(Turn { x: DVec2::new(*a, *b), y: DVec2::new(*c, *d), o: DVec2::new(*e, *f) })
        }
        ("translate", [x]) => Some(moved(DVec2::new(*x, 0.0))),
        ("translate", [x, y]) => Some(moved(DVec2::new(*x, *y))),
        ("scale", [s]) => Some(Turn { x: DVec2::X * *s, y: DVec2::Y * *s, o: DVec2::ZERO }),
        ("scale", [s, t]) => Some(Turn { x: DVec2::X * *s, y: DVec2::Y * *t, o: DVec2::ZERO }),
        ("rotate", [deg]) => Some(turned(*deg)),
        ("rotate", [deg, x, y]) => {
            let c = DVec2::new(*x, *y);
            Some(moved(c).after(&turned(*deg)).after(&moved(-c)))
        }
        _ => None,
    }
}

fn turned(deg: f64) -> Turn {
    let (s, c) = libm::sincos(deg.to_radians());
    Turn { x: DVec2::new(c, s), y: DVec2::new(-s, c), o: DVec2::ZERO }
}
