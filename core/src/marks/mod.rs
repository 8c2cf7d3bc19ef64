//! What is burnt on a part's face (z = thickness): its code, which way is up or to the front, and
//! beside each joint the joint's letters, all as single lines.
//!
//! Letters stand 4 to 5 mm high and 8 mm clear of edges where there is room (common practice), smaller
//! and nearer where there is less; never nearer than 1 mm to a cut, and never on one another. What
//! does not fit even so is left out, and said.
//!
//! May import: `units`, `finding`, `geom`, `joints`, `assembly`, `finish`.

mod glyphs;
mod joint;
mod lettering;
mod room;
#[cfg(test)]
mod tests;

use crate::finish::Built;
use crate::geom::{DVec2, DVec3, Region};
use lettering::Lettering;
use room::Room;

/// The marks of one panel.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Marks {
    /// Open polylines in the panel's own plane.
    pub lines: Vec<Vec<DVec2>>,
    /// Words for which there was no room.
    pub left_out: Vec<String>,
}

/// Heights of letters, mm, largest first.
const HEIGHTS_MM: [f64; 5] = [4.5, 4.0, 3.5, 3.0, 2.5];
/// Distances to what is cut, mm, best first; the last one is the least.
const CLEAR_MM: [f64; 5] = [8.0, 5.0, 3.0, 2.0, 1.0];
/// In-plane share of "up" from which a panel counts as upright: it leans by no more than 60°.
const UPRIGHT: f64 = 0.5;

/// The marks of one panel, in its own plane.
#[must_use]
pub fn of_panel(built: &Built, panel: usize) -> Marks {
    let (Some(p), Some(finished)) = (built.assembly.panels.get(panel), built.finished.panels.get(panel)) else {
        return Marks::default();
    };
    let frame = &p.slab.frame;
    let in_plane = |d: DVec3| DVec2::new(frame.x.dot(d), frame.y.dot(d));
    let up = in_plane(DVec3::Z);
    // words stand the way the panel stands; on a level one, along its own axes
    let (says, to, letters_up) = if up.length() >= UPRIGHT {
        ("UP", up.normalize(), up.normalize())
    } else {
        ("FRONT", in_plane(DVec3::NEG_Y).normalize_or(DVec2::NEG_Y), DVec2::Y)
    };
    let (mut room, mut marks) = (Room::new(&finished.region), Marks::default());
    let middles = middles(&finished.region);
    let code = built.part_code(panel);
    marks.add(&code, in_the_middle(&mut room, &middles, |h| Lettering::of(&code, h, letters_up)));
    for i in 0..built.assembly.meetings.len() {
        if let Some(beside) = joint::of(built, i, panel) {
            let letters = Built::joint_letters(i);
            let place = beside.place(&mut room, |h| Lettering::of(&letters, h, letters_up));
            marks.add(&letters, place);
        }
    }
    let arrow = |h| Lettering::of(says, h, letters_up).beside(Lettering::arrow(h, to));
    marks.add(says, in_the_middle(&mut room, &middles, arrow));
    marks
}

/// A word as near to the middle of a face as it finds room; `None` when there is none.
#[must_use]
pub fn word_on(region: &Region, word: &str) -> Option<Vec<Vec<DVec2>>> {
    let upright = |h| Lettering::of(word, h, DVec2::Y);
    in_the_middle(&mut Room::new(region), &middles(region), upright)
}

/// A word with its middle at a place, upright.
#[must_use]
pub fn word_at(word: &str, height_mm: f64, middle: DVec2) -> Vec<Vec<DVec2>> {
    Lettering::of(word, height_mm, DVec2::Y).at(middle)
}

impl Marks {
    fn add(&mut self, words: &str, lines: Option<Vec<Vec<DVec2>>>) {
        match lines {
            Some(lines) => self.lines.extend(lines),
            None => self.left_out.push(words.to_owned()),
        }
    }
}

/// The free place nearest to the middle: large letters well clear before small ones near a cut.
fn in_the_middle(room: &mut Room, middles: &[DVec2], words: impl Fn(f64) -> Lettering) -> Option<Vec<Vec<DVec2>>> {
    for height in HEIGHTS_MM {
        let words = words(height);
        for clear in CLEAR_MM {
            if let Some(at) = middles.iter().find(|p| room.take(&words, **p, clear)) {
                return Some(words.at(*at));
            }
        }
    }
    None
}

/// Places over a face, the nearest to its middle first.
fn middles(region: &Region) -> Vec<DVec2> {
    /// Places along each side of the face's extents.
    const ACROSS: u32 = 16;
    let (lo, hi) = region.bounds();
    let middle = region.centroid();
    let share = |i: u32| (f64::from(i) + 0.5) / f64::from(ACROSS);
    let mut all: Vec<DVec2> = (0..ACROSS)
        .flat_map(|i| (0..ACROSS).map(move |k| DVec2::new(share(i), share(k))))
        .map(|s| lo + (hi - lo) * s)
        .collect();
    all.push(middle);
    // rounded, so that places that are equally near keep the order of the grid
    all.sort_by_key(|p| (p.distance(middle) * 1e6) as i64);
    all
}
