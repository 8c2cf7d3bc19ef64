//! What a prototype proves and what it does not, with what differs, measured on both.

use super::soften::Softened;
use crate::finish::{Built, Why};
use crate::geom::DVec3;
use crate::job::Job;
use crate::material::Role;
use crate::solid::Plate;

/// A holder's outside, in the design's sheets and in board.
#[derive(Clone, Debug, PartialEq)]
pub struct OutsideNote {
    /// Its letter.
    pub holder: String,
    /// Width, depth, height of the box round its finished parts, design, mm.
    pub design_mm: [f64; 3],
    /// The same in board.
    pub board_mm: [f64; 3],
}

/// A cell, in the design's sheets and in board.
#[derive(Clone, Debug, PartialEq)]
pub struct CellNote {
    /// Its holder's letter.
    pub holder: String,
    /// Which of the holder's cells, from 1.
    pub cell: usize,
    /// Clear width and depth, design, mm.
    pub design_mm: [f64; 2],
    /// The same in board.
    pub board_mm: [f64; 2],
}

/// What a prototype is, proves, and does not prove.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    /// Name of the board.
    pub board: String,
    /// Its true thickness, mm.
    pub thickness_mm: f64,
    /// A slot square to what enters it, in board, mm: thickness less squeeze.
    pub square_slot_mm: f64,
    /// The narrowest slot that is cut in the design, finished, mm; none where there are no slots.
    pub narrowest_slot_design_mm: Option<f64>,
    /// The same in board.
    pub narrowest_slot_board_mm: Option<f64>,
    /// How much of the design is made.
    pub made: String,
    /// Each holder's outside.
    pub outsides: Vec<OutsideNote>,
    /// Each cell that is clear.
    pub cells: Vec<CellNote>,
    /// How much higher things stand than they will, mm: the most of all.
    pub things_higher_mm: f64,
    /// What it proves.
    pub proves: Vec<String>,
    /// What it does not.
    pub does_not_prove: Vec<String>,
    /// Checks that say nothing about board.
    pub softened: Vec<Softened>,
}

/// Compares the twin with the design that it stands for.
#[must_use]
pub fn note(design: &[Built], board: &[Built], job: &Job, made: String, softened: Vec<Softened>) -> Note {
    let stock = job.stocks.first();
    let thickness_mm = stock.map_or(0.0, |s| s.thickness_mm);
    let pairs = || design.iter().zip(board);
    let outsides: Vec<OutsideNote> = pairs()
        .map(|(d, b)| OutsideNote { holder: d.letter.clone(), design_mm: outside_mm(d), board_mm: outside_mm(b) })
        .collect();
    let cells = pairs().flat_map(|(d, b)| cells(d, b)).collect::<Vec<_>>();
    let higher = pairs().flat_map(|(d, b)| d.assembly.berths.iter().zip(&b.assembly.berths));
    let things_higher_mm = higher.map(|(d, b)| b.pose.origin.z - d.pose.origin.z).fold(0.0, f64::max);
    let narrowest_slot_design_mm = narrowest_slot_mm(design);
    let narrowest_slot_board_mm = narrowest_slot_mm(board);
    Note {
        board: stock.map_or(String::new(), |s| s.profile.name.clone()),
        thickness_mm,
        square_slot_mm: thickness_mm + job.fits.first().map_or(0.0, |f| f.mm(Role::Divider)),
        proves: proves(job, &outsides, pairs().map(|(d, b)| turned_deg(d, b)).fold(0.0, f64::max)),
        does_not_prove: does_not_prove(&cells, things_higher_mm, narrowest_slot_design_mm, narrowest_slot_board_mm),
        narrowest_slot_design_mm,
        narrowest_slot_board_mm,
        made,
        outsides,
        cells,
        things_higher_mm,
        softened,
    }
}

/// Width, depth and height of the box round all finished parts of a holder.
fn outside_mm(built: &Built) -> [f64; 3] {
    let plates = built.assembly.panels.iter().zip(&built.finished.panels);
    let (lo, hi) = plates
        .map(|(p, f)| Plate { slab: &p.slab, region: &f.region }.bounds())
        .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(lo, hi), (a, b)| (lo.min(a), hi.max(b)));
    (hi - lo).to_array()
}

