//! Path data (SVG 1.1, chapter 8.3): moves, lines, arcs, and Béziers as chords.

use super::super::fault::{short, unread};
use super::super::limits::reached;
use super::super::line::bulge_of;
use crate::finding::Finding;
use crate::geom::{DVec2, Vertex};
use core::f64::consts::{PI, TAU};

/// Corners, and whether the contour is closed.
pub type Drawn = (Vec<Vertex>, bool);

/// Chords a Bézier is given: 64 leave it by less than 0.003 mm on a curve of 10 mm that turns by a right angle.
const CHORDS: usize = 64;

/// The contours of one path.
pub fn read(file: &str, d: &str, most: usize) -> Result<Vec<Drawn>, Finding> {
    let mut p = Path {
        file,
        text: d.as_bytes(),
        i: 0,
        done: vec![],
        now: vec![],
        at: DVec2::ZERO,
        control: None,
        most,
        corners: 0,
    };
    p.run()?;
    p.end(false);
    Ok(p.done)
}

struct Path<'a> {
    file: &'a str,
    text: &'a [u8],
    i: usize,
    done: Vec<Drawn>,
    now: Vec<Vertex>,
    at: DVec2,
    /// Last control point and the command's kind, for S and T.
    control: Option<(u8, DVec2)>,
    most: usize,
    corners: usize,
}

