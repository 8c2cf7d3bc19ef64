//! Assembly → finished outlines: cuts all meetings and shadows, in one pass from blanks.
//!
//! Stages: blanks; openings; who owns what along each common line; cuts. Every cut comes from
//! blanks, never from parts already cut, so the order of meetings does not matter to an outline.
//!
//! May import: every room above. Knows no kerf: what it makes is the size on the bench.

mod blanks;
mod built;
mod crossing;
mod keepout;
mod openings;

use self::keepout::Around;
use crate::assembly::{Assembly, Joint, PanelId};
use crate::finding::{Finding, Verdict};
use crate::geom::{Contour, Region, subtract};
use crate::joints::{Blank, Cell, Rect, Side};

pub use built::Built;
pub use crossing::Crossing;

/// Why something was cut out of a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Why {
    /// A closed slot for a tab of this meeting.
    Slot(usize),
    /// An edge or an open slot that this meeting takes.
    Edge(usize),
    /// An opening for this berth.
    Opening(usize),
    /// A named tool.
    Tool(usize),
}

/// One cut and its reason.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// What was taken away, in the panel's own plane; edges may run past the blank.
    pub contour: Contour,
    /// Why.
    pub why: Why,
}

/// A panel with its outline as it will be on the bench.
#[derive(Clone, Debug)]
pub struct FinishedPanel {
    /// The plate it was cut from.
    pub blank: Blank,
    /// The outline.
    pub region: Region,
    /// Everything that was cut out of the blank.
    pub cuts: Vec<Cut>,
}

/// A meeting with its cells.
#[derive(Clone, Debug)]
pub struct FinishedMeeting {
    /// Who owns what along the common line; empty where nothing is cut.
    pub cells: Vec<Cell>,
}

/// A holder with every outline derived.
#[derive(Clone, Debug)]
pub struct Finished {
    /// One entry for each panel of the assembly, in its order.
    pub panels: Vec<FinishedPanel>,
    /// One entry for each meeting of the assembly, in its order.
    pub meetings: Vec<FinishedMeeting>,
}

/// Derives all outlines. Faults are added to `out`; `None` when one of them leaves no outline.
/// `at` is where the holder stands in the request. `nominal_mm` is what the label of each stock says:
/// fingers and tabs are proportioned by it, so that another reading changes fits and no pattern.
#[must_use]
pub fn finish(assembly: &Assembly, nominal_mm: &[f64], at: &str, out: &mut Vec<Finding>) -> Option<Finished> {
    let before = out.len();
    let blanks = blanks::blanks(assembly, at, out)?;
    let mut cuts: Vec<Vec<Cut>> = vec![vec![]; assembly.panels.len()];
    openings::add(assembly, &blanks, &mut cuts);
    let mut meetings = Vec::with_capacity(assembly.meetings.len());
    // fixed joints first: tabs make way for them, and for one another in the order given
    let mut cells: Vec<Vec<Cell>> = vec![vec![]; assembly.meetings.len()];
    let order = |i: &usize| matches!(assembly.meetings[*i].joint, Joint::Tab { .. });
    let mut turn: Vec<usize> = (0..assembly.meetings.len()).collect();
    turn.sort_by_key(order);
    for i in turn {
        if let Some(made) = crossing::make(&Around { assembly, blanks: &blanks, cuts: &cuts, nominal_mm }, i, at, out) {
            place(assembly, &blanks, &mut cuts, i, &made);
            cells[i] = made.cuts.cells;
        }
    }
    meetings.extend(cells.into_iter().map(|cells| FinishedMeeting { cells }));
    let mut panels = Vec::with_capacity(blanks.len());
    for ((blank, cuts), panel) in blanks.into_iter().zip(cuts).zip(&assembly.panels) {
        let whole = Region { outer: Contour::polygon(&blank.outline), holes: vec![] };
        let contours: Vec<Contour> = cuts.iter().map(|c| c.contour.clone()).collect();
        let pieces = subtract(&whole, &contours);
        if let Some(f) = one_piece(&pieces, &panel.name, at) {
            out.push(f);
        }
        panels.push(FinishedPanel { blank, region: pieces.into_iter().next().unwrap_or_default(), cuts });
    }
    let failed = out[before..].iter().any(|f| f.verdict == Verdict::Refuse && UNDRAWABLE.contains(&f.code));
    (!failed).then_some(Finished { panels, meetings })
}

/// Findings after which there is no outline to look at.
const UNDRAWABLE: [&str; 4] = ["panel-unbounded", "part-vanished", "joint-too-flat", "joint-apart"];

/// A part in several pieces loses all but the first.
fn one_piece(pieces: &[Region], name: &str, at: &str) -> Option<Finding> {
    match pieces {
        [_] => None,
        [] => Some(
            Finding::new("part-vanished", Verdict::Refuse, at)
                .have("area_mm2", 0.0)
                .need("area_mm2", "more than 0")
                .why(format!("Nothing is left of part \"{name}\" once its joints and openings are cut.")),
        ),
        [_, rest @ ..] => {
            let lost: f64 = rest.iter().map(Region::area).sum();
            Some(
                Finding::new("part-in-pieces", Verdict::Refuse, at)
                    .have("pieces", pieces.len())
                    .have("area_lost_mm2", lost)
                    .need("pieces", 1.0)
                    .why(format!(
                        "Joints and openings cut part \"{name}\" into {} pieces; {lost:.1} mm² would fall out.",
                        pieces.len()
                    )),
            )
        }
    }
}

/// Turns a joint's rectangles into cuts of the two panels.
fn place(assembly: &Assembly, blanks: &[Blank], cuts: &mut [Vec<Cut>], i: usize, made: &Crossing) {
    let meeting = &assembly.meetings[i];
    let mut add = |id: PanelId, side: Side, rects: &[Rect]| {
        for rect in rects {
            let closed = rect.s.0.is_finite() && rect.s.1.is_finite() && rect.u.0.is_finite() && rect.u.1.is_finite();
            let margin = MARGIN_MM + MARGIN_STEP_MM * cuts[id.0].len() as f64;
            let contour = made.section.rect_on(side, &blanks[id.0], rect, margin);
            let why = if closed { Why::Slot(i) } else { Why::Edge(i) };
            cuts[id.0].push(Cut { contour, why });
        }
    };
    add(meeting.a, Side::A, &made.cuts.on_a);
    add(meeting.b, Side::B, &made.cuts.on_b);
}

/// Cuts that run off a panel end this far outside its blank …
const MARGIN_MM: f64 = 7.0;
/// … and each a little farther than the last: two cuts never share an edge out there.
const MARGIN_STEP_MM: f64 = 0.173;
