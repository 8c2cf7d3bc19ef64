//! The strip, the combs and their tongues: drawn sizes as they are said, no kerf added.

use super::piece::Piece;
use crate::geom::{Contour, DVec2, Region};
use crate::marks;
use crate::material::{Grain, KerfApplied, Stock, StockSpec};
use crate::readings::{CombReading, GrainWay, SlotReading, StripReading};

/// The strip is drawn this long in all, mm, and cut into this many pieces (common practice).
const STRIP_MM: f64 = 100.0;
/// … so that a tenth of what is missing is the kerf.
const STRIP_PIECES: u32 = 10;
/// Height of a piece of the strip, mm: enough for a caliper's jaws.
const PIECE_HIGH_MM: f64 = 8.0;

/// Slots differ by this much, mm (common practice).
const STEP_MM: f64 = 0.05;
/// Slots narrower and wider than the middle one: −0.15 to +0.25 about a close fit holds every word of feel.
const NARROWER: i32 = 4;
const WIDER: i32 = 4;
/// The middle slot is for this fit, mm: between thumb and slide.
const MIDDLE_FIT_MM: f64 = 0.05;
/// Depth of a slot, in thicknesses and at least in mm: a tongue stands by itself in it.
const DEEP_PER_T: f64 = 2.0;
const DEEP_MM: f64 = 8.0;
/// Material between two slots, mm, and at least a thickness: a tooth does not bend away from a mallet.
const TOOTH_MM: f64 = 5.0;
/// Height of the slots' numbers, mm, and the room around them.
const LETTER_MM: f64 = 3.0;
const CLEAR_MM: f64 = 1.5;
/// A tongue, mm: wide enough for two fingers, a fifth longer than the slot is deep.
const TONGUE_WIDE_MM: f64 = 12.0;

/// The strip's pieces; none where the machine makes up for the kerf, since nothing is missing there.
pub fn strip(spec: &StockSpec) -> (Vec<Piece>, Vec<StripReading>) {
    if spec.kerf_applied_by == KerfApplied::Machine {
        return (vec![], vec![]);
    }
    let long = STRIP_MM / f64::from(STRIP_PIECES);
    let region = Region::new(Contour::rect(DVec2::ZERO, DVec2::new(long, PIECE_HIGH_MM)), vec![]);
    let pieces = (0..STRIP_PIECES).map(|_| Piece::plain(region.clone(), true)).collect();
    let reading = StripReading { drawn_mm: Some(STRIP_MM), pieces: Some(f64::from(STRIP_PIECES)), measured_mm: None };
    (pieces, vec![reading])
}

/// Widths of the slots, narrowest first, mm as drawn.
pub fn widths(stock: &Stock) -> Vec<f64> {
    let expected = stock.thickness_mm + MIDDLE_FIT_MM - stock.drawn_kerf_mm;
    let middle = (expected / STEP_MM).round();
    // rounded anew, so that 2.95 is 2.95
    let width = |i: i32| ((middle + f64::from(i)) * STEP_MM * 100.0).round() / 100.0;
    (-NARROWER..=WIDER).map(width).filter(|w| *w > 0.2).collect()
}

/// A comb and a tongue for each grain direction that there is, and what is to be answered.
pub fn combs(stock: &Stock) -> (Vec<Piece>, Vec<CombReading>) {
    let upright = stock.supplies.first().is_some_and(|s| s.grain_upright);
    let ways: &[GrainWay] = match stock.profile.grain {
        Grain::Locked => &[GrainWay::Along, GrainWay::Across],
        Grain::Free => &[GrainWay::Along],
    };
    let (mut pieces, mut readings) = (vec![], vec![]);
    let widths = widths(stock);
    for way in ways {
        // as drawn, the slots run along y
        let turned = (*way == GrainWay::Along) != upright;
        pieces.push(comb(&widths, stock.thickness_mm, *way).turned(turned));
        pieces.push(tongue(stock.thickness_mm).turned(turned));
        let slots = widths.iter().map(|w| SlotReading { drawn_mm: *w, answer: None }).collect();
        readings.push(CombReading { tongue_mm: None, grain: *way, slots });
    }
    (pieces, readings)
}

fn deep(t: f64) -> f64 {
    (DEEP_PER_T * t).max(DEEP_MM)
}

/// Slots in both long edges, numbered from the narrowest.
fn comb(widths: &[f64], t: f64, way: GrainWay) -> Piece {
    let tooth = t.max(TOOTH_MM);
    let (low, high) = widths.split_at(widths.len().div_ceil(2));
    let long = |ws: &[f64]| ws.iter().sum::<f64>() + (ws.len() + 1) as f64 * tooth;
    let (wide, deep) = (long(low).max(long(high)), deep(t));
    let band = LETTER_MM + 2.0 * CLEAR_MM;
    let tall = 2.0 * deep + 3.0 * band;
    let mut outline = vec![DVec2::ZERO];
    let mut marks = vec![];
    let mut number = 0;
    let mut x = 0.0;
    for w in low {
        x += tooth;
        number += 1;
        outline.extend([(x, 0.0), (x, deep), (x + w, deep), (x + w, 0.0)].map(|(x, y)| DVec2::new(x, y)));
        marks.extend(marks::word_at(&number.to_string(), LETTER_MM, DVec2::new(x + w / 2.0, deep + band / 2.0)));
        x += w;
    }
    outline.extend([DVec2::new(wide, 0.0), DVec2::new(wide, tall)]);
    // back along the upper edge: its slots are listed from the right, numbered from the left
    let mut at = 0.0;
    let mut upper = vec![];
    for w in high {
        at += tooth;
        number += 1;
        upper.push((at, *w));
        let middle = DVec2::new(at + w / 2.0, tall - deep - band / 2.0);
        marks.extend(marks::word_at(&number.to_string(), LETTER_MM, middle));
        at += w;
    }
    for (x, w) in upper.into_iter().rev() {
        let corners = [(x + w, tall), (x + w, tall - deep), (x, tall - deep), (x, tall)];
        outline.extend(corners.map(|(x, y)| DVec2::new(x, y)));
    }
    outline.push(DVec2::new(0.0, tall));
    let word = match way {
        GrainWay::Along => "ALONG",
        GrainWay::Across => "ACROSS",
    };
    marks.extend(marks::word_at(word, LETTER_MM, DVec2::new(wide / 2.0, tall / 2.0)));
    Piece { region: Region::new(Contour::polygon(&outline), vec![]), marks, locked: true }
}

/// What is pushed into the slots.
fn tongue(t: f64) -> Piece {
    let long = deep(t) * 1.2 + LETTER_MM + 2.0 * CLEAR_MM;
    let marks = marks::word_at("T", LETTER_MM, DVec2::new(TONGUE_WIDE_MM / 2.0, long - LETTER_MM / 2.0 - CLEAR_MM));
    let region = Region::new(Contour::rect(DVec2::ZERO, DVec2::new(TONGUE_WIDE_MM, long)), vec![]);
    Piece { region, marks, locked: true }
}
