//! The boards of one row: plates square to the axes, or upright cross panels and a stop.

use super::lean_rows::{Board, Part, Slope, half_hole_mm};
use super::rows::body_mm;
use crate::finding::{Finding, Verdict};
use crate::geom::DVec2;
use crate::things::Thing;
use crate::units::tidy;

/// One kind of thing in a row: the thing, its clearance on the diameter, and where it stands in the request.
#[derive(Clone, Copy)]
pub struct Held<'a> {
    /// The thing.
    pub thing: &'a Thing,
    /// Its clearance on the diameter, mm.
    pub clearance_mm: f64,
    /// Which of the job's things.
    pub index: usize,
}

/// What all rows of a rack share.
#[derive(Clone, Copy, Debug)]
pub struct Build {
    /// Thickness of the boards.
    pub t: f64,
    /// Thickness of the sides that hold them.
    pub side_t: f64,
    /// Least material round an opening.
    pub web_mm: f64,
    /// Gap between rows, square to the axes.
    pub gap_mm: f64,
    /// Where the deck or cross panel stands, as a share of the body's length.
    pub share: f64,
    /// Whether a second deck holds the bodies near their bases.
    pub heel: bool,
    /// Cross panels instead of plates.
    pub cross: bool,
    /// Cross panels whose openings reach their upper edge.
    pub open: bool,
    /// Whether there is a floor that boards can be tabbed into.
    pub floor: bool,
}

/// A base stands off its plate by this, so that touching is not taken for a clash, mm.
pub const SEAT_MM: f64 = 0.01;
/// Boards stay off the floor by this where they are not tabbed into it, mm: small parts do not pass,
/// and a floor a little thicker than measured does not lift them.
const OFF_FLOOR_MM: f64 = 0.3;
/// The farthest place of a deck along a body, as a share of its length: what is beyond is shoulder.
const FARTHEST_SHARE: f64 = 0.9;
/// A second deck stands at this share of the body (common practice for two supports, no source) …
const HEEL_SHARE: f64 = 0.2;
/// … and two decks hold an axis only when they are at least this share of the body apart.
const HEEL_APART_SHARE: f64 = 0.25;
/// A foot plate reaches over this share of the bases: well past their middle.
const FOOT_SHARE: f64 = 0.8;
/// An upright stop touches the bases at this share of their height …
const STOP_SHARE: f64 = 0.75;
/// … and at most here: above, the base recedes from it.
const STOP_MOST_SHARE: f64 = 0.95;
/// Slots stay this many thicknesses off the edges of what has them (common practice).
const EDGE_PER_THICKNESS: f64 = 2.0;
/// A tab with its play needs this much more than its width.
const PLAY_MM: f64 = 0.5;

/// From a slot to the edge of the sheet that has it, or to the next joint.
#[must_use]
pub fn slot_web_mm(t: f64) -> f64 {
    EDGE_PER_THICKNESS * t + PLAY_MM
}

/// What a row's things take, in the row's side view.
struct Row {
    /// Lowest and highest edge of the holes at a place along the bodies, square to the axes.
    holes: (f64, f64),
    /// Upper edge of the largest base, and of the smallest.
    bases: (f64, f64),
    /// Shortest body.
    body: f64,
}

impl Row {
    fn of(held: &[Held], slope: Slope, share: f64) -> Self {
        let mut row =
            Self { holes: (f64::INFINITY, f64::NEG_INFINITY), bases: (0.0, f64::INFINITY), body: f64::INFINITY };
        for h in held {
            let solid = h.thing.solid();
            let body = body_mm(solid);
            let axis = slope.base_over_mm(solid);
            let hole = half_hole_mm(h.thing, h.clearance_mm, share * body).1;
            let base = axis + half_hole_mm(h.thing, 0.0, 0.0).1;
            row.holes = (row.holes.0.min(axis - hole), row.holes.1.max(axis + hole));
            row.bases = (row.bases.0.max(base), row.bases.1.min(base));
            row.body = row.body.min(body);
        }
        row
    }
}

/// The boards of a row of these things at this lean; the error says what is in the way and by how much.
pub fn boards(held: &[Held], slope: Slope, b: &Build) -> Result<Vec<Board>, Finding> {
    let row = Row::of(held, slope, b.share);
    if b.cross { uprights(held, &row, slope, b) } else { plates(held, &row, slope, b) }
}

