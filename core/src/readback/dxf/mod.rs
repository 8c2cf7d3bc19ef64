//! Reads a DXF as text: units, and the lines of its model space.
//!
//! Group codes: DXF reference (2007), chapters HEADER and ENTITIES. Binary files, blocks and splines
//! are refused by name; texts, points and the like are no lines and are passed over.

mod entities;
mod tags;

use super::fault::unread;
use super::limits::ReadLimits;
use super::line::Line;
use crate::finding::Finding;
use tags::Tags;

/// The lines of a file, in millimetres.
///
/// # Errors
/// The first thing that cannot be read, with its place in the file.
pub fn read(file: &str, bytes: &[u8], limits: &ReadLimits) -> Result<Vec<Line>, Finding> {
    if bytes.contains(&0) {
        return Err(unread(file, "bytes of 0", "DXF as text", format!("{file} is no text: save it as DXF in ASCII.")));
    }
    let mut tags = Tags::new(file, bytes);
    let (mut lines, mut scale, mut sections, mut ended) = (vec![], 1.0, 0, false);
    while let Some(tag) = tags.next()? {
        match (tag.code, tag.value.as_str()) {
            (0, "SECTION") => {
                sections += 1;
                let name = match tags.next()? {
                    Some(t) if t.code == 2 => t.value,
                    _ => String::new(),
                };
                match name.as_str() {
                    "HEADER" => scale = header(file, &mut tags)?,
                    "ENTITIES" => entities::read(file, &mut tags, limits, &mut lines)?,
                    _ => skip(&mut tags)?,
                }
            }
            (0, "EOF") => {
                ended = true;
                break;
            }
            _ => {}
        }
    }
    if sections == 0 || !ended {
        let found = if sections == 0 { "no section" } else { "no EOF" };
        return Err(unread(file, found, "a whole DXF", format!("{file} is no whole DXF: it has {found}.")));
    }
    for line in &mut lines {
        for v in &mut line.vertices {
            v.p *= scale;
        }
        if !line.is_sound() {
            let first = line.vertices.first().map_or(String::new(), |v| format!("x {} y {}", v.p.x, v.p.y));
            return Err(unread(
                file,
                first,
                "numbers that are finite and within 100 m",
                format!("{file} has a line with numbers that no part has."),
            ));
        }
    }
    Ok(lines)
}

/// Millimetres of one drawing unit, by $INSUNITS (DXF reference, HEADER): unitless counts as millimetres.
fn header(file: &str, tags: &mut Tags) -> Result<f64, Finding> {
    let mut scale = 1.0;
    while let Some(tag) = tags.next()? {
        if tag.code == 0 && tag.value == "ENDSEC" {
            return Ok(scale);
        }
        if tag.code == 9 && tag.value == "$INSUNITS" {
            let Some(unit) = tags.next()?.filter(|t| t.code == 70) else { continue };
            scale = match unit.value.as_str() {
                "0" | "4" => 1.0,
                "1" => 25.4,
                "2" => 304.8,
                "5" => 10.0,
                "6" => 1000.0,
                other => {
                    return Err(unread(
                        file,
                        format!("$INSUNITS {other}"),
                        "millimetres (4), or 0, 1, 2, 5, 6",
                        format!("{file} is drawn in a unit that is not read ($INSUNITS {other})."),
                    ));
                }
            };
        }
    }
    Ok(scale)
}

fn skip(tags: &mut Tags) -> Result<(), Finding> {
    while let Some(tag) = tags.next()? {
        if tag.code == 0 && tag.value == "ENDSEC" {
            break;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests;
