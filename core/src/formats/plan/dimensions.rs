//! Dimensions: the room, each holder's outer size, clear widths and depths of compartments.

use super::canvas::Canvas;
use super::scene::{Place, Scene};
use crate::finish::Built;
use crate::geom::{DVec2, DVec3};
use crate::units::tidy;

/// First row of dimension lines off the drawing, and from row to row, mm on the page.
const FIRST_MM: f64 = 5.0;
const STEP_MM: f64 = 5.5;
/// Sizes on paper: tenths are what a caliper in a drawer gives.
fn said(v: f64) -> String {
    tidy((v * 10.0).round() / 10.0)
}

/// Below and left of the plan.
pub fn plan(scene: &Scene, canvas: &mut Canvas, place: &Place) {
    let room = scene.room_mm();
    let (mut below, mut left) = (FIRST_MM, FIRST_MM);
    for axis in [true, false] {
        let (cells, sizes) = chains(scene, axis);
        let row = if axis { &mut below } else { &mut left };
        let whole: Chain = room.iter().map(|r| (0.0, if axis { r.x } else { r.y })).collect();
        // a holder that fills the room needs no second line
        let same = |(a, b): (&(f64, f64), &(f64, f64))| (a.0 - b.0).abs().max((a.1 - b.1).abs()) < SAME_MM;
        let filled = sizes.len() == whole.len() && sizes.iter().zip(&whole).all(same);
        for spans in [cells, sizes, if filled { vec![] } else { whole }] {
            if !spans.is_empty() {
                spans.iter().for_each(|s| span(canvas, place, axis, *s, *row));
                *row += STEP_MM;
            }
        }
    }
}

/// Stretches side by side: from and to.
type Chain = Vec<(f64, f64)>;

/// Clear stretches of compartments, and outer sizes, along x or y.
fn chains(scene: &Scene, along_x: bool) -> (Chain, Chain) {
    let pick = |p: DVec3| if along_x { p.x } else { p.y };
    let mut cells: Chain = vec![];
    let mut sizes: Chain = vec![];
    for built in scene.holders {
        let from = pick(built.origin);
        for b in &built.assembly.bays {
            let s = if along_x { b.x } else { b.y };
            let s = (s.0 + from, s.1 + from);
            if !cells.iter().any(|c| (c.0 - s.0).abs() < SAME_MM && (c.1 - s.1).abs() < SAME_MM) {
                cells.push(s);
            }
        }
        let size = if along_x { built.size.width_mm } else { built.size.depth_mm };
        if along_x || sizes.is_empty() {
            sizes.push((from, from + size));
        }
    }
    // compartments of different rows overlap: only a clean chain can be read
    cells.sort_by(|a, b| a.0.total_cmp(&b.0));
    if cells.windows(2).any(|w| w[1].0 < w[0].1) {
        cells.clear();
    }
    (cells, sizes)
}

/// Two stretches nearer than this are one, mm.
const SAME_MM: f64 = 0.05;

fn span(canvas: &mut Canvas, place: &Place, along_x: bool, (from, to): (f64, f64), off: f64) {
    let at = |v: f64| {
        let p = if along_x { DVec2::new(v, place.least.y) } else { DVec2::new(place.least.x, v) };
        place.page(p)
    };
    // below a level line, left of an upright one that runs up
    canvas.dimension(at(from), at(to), if along_x { off } else { -off }, &said(to - from));
}

/// Left of a section: the holders' heights and the room's.
pub fn heights(scene: &Scene, canvas: &mut Canvas, place: &Place) {
    let mut tops: Vec<f64> = scene.holders.iter().map(|b: &Built| b.origin.z + b.size.height_mm).collect();
    let (_, all) = scene.extents();
    tops.push(all.z);
    tops.extend(scene.room_mm().map(|r| r.z));
    tops.sort_by(f64::total_cmp);
    tops.dedup_by(|a, b| (*a - *b).abs() < SAME_MM);
    for (i, top) in tops.iter().enumerate() {
        let at = |v: f64| place.page(DVec2::new(place.least.x, v));
        canvas.dimension(at(0.0), at(*top), -(FIRST_MM + STEP_MM * i as f64), &said(*top));
    }
}