impl Path<'_> {
    fn fault(&self, why: &str) -> Finding {
        let from = self.i.saturating_sub(10);
        let near = String::from_utf8_lossy(&self.text[from..(self.i + 10).min(self.text.len())]).into_owned();
        let why = format!("{} has path data in which {why}, near \"{}\".", self.file, short(&near));
        unread(self.file, near, "path data of SVG 1.1", why)
    }

    fn blanks(&mut self) {
        while self.text.get(self.i).is_some_and(|b| b.is_ascii_whitespace() || *b == b',') {
            self.i += 1;
        }
    }

    fn run(&mut self) -> Result<(), Finding> {
        let mut command = 0;
        loop {
            self.blanks();
            let Some(b) = self.text.get(self.i).copied() else { return Ok(()) };
            if b.is_ascii_alphabetic() {
                command = b;
                self.i += 1;
            } else if matches!(command, 0 | b'Z' | b'z') {
                return Err(self.fault("a number stands without a command"));
            }
            if self.now.is_empty() && !matches!(command, b'M' | b'm' | b'Z' | b'z') {
                // after a closed contour the next begins where that one did
                self.now.push(Vertex { p: self.at, bulge: 0.0 });
            }
            self.step(command)?;
            if self.corners > self.most {
                return Err(reached("too-many-vertices", self.file, "corners", self.corners, self.most));
            }
            command = match command {
                b'M' => b'L',
                b'm' => b'l',
                c => c,
            };
        }
    }

    fn step(&mut self, command: u8) -> Result<(), Finding> {
        let base = if command.is_ascii_lowercase() { self.at } else { DVec2::ZERO };
        let kind = command.to_ascii_uppercase();
        let mut control = None;
        match kind {
            b'M' => {
                self.end(false);
                self.at = base + self.pair()?;
                self.now.push(Vertex { p: self.at, bulge: 0.0 });
            }
            b'L' => {
                let to = base + self.pair()?;
                self.go(to, 0.0);
            }
            b'H' => {
                let to = DVec2::new(base.x + self.number()?, self.at.y);
                self.go(to, 0.0);
            }
            b'V' => {
                let to = DVec2::new(self.at.x, base.y + self.number()?);
                self.go(to, 0.0);
            }
            b'A' => self.arc(base)?,
            b'C' | b'S' => {
                let first = if kind == b'C' { base + self.pair()? } else { self.mirrored(b'C') };
                let (second, to) = (base + self.pair()?, base + self.pair()?);
                control = Some((b'C', second));
                self.bezier(first, second, to);
            }
            b'Q' | b'T' => {
                let c = if kind == b'Q' { base + self.pair()? } else { self.mirrored(b'Q') };
                let (from, to) = (self.at, base + self.pair()?);
                control = Some((b'Q', c));
                // a quadratic as a cubic: its control points two thirds of the way to the one
                self.bezier(from + (c - from) * (2.0 / 3.0), to + (c - to) * (2.0 / 3.0), to);
            }
            b'Z' => self.end(true),
            _ => return Err(self.fault("a command is unknown")),
        }
        self.control = control;
        Ok(())
    }

    fn mirrored(&self, kind: u8) -> DVec2 {
        match self.control {
            Some((k, c)) if k == kind => self.at * 2.0 - c,
            _ => self.at,
        }
    }

    fn go(&mut self, to: DVec2, bulge: f64) {
        if let Some(last) = self.now.last_mut() {
            last.bulge = bulge;
        }
        self.now.push(Vertex { p: to, bulge: 0.0 });
        self.corners += 1;
        self.at = to;
    }

    fn end(&mut self, closed: bool) {
        let mut now = core::mem::take(&mut self.now);
        if let (true, Some(first)) = (closed, now.first().map(|v| v.p)) {
            self.at = first;
            if now.len() > 1 && now.last().is_some_and(|v| v.p == first) {
                now.pop();
            }
        }
        if now.len() > 1 {
            self.done.push((now, closed));
        }
    }

    fn bezier(&mut self, c1: DVec2, c2: DVec2, to: DVec2) {
        let from = self.at;
        for k in 1..=CHORDS {
            let t = k as f64 / CHORDS as f64;
            let u = 1.0 - t;
            let p = from * (u * u * u) + c1 * (3.0 * u * u * t) + c2 * (3.0 * u * t * t) + to * (t * t * t);
            self.go(if k == CHORDS { to } else { p }, 0.0);
        }
    }

    /// A circle's arc from end points (SVG 1.1, appendix F.6.5); radii too small are enlarged (F.6.6).
    fn arc(&mut self, base: DVec2) -> Result<(), Finding> {
        let (rx, ry) = (self.number()?.abs(), self.number()?.abs());
        let _turn = self.number()?;
        let (large, sweep) = (self.flag()?, self.flag()?);
        let to = base + self.pair()?;
        if (rx - ry).abs() > 1e-6 * rx.max(1e-9) {
            return Err(self.fault("an arc is an ellipse's"));
        }
        let half = self.at.distance(to) / 2.0;
        if rx == 0.0 || half == 0.0 {
            self.go(to, 0.0);
            return Ok(());
        }
        let small = 2.0 * libm::asin((half / rx).min(1.0));
        let angle = if large { TAU - small } else { small };
        let signed = if sweep { angle } else { -angle };
        if angle > PI * 1.9 {
            // nearly a whole circle in one bulge loses digits: it is cut at its far point
            let n = (to - self.at).normalize().perp() * if sweep { -1.0 } else { 1.0 };
            let rise = rx + (rx * rx - half * half).max(0.0).sqrt();
            let far = (self.at + to) / 2.0 + n * rise;
            self.go(far, bulge_of(signed / 2.0));
            self.go(to, bulge_of(signed / 2.0));
        } else {
            self.go(to, bulge_of(signed));
        }
        Ok(())
    }

    fn pair(&mut self) -> Result<DVec2, Finding> {
        Ok(DVec2::new(self.number()?, self.number()?))
    }

    /// A flag is one digit, and the next number may follow it without a blank.
    fn flag(&mut self) -> Result<bool, Finding> {
        self.blanks();
        let flag = match self.text.get(self.i) {
            Some(b'0') => false,
            Some(b'1') => true,
            _ => return Err(self.fault("a flag is neither 0 nor 1")),
        };
        self.i += 1;
        Ok(flag)
    }

    fn number(&mut self) -> Result<f64, Finding> {
        self.blanks();
        let from = self.i;
        let (mut point, mut exponent) = (false, false);
        while let Some(b) = self.text.get(self.i).copied() {
            let after_e = self.i > from && matches!(self.text[self.i - 1], b'e' | b'E');
            let goes_on = match b {
                b'0'..=b'9' => true,
                b'+' | b'-' => self.i == from || after_e,
                b'.' => !core::mem::replace(&mut point, true) && !exponent,
                b'e' | b'E' => self.i > from && !core::mem::replace(&mut exponent, true),
                _ => false,
            };
            if !goes_on {
                break;
            }
            self.i += 1;
        }
        let text = core::str::from_utf8(&self.text[from..self.i]).unwrap_or_default();
        match text.parse::<f64>() {
            Ok(v) if v.is_finite() => Ok(v),
            _ => Err(self.fault("a number is missing or is none")),
        }
    }
}
