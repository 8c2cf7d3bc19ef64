//! The ENTITIES section: lines, arcs, circles, and polylines with bulges.

use super::super::fault::{short, unread};
use super::super::limits::{ReadLimits, reached};
use super::super::line::{Line, arc};
use super::tags::{Tag, Tags};
use crate::finding::Finding;
use crate::geom::{DVec2, Segment, Vertex};
use core::f64::consts::TAU;

/// The pairs of one entity, up to the next.
struct Entity {
    kind: String,
    line: usize,
    tags: Vec<Tag>,
}

/// Entities that draw no line of their own: an editor may leave them, the beam does not follow them.
const NO_LINES: [&str; 9] =
    ["TEXT", "MTEXT", "POINT", "DIMENSION", "ATTDEF", "VIEWPORT", "SEQEND", "LEADER", "MLEADER"];

/// Reads up to the end of the section.
pub fn read(file: &str, tags: &mut Tags, limits: &ReadLimits, out: &mut Vec<Line>) -> Result<(), Finding> {
    let mut count = 0;
    // a POLYLINE's corners follow it as entities of their own
    let mut open: Option<Line> = None;
    while let Some(entity) = next(tags)? {
        let reader = One { file, e: &entity };
        match entity.kind.as_str() {
            "ENDSEC" => {
                out.extend(open.take());
                return Ok(());
            }
            "VERTEX" => {
                let v = reader.vertex()?;
                if let Some(line) = &mut open {
                    line.vertices.push(v);
                }
            }
            kind => {
                out.extend(open.take());
                match kind {
                    "POLYLINE" => open = Some(reader.polyline_head()?),
                    "LWPOLYLINE" => out.push(reader.lwpolyline(limits)?),
                    "LINE" => out.push(reader.line()?),
                    "ARC" => out.push(reader.arc()?),
                    "CIRCLE" => out.push(reader.circle()?),
                    kind if NO_LINES.contains(&kind) => {}
                    _ => return Err(reader.foreign()),
                }
            }
        }
        count += entity.tags.len() / 2;
        if count > limits.vertices {
            return Err(reached("too-many-vertices", file, "corners", count, limits.vertices));
        }
    }
    Err(unread(file, "no ENDSEC", "a whole DXF", format!("{file} ends within its list of entities.")))
}

fn next(tags: &mut Tags) -> Result<Option<Entity>, Finding> {
    let line = tags.line();
    let Some(head) = tags.next()? else { return Ok(None) };
    let mut entity = Entity { kind: head.value, line, tags: vec![] };
    while let Some(tag) = tags.next()? {
        if tag.code == 0 {
            tags.put_back(tag);
            break;
        }
        entity.tags.push(tag);
    }
    Ok(Some(entity))
}

struct One<'a> {
    file: &'a str,
    e: &'a Entity,
}