/// A foot plate behind the bases, and one or two decks: all square to the axes.
fn plates(held: &[Held], row: &Row, slope: Slope, b: &Build) -> Result<Vec<Board>, Finding> {
    let mut all = vec![foot(row, slope, b)];
    let reach = (row.holes.0 - b.web_mm, row.holes.1 + b.web_mm);
    // the lower edge of a deck at s stands at p·cosθ + s·sinθ over the floor
    let least = (OFF_FLOOR_MM - reach.0 * slope.cos) / slope.sin;
    let deck = |s: f64| Board {
        part: Part::Deck,
        origin: slope.axis() * (s + b.t),
        normal: -slope.axis(),
        across: slope.up(),
        reach,
        t: b.t,
        tabbed: true,
        stands: false,
    };
    let s = (b.share * row.body).max(least);
    let most = FARTHEST_SHARE * row.body - b.t;
    if s > most {
        return Err(no_place(held, "deck", s, most, slope));
    }
    if b.heel {
        let heel = (HEEL_SHARE * row.body).max(least);
        let most = s - HEEL_APART_SHARE * row.body;
        if heel > most {
            return Err(no_place(held, "second deck", heel, most, slope));
        }
        all.push(deck(heel));
    }
    all.push(deck(s));
    Ok(all)
}

fn foot(row: &Row, slope: Slope, b: &Build) -> Board {
    let (sin, cos) = (slope.sin, slope.cos);
    // its hind face is the lower one
    let low = (OFF_FLOOR_MM + (b.t + SEAT_MM) * sin) / cos;
    // from here on its slots are far enough over the floor, and over the sides' lower edges
    let slots = (slot_web_mm(b.side_t) + b.t * sin) / cos;
    let (one, two) = (slots + 4.0 * b.t + PLAY_MM, slots + 7.0 * b.t + PLAY_MM);
    let wanted = if two <= row.bases.0 + b.gap_mm - PLAY_MM { two } else { one };
    Board {
        part: Part::Foot,
        origin: -slope.axis() * SEAT_MM,
        normal: -slope.axis(),
        across: slope.up(),
        reach: (low, wanted.max(FOOT_SHARE * row.bases.0)),
        t: b.t,
        tabbed: true,
        stands: false,
    }
}

/// An upright panel that the things pass through, and an upright stop behind their bases.
fn uprights(held: &[Held], row: &Row, slope: Slope, b: &Build) -> Result<Vec<Board>, Finding> {
    let (sin, cos) = (slope.sin, slope.cos);
    let middle = (row.holes.0 + row.holes.1) / 2.0;
    // z of a place at y and p is (p − y·sinθ)/cosθ: the opening's lower edge is at the hind face
    let highest_y = -(b.web_mm * cos - row.holes.0) / sin - b.t;
    let y = (middle * sin - b.share * row.body * cos - b.t / 2.0).min(highest_y);
    // where the opening's upper edge leaves the body
    let end = (row.holes.1 * sin - y) / cos;
    if end > row.body {
        return Err(no_place(held, "cross panel", end, row.body, slope));
    }
    let over = if b.open {
        // a little over the axes: the bodies cannot roll sideways
        (middle + OPEN_OVER_SHARE * (row.holes.1 - middle) - y * sin) / cos
    } else {
        (row.holes.1 - y * sin) / cos + b.web_mm
    };
    let upright = |part, y: f64, top: f64, tabbed| Board {
        part,
        origin: DVec2::new(y, 0.0),
        normal: DVec2::X,
        across: DVec2::Y,
        reach: (0.0, top),
        t: b.t,
        tabbed,
        stands: true,
    };
    let tabs = slot_web_mm(b.side_t);
    let least_most = row.bases.1 * cos * STOP_MOST_SHARE;
    let top = (row.bases.1 * cos * STOP_SHARE).max((tabs + 4.0 * b.t).min(least_most));
    let tabbed = top >= tabs + 3.0 * b.t;
    if !tabbed && !b.floor {
        return Err(stop_too_low(held, top, tabs + 3.0 * b.t));
    }
    // its front upper arris touches the bases: over the base plane y is z·tanθ
    let stop = upright(Part::Stop, top * sin / cos + SEAT_MM, top, tabbed);
    Ok(vec![stop, upright(Part::Cross, y, over, true)])
}

/// An open mouth ends this share of the radius over the axes.
const OPEN_OVER_SHARE: f64 = 0.2;

fn named(held: &[Held]) -> (String, String) {
    let first = held.first();
    (
        first.map_or(String::new(), |h| format!("/things/{}", h.index)),
        first.map_or(String::new(), |h| h.thing.id().to_owned()),
    )
}

fn no_place(held: &[Held], what: &str, have: f64, most: f64, slope: Slope) -> Finding {
    let (at, id) = named(held);
    Finding::new("board-has-no-place", Verdict::Refuse, at)
        .have("along_body_mm", have)
        .need("along_body_max_mm", most)
        .why(format!(
            "At {}° a {what} of \"{id}\" with its web over the floor comes {} mm too far up the body: lean it more, \
             or let it stand.",
            tidy(slope.deg),
            tidy(have - most)
        ))
}

fn stop_too_low(held: &[Held], have: f64, need: f64) -> Finding {
    let (at, id) = named(held);
    Finding::new("stop-too-low", Verdict::Refuse, at).have("stop_mm", have).need("stop_mm", need).why(format!(
        "Behind \"{id}\" a stop may be {have:.1} mm high, {:.1} too low for a tab in the sides, and there is no floor.",
        need - have
    ))
}