fn cells(design: &Built, board: &Built) -> Vec<CellNote> {
    let bays = design.assembly.bays.iter().zip(&board.assembly.bays).enumerate();
    let clear = |b: &crate::assembly::Bay| [b.x.1 - b.x.0, b.y.1 - b.y.0];
    bays.map(|(i, (d, b))| CellNote {
        holder: design.letter.clone(),
        cell: i + 1,
        design_mm: clear(d),
        board_mm: clear(b),
    })
    .collect()
}

/// The narrowest closed slot of all finished parts.
fn narrowest_slot_mm(holders: &[Built]) -> Option<f64> {
    holders
        .iter()
        .flat_map(|b| &b.finished.panels)
        .flat_map(|p| &p.cuts)
        .filter(|c| matches!(c.why, Why::Slot(_)))
        .filter_map(|c| match c.contour.vertices.as_slice() {
            [a, b, d, ..] => Some(a.p.distance(b.p).min(b.p.distance(d.p))),
            _ => None,
        })
        .reduce(f64::min)
}

/// Sizes closer than this are kept, mm: a knife does not do better.
const KEPT_MM: f64 = 0.2;

/// Angles closer than this are kept, degrees: the closest that a bevel gauge shows.
const KEPT_DEG: f64 = 0.1;

/// By how much the most turned panel or thing is turned against the design's, degrees.
fn turned_deg(design: &Built, board: &Built) -> f64 {
    let panels = design.assembly.panels.iter().zip(&board.assembly.panels);
    let things = design.assembly.berths.iter().zip(&board.assembly.berths);
    let axes = panels.map(|(d, b)| (d.slab.frame.z, b.slab.frame.z)).chain(things.map(|(d, b)| (d.pose.z, b.pose.z)));
    axes.map(|(d, b)| libm::atan2(d.cross(b).length(), d.dot(b)).to_degrees()).fold(0.0, f64::max)
}

fn proves(job: &Job, outsides: &[OutsideNote], turned_deg: f64) -> Vec<String> {
    let off = outsides.iter().flat_map(|o| o.design_mm.iter().zip(&o.board_mm)).map(|(d, b)| (d - b).abs());
    let worst = off.fold(0.0, f64::max);
    let mut all = vec![];
    if worst <= KEPT_MM {
        all.push("Outside: it goes into the space as the design will.".to_owned());
    }
    if turned_deg <= KEPT_DEG {
        all.push("Angles: leans and slopes are the design's.".to_owned());
    }
    all.push(
        "Reach: what the hand takes stands where it will, with less room beside it than there will be.".to_owned(),
    );
    if job.space.lid.is_some() {
        all.push("Lid: where it closes over this it will close over the holder; nothing stands lower here.".to_owned());
    }
    all.push("Order: it goes together and comes apart in the design's order; the joints are the same.".to_owned());
    all
}

fn does_not_prove(cells: &[CellNote], higher_mm: f64, design: Option<f64>, board: Option<f64>) -> Vec<String> {
    let mut all = vec![match (design, board) {
        (Some(d), Some(b)) => format!(
            "Slot fit: slots are {b:.2} mm here and {d:.2} in the design. Never trace its parts onto the sheet: every slot would be {:.2} too wide.",
            b - d
        ),
        _ => "Fit: board is squeezed, wood is not.".to_owned(),
    }];
    let narrower = cells.iter().map(|c| c.design_mm[0] - c.board_mm[0]).fold(0.0, f64::max);
    let shallower = cells.iter().map(|c| c.design_mm[1] - c.board_mm[1]).fold(0.0, f64::max);
    if narrower.max(shallower) > 0.0 {
        all.push(format!(
            "Room in the cells: they are up to {narrower:.2} mm narrower and {shallower:.2} mm shallower than they will be."
        ));
    }
    if higher_mm > 0.0 {
        all.push(format!("Height to the last {higher_mm:.2} mm: things stand that much higher than they will."));
    }
    all.push("Strength, sag and weight.".to_owned());
    all
}
