//! Contours of one part's file as regions: which is the edge, which are openings, what is only a mark.

use super::chain::closed;
use super::fault::unread;
use super::limits::ReadLimits;
use super::line::Line;
use super::{dxf, svg};
use crate::finding::Finding;
use crate::geom::{Contour, DVec2, Region, SLIVER_MM2, faults, intersect};

/// What one file draws.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Outline {
    /// Pieces that fall out of the sheet, largest first: one, if all is well.
    pub pieces: Vec<Region>,
    /// Lines that are burnt into the face and not cut.
    pub marks: Vec<Vec<DVec2>>,
}

/// Lines of a cut file by its name's ending, in millimetres.
///
/// # Errors
/// What cannot be read, with its place.
pub fn lines(file: &str, bytes: &[u8], limits: &ReadLimits) -> Result<Vec<Line>, Finding> {
    let ending = file.rsplit('.').next().unwrap_or_default().to_ascii_lowercase();
    match ending.as_str() {
        "dxf" => dxf::read(file, bytes, limits),
        "svg" => svg::read(file, bytes, limits),
        other => Err(unread(file, other, "a .dxf or .svg file", format!("{file} is neither DXF nor SVG."))),
    }
}

/// Whether lines of a layer are burnt into the face only: by the name that this project gives it, or by
/// the trade's words for the same.
pub(super) fn is_mark(layer: &str) -> bool {
    let layer = layer.to_lowercase();
    ["mark", "engrave", "etch", "score"].iter().any(|w| layer.contains(w))
}

/// The outline of a file.
///
/// # Errors
/// Open contours, contours that cross, no contour at all.
pub fn of_file(file: &str, bytes: &[u8], limits: &ReadLimits) -> Result<Outline, Finding> {
    let all = lines(file, bytes, limits)?;
    let (marks, cuts): (Vec<&Line>, Vec<&Line>) = all.iter().partition(|l| is_mark(&l.layer));
    let corners: usize = cuts.iter().map(|l| l.vertices.len()).sum();
    if corners > MOST_CORNERS {
        return Err(super::limits::reached("too-many-vertices", file, "corners in one part", corners, MOST_CORNERS));
    }
    let pieces = regions(file, closed(file, &cuts)?)?;
    if pieces.is_empty() {
        let why = format!("{file} has no closed contour that the beam cuts through.");
        return Err(unread(file, "no closed contour", "one edge, and openings within it", why));
    }
    Ok(Outline { pieces, marks: marks.iter().map(|l| l.vertices.iter().map(|v| v.p).collect()).collect() })
}

/// One part has fewer corners than this, and fewer contours than a tenth of it: a deck of 500 openings has 8,000.
const MOST_CORNERS: usize = 20_000;

/// Nests contours: what lies in none is an edge, what lies in one is an opening, and so on by turns.
fn regions(file: &str, contours: Vec<Contour>) -> Result<Vec<Region>, Finding> {
    let mut all: Vec<(f64, Contour)> =
        contours.into_iter().map(|c| (c.area().abs(), c)).filter(|c| c.0 > SLIVER_MM2).collect();
    all.sort_by(|a, b| b.0.total_cmp(&a.0));
    if all.len() > MOST_CORNERS / 10 {
        return Err(super::limits::reached("too-many-contours", file, "contours", all.len(), MOST_CORNERS / 10));
    }
    let boxes: Vec<(DVec2, DVec2)> = all.iter().map(|c| c.1.bounds()).collect();
    let within = |i: usize, j: usize| {
        boxes[j].0.cmple(boxes[i].0).all() && boxes[i].1.cmple(boxes[j].1).all() && all[i].1.lies_in(&all[j].1)
    };
    // the smallest of the larger ones that hold it
    let holder: Vec<Option<usize>> = (0..all.len()).map(|i| (0..i).rev().find(|j| within(i, *j))).collect();
    let mut depth = vec![0_usize; all.len()];
    for i in 0..all.len() {
        depth[i] = holder[i].map_or(0, |j| depth[j] + 1);
    }
    let piece = |i: usize| {
        let holes = (0..all.len()).filter(|h| holder[*h] == Some(i)).map(|h| all[h].1.clone()).collect();
        Region::new(all[i].1.clone(), holes)
    };
    let pieces: Vec<Region> = (0..all.len()).filter(|i| depth[*i].is_multiple_of(2)).map(piece).collect();
    for p in &pieces {
        if let Some(f) = faults(p).into_iter().next() {
            let why = format!("An outline of {file} is no part: {f}.");
            return Err(unread(file, f.to_string(), "contours that neither cross nor touch nor run double", why));
        }
    }
    let apart = |a: &Region, b: &Region| {
        let ((a0, a1), (b0, b1)) = (a.bounds(), b.bounds());
        a0.cmpge(b1).any() || b0.cmpge(a1).any() || intersect(a, b).is_empty()
    };
    for (i, a) in pieces.iter().enumerate() {
        if let Some(b) = pieces[i + 1..].iter().find(|b| !apart(a, b)) {
            let c = b.centroid();
            let why = format!("Two contours of {file} cross, the smaller about x {:.2} y {:.2}.", c.x, c.y);
            return Err(unread(
                file,
                "contours that cross",
                "contours that neither cross nor touch nor run double",
                why,
            ));
        }
    }
    Ok(pieces)
}