impl One<'_> {
    fn fault(&self, found: &str, need: &'static str) -> Finding {
        let (file, kind, line) = (self.file, short(&self.e.kind), self.e.line);
        let why = format!("The {kind} at line {line} of {file} has {}.", short(found));
        unread(file, format!("{kind}: {found}"), need, why)
    }

    fn number(&self, value: &str) -> Result<f64, Finding> {
        match value.parse::<f64>() {
            Ok(v) if v.is_finite() => Ok(v),
            _ => Err(self.fault(&format!("\"{value}\" in the place of a number"), "finite numbers")),
        }
    }

    fn get(&self, code: i32) -> Result<Option<f64>, Finding> {
        self.e.tags.iter().find(|t| t.code == code).map(|t| self.number(&t.value)).transpose()
    }

    fn need(&self, code: i32) -> Result<f64, Finding> {
        self.get(code)?.ok_or_else(|| self.fault(&format!("no group {code}"), "all groups of its kind"))
    }

    fn layer(&self) -> String {
        self.e.tags.iter().find(|t| t.code == 8).map_or("0", |t| t.value.as_str()).to_owned()
    }

    fn point(&self, code: i32) -> Result<DVec2, Finding> {
        Ok(DVec2::new(self.need(code)?, self.need(code + 10)?))
    }

    /// A part lies in its own plane: the extrusion may only look up or down. Down mirrors x (DXF
    /// reference, arbitrary axis algorithm), and a mirrored part is not the part.
    fn flat(&self) -> Result<(), Finding> {
        let n = [self.get(210)?.unwrap_or(0.0), self.get(220)?.unwrap_or(0.0), self.get(230)?.unwrap_or(1.0)];
        if n[0].abs() < 1e-9 && n[1].abs() < 1e-9 && n[2] > 0.0 {
            return Ok(());
        }
        Err(self.fault("an extrusion direction that is not straight up", "flat outlines, z up (group 230 = 1)"))
    }

    fn flags(&self) -> Result<i64, Finding> {
        Ok(self.get(70)?.unwrap_or(0.0).clamp(-1e9, 1e9) as i64)
    }

    fn polyline_head(&self) -> Result<Line, Finding> {
        self.flat()?;
        let flags = self.flags()?;
        // 2 and 4 are fitted curves, 8 and more are in space (DXF reference, POLYLINE group 70)
        if flags & !(1 | 128) != 0 {
            return Err(self.fault(&format!("flags {flags}"), "a plain 2D polyline"));
        }
        Ok(Line { layer: self.layer(), vertices: vec![], closed: flags & 1 == 1 })
    }

    fn vertex(&self) -> Result<Vertex, Finding> {
        Ok(Vertex { p: self.point(10)?, bulge: self.get(42)?.unwrap_or(0.0) })
    }

    fn lwpolyline(&self, limits: &ReadLimits) -> Result<Line, Finding> {
        self.flat()?;
        let said = self.need(90)?;
        let mut vertices: Vec<Vertex> = vec![];
        for t in &self.e.tags {
            match (t.code, vertices.last_mut()) {
                (10, _) => vertices.push(Vertex { p: DVec2::new(self.number(&t.value)?, f64::NAN), bulge: 0.0 }),
                (20, Some(v)) => v.p.y = self.number(&t.value)?,
                (42, Some(v)) => v.bulge = self.number(&t.value)?,
                _ => {}
            }
        }
        if vertices.len() > limits.vertices {
            return Err(reached("too-many-vertices", self.file, "corners", vertices.len(), limits.vertices));
        }
        if said != vertices.len() as f64 || vertices.iter().any(|v| v.p.y.is_nan()) {
            let found = format!("{} corners and says {said}", vertices.len());
            return Err(self.fault(&found, "as many corners as group 90 says, each with x and y"));
        }
        Ok(Line { layer: self.layer(), vertices, closed: self.flags()? & 1 == 1 })
    }

    fn line(&self) -> Result<Line, Finding> {
        Ok(Line::along(&self.layer(), &[Segment::line(self.point(10)?, self.point(11)?)]))
    }

    fn radius(&self) -> Result<f64, Finding> {
        let r = self.need(40)?;
        if r > 0.0 { Ok(r) } else { Err(self.fault(&format!("the radius {r}"), "a radius above 0")) }
    }

    fn arc(&self) -> Result<Line, Finding> {
        self.flat()?;
        let (from, to) = (self.need(50)?, self.need(51)?);
        // counter-clockwise from the first angle to the second
        let turn = (to - from).rem_euclid(360.0);
        let sweep = if turn == 0.0 { 360.0 } else { turn };
        let segments = arc(self.point(10)?, self.radius()?, from.to_radians(), sweep.to_radians());
        Ok(Line::along(&self.layer(), &segments))
    }

    fn circle(&self) -> Result<Line, Finding> {
        self.flat()?;
        let segments = arc(self.point(10)?, self.radius()?, 0.0, TAU);
        let vertices = segments.iter().map(|s| Vertex { p: s.a, bulge: s.bulge }).collect();
        Ok(Line { layer: self.layer(), vertices, closed: true })
    }

    fn foreign(&self) -> Finding {
        let why = match self.e.kind.as_str() {
            "INSERT" => "a block in the place of lines: explode it",
            "SPLINE" | "ELLIPSE" => "a curve that is no arc: convert it to arcs and lines",
            _ => "a kind of line that is not read",
        };
        self.fault(why, "LINE, ARC, CIRCLE, LWPOLYLINE or POLYLINE")
    }
}
