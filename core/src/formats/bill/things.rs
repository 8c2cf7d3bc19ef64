//! Things of the bill: which holder and which pocket each has.

use super::super::numbers::mm2;
use crate::finish::Built;
use crate::geom::DVec3;
use crate::made::Made;
use crate::things::Thing;
use serde::Serialize;

/// One thing in its place.
#[derive(Serialize)]
pub struct ThingRow<'a> {
    /// The caller's name for it.
    pub thing: &'a str,
    /// What it is: bottle, can, loose …
    pub kind: &'static str,
    /// Letter of its holder; null when it has none.
    pub holder: Option<&'a str>,
    /// Number of its pocket or compartment in the holder.
    pub pocket: Option<usize>,
    /// How many stand there: 1, or the pieces of loose parts.
    pub count: usize,
    /// Where its base (or the middle of its compartment's floor) is in the space.
    pub place_mm: Option<[f64; 3]>,
    /// Angle of its axis above the level; null for loose parts.
    pub lean_deg: Option<f64>,
}

/// All things: berths first, then compartments, then what has no place.
pub fn rows(made: &Made) -> Vec<ThingRow<'_>> {
    let mut all: Vec<ThingRow> = made.holders.iter().flat_map(|h| held(made, h)).collect();
    for thing in &made.job.things {
        if !all.iter().any(|r| r.thing == thing.id()) {
            all.push(row(thing, None, None, thing.count(), None));
        }
    }
    all
}

fn held<'a>(made: &'a Made, built: &'a Built) -> Vec<ThingRow<'a>> {
    let thing = |i: usize| made.job.things.get(i);
    let berths = built.assembly.berths.iter().enumerate().filter_map(|(i, b)| {
        let lean = libm::asin(b.pose.z.z.clamp(-1.0, 1.0)).to_degrees();
        let mut r = row(thing(b.thing)?, Some(&built.letter), Some(i + 1), 1, Some(b.pose.origin + built.origin));
        r.lean_deg = Some(mm2(lean));
        Some(r)
    });
    let bays = built.assembly.bays.iter().enumerate().filter_map(|(i, b)| {
        let t = thing(b.thing?)?;
        let middle = DVec3::new((b.x.0 + b.x.1) / 2.0, (b.y.0 + b.y.1) / 2.0, b.z.0);
        Some(row(t, Some(&built.letter), Some(i + 1), t.count(), Some(middle + built.origin)))
    });
    berths.chain(bays).collect()
}

fn row<'a>(
    thing: &'a Thing,
    holder: Option<&'a str>,
    pocket: Option<usize>,
    count: usize,
    place: Option<DVec3>,
) -> ThingRow<'a> {
    let place_mm = place.map(|p| p.to_array().map(mm2));
    ThingRow { thing: thing.id(), kind: thing.kind(), holder, pocket, count, place_mm, lean_deg: None }
}
