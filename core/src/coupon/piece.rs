//! All pieces of a stock's coupon, laid on as small a rectangle as suffices.

use super::comb;
use super::sample::{Sample, samples};
use crate::finish::Built;
use crate::geom::{Contour, DVec2, Region};
use crate::job::{Job, Request};
use crate::kerf::drawn;
use crate::marks;
use crate::material::{FitsSpec, Process};
use crate::nest::{Effort, NestPart, Rules, SheetSupply, Turns, nest};
use crate::readings::ReadingsRequest;
use crate::route::{Role, RouteContour};

/// A piece of this size suffices for most jobs (common practice), mm.
const SIZE_MM: [f64; 2] = [110.0, 80.0];
/// A thicker sheet's parts need more; then the coupon grows by this share until they fit …
const GROW: f64 = 1.25;
/// … at most so often: six-fold in area.
const MOST_GROWTHS: usize = 5;

/// One flat piece, as drawn.
#[derive(Clone, Debug)]
pub struct Piece {
    /// Its drawn outline.
    pub region: Region,
    /// Single-line marks.
    pub marks: Vec<Vec<DVec2>>,
    /// Whether it keeps its direction on the sheet.
    pub locked: bool,
}

impl Piece {
    /// Without marks.
    pub fn plain(region: Region, locked: bool) -> Self {
        Self { region, marks: vec![], locked }
    }

    /// A quarter turn, when asked.
    pub fn turned(self, turned: bool) -> Self {
        if !turned {
            return self;
        }
        self.mapped(DVec2::ZERO, DVec2::Y, DVec2::NEG_X)
    }

    fn mapped(self, origin: DVec2, x: DVec2, y: DVec2) -> Self {
        let lines = self.marks.iter().map(|l| l.iter().map(|p| origin + x * p.x + y * p.y).collect()).collect();
        Self { region: self.region.mapped(origin, x, y), marks: lines, locked: self.locked }
    }
}

/// One rectangle with pieces on it.
#[derive(Clone, Debug)]
pub struct Sheetlet {
    /// Width and height, mm.
    pub size_mm: [f64; 2],
    /// Every line where it lies.
    pub lines: Vec<RouteContour>,
}

/// The coupon of one stock.
#[derive(Clone, Debug)]
pub struct Coupon {
    /// Which of the job's stocks.
    pub stock: usize,
    /// The rectangles that are cut; one suffices for most jobs.
    pub sheetlets: Vec<Sheetlet>,
    /// What is to be read and answered: the request for a profile, to be filled in.
    pub readings: ReadingsRequest,
    /// The joints on it.
    pub samples: Vec<Sample>,
}

/// A coupon for each stock that the holders use and that is cut by a beam. `stop` is asked while pieces are laid.
#[must_use]
pub fn of(request: &Request, job: &Job, holders: &[Built], stop: &dyn Fn() -> bool) -> Vec<Coupon> {
    let samples = samples(job, holders);
    let used = |s: usize| holders.iter().any(|h| h.assembly.panels.iter().any(|p| p.stock == s));
    (0..job.stocks.len())
        // a knife leaves no kerf, and what is simply squeezed has no fit to feel
        .filter(|s| used(*s) && job.stocks[*s].process != Process::Knife)
        .filter_map(|s| coupon(request, job, s, &samples, stop))
        .collect()
}

fn coupon(request: &Request, job: &Job, s: usize, all: &[Sample], stop: &dyn Fn() -> bool) -> Option<Coupon> {
    let (stock, spec) = (job.stocks.get(s)?, request.stocks.get(s)?);
    let (mut pieces, combs) = comb::combs(stock);
    let (strip, strips) = comb::strip(spec);
    pieces.extend(strip);
    let samples: Vec<Sample> = all.iter().filter(|x| x.stocks.contains(&s)).cloned().collect();
    for sample in &samples {
        let Some(finished) = &sample.finished else { continue };
        for ((region, of), letter) in finished.iter().zip(sample.stocks).zip(['A', 'B']) {
            if of == s
                && let Ok(region) = drawn(region, stock.drawn_kerf_mm)
            {
                let marks = marks::word_on(&region, &format!("{}{letter}", sample.code)).unwrap_or_default();
                pieces.push(Piece { region, marks, locked: false });
            }
        }
    }
    let sheetlets = laid(&pieces, stock.gap_mm, stop)?;
    // the answers begin anew: old kerf readings belong to the old coupon
    let mut spec = spec.clone();
    (spec.kerf_mm, spec.strip, spec.kerf_readings_mm) = (None, None, None);
    let readings = ReadingsRequest {
        age_days: None,
        cutter: request.cutter.clone(),
        stock: spec,
        fits: FitsSpec { ..request.fits },
        strips,
        combs,
    };
    Some(Coupon { stock: s, sheetlets, readings, samples })
}

fn laid(pieces: &[Piece], gap_mm: f64, stop: &dyn Fn() -> bool) -> Option<Vec<Sheetlet>> {
    let parts: Vec<NestPart> = pieces
        .iter()
        .enumerate()
        .map(|(id, p)| NestPart {
            id,
            region: p.region.clone(),
            turns: if p.locked { Turns::Locked } else { Turns::Free },
        })
        .collect();
    let rules = Rules { gap_mm, margin_mm: 0.0 };
    let mut size = SIZE_MM;
    for _ in 0..MOST_GROWTHS {
        let supply = SheetSupply { id: 0, width_mm: size[0], height_mm: size[1], count: None, keep_outs: vec![] };
        if let Ok(layout) = nest(&parts, &[supply], &rules, Effort::Quick, stop) {
            let sheetlet = |sheet: &crate::nest::SheetLayout| {
                let lines = sheet.places.iter().filter_map(|place| {
                    let turn = place.turn_deg.to_radians();
                    let x = DVec2::new(libm::cos(turn), libm::sin(turn));
                    let piece = pieces.get(place.part)?.clone();
                    Some(lines(piece.mapped(DVec2::new(place.dx_mm, place.dy_mm), x, x.perp()), place.part))
                });
                Sheetlet { size_mm: size, lines: lines.flatten().collect() }
            };
            return Some(layout.sheets.iter().map(sheetlet).collect());
        }
        size = size.map(|side| side * GROW);
    }
    None
}

fn lines(piece: Piece, part: usize) -> Vec<RouteContour> {
    let line = |contour: Contour, role| RouteContour { contour, role, part };
    let marks = piece.marks.iter().map(|m| line(Contour::polygon(m), Role::Mark));
    let openings = piece.region.holes.iter().map(|h| line(h.clone(), Role::Opening));
    marks.chain(openings).chain([line(piece.region.outer.clone(), Role::Edge)]).collect()
}
