//! Whole layouts: proven by `flaws`, and against sizes worked out by hand.

use super::*;
use crate::geom::{Contour, DVec2, Region};

pub(crate) fn rect(id: usize, w: f64, h: f64, turns: Turns) -> NestPart {
    let region = Region { outer: Contour::rect(DVec2::ZERO, DVec2::new(w, h)), holes: vec![] };
    NestPart { id, region, turns }
}
pub(crate) fn sheet(width_mm: f64, height_mm: f64, count: Option<usize>) -> SheetSupply {
    SheetSupply { id: 7, width_mm, height_mm, count, keep_outs: vec![] }
}
const RULES: Rules = Rules { gap_mm: 3.0, margin_mm: 5.0 };

fn run(parts: &[NestPart], sheets: &[SheetSupply], rules: &Rules) -> Result<Layout, NestFault> {
    let layout = nest(parts, sheets, rules, Effort::Quick, &|| false)?;
    assert_eq!(flaws(parts, sheets, rules, &layout), []);
    Ok(layout)
}

#[test]
fn parts_that_fill_the_room_exactly_fit() {
    // 5 + 100 + 3 + 100 + 5 = 213
    let parts: Vec<NestPart> = (0..4).map(|i| rect(i, 100.0, 60.0, Turns::Locked)).collect();
    let exact = run(&parts, &[sheet(213.0, 133.0, None)], &RULES).unwrap();
    assert_eq!(exact.sheets.len(), 1);
    let short = run(&parts, &[sheet(212.999, 133.0, None)], &RULES).unwrap();
    assert_eq!(short.sheets.len(), 2);
}

#[test]
fn a_locked_part_is_not_turned_to_fit() {
    let sheets = [sheet(210.0, 60.0, None)];
    assert!(run(&[rect(0, 50.0, 200.0, Turns::Free)], &sheets, &RULES).is_ok());
    let fault = run(&[rect(4, 50.0, 200.0, Turns::Locked)], &sheets, &RULES).unwrap_err();
    let NestFault::TooLarge(list) = fault else { panic!("{fault}") };
    assert_eq!((list[0].part, list[0].over_mm()), (4, 150.0));
}

#[test]
fn sheets_that_run_out_name_what_is_left() {
    let parts: Vec<NestPart> = (0..5).map(|i| rect(i, 100.0, 60.0, Turns::Locked)).collect();
    let fault = run(&parts, &[sheet(213.0, 133.0, Some(1))], &RULES).unwrap_err();
    assert!(
        matches!(&fault, NestFault::SheetsRunOut { sheets: 1, left, left_area_mm2 } if left.len() == 1 && *left_area_mm2 == 6000.0),
        "{fault}"
    );
}

#[test]
fn keep_outs_are_kept_out_of_and_named_when_they_block() {
    let mut s = sheet(120.0, 70.0, None);
    s.keep_outs.push(Contour::circle(DVec2::new(60.0, 35.0), 8.0));
    assert!(
        matches!(run(&[rect(3, 100.0, 60.0, Turns::Locked)], &[s.clone()], &RULES), Err(NestFault::Blocked { parts }) if parts == [3])
    );
    let two = run(&[rect(0, 40.0, 60.0, Turns::Locked), rect(1, 40.0, 60.0, Turns::Locked)], &[s], &RULES).unwrap();
    assert_eq!(two.sheets.len(), 1);
}

#[test]
fn bad_numbers_are_named() {
    let parts = [rect(0, 10.0, 10.0, Turns::Free)];
    let bad = Rules { gap_mm: f64::NAN, margin_mm: 1.0 };
    assert!(matches!(
        run(&parts, &[sheet(100.0, 100.0, None)], &bad),
        Err(NestFault::BadNumber { field: "gap_mm", .. })
    ));
    let wide = Rules { gap_mm: 1.0, margin_mm: 50.0 };
    assert!(matches!(run(&parts, &[sheet(100.0, 100.0, None)], &wide), Err(NestFault::NoRoom { supply: 7, .. })));
    assert_eq!(run(&parts, &[], &RULES), Err(NestFault::NoSheets));
    assert_eq!(run(&[rect(9, 10.0, 0.0, Turns::Free)], &[], &RULES), Err(NestFault::BadOutline { parts: vec![9] }));
    assert_eq!(run(&[], &[], &RULES), Ok(Layout::default()));
}

/// Rings with smaller rings and discs: the way to one sheet is to lay them in each other.
fn nested_rings() -> Vec<NestPart> {
    let ring = |id, r: f64, hole: f64| {
        let holes = vec![Contour::circle(DVec2::ZERO, hole).cw()];
        NestPart {
            id,
            region: Region { outer: Contour::circle(DVec2::new(0.0, 0.0), r).ccw(), holes },
            turns: Turns::Free,
        }
    };
    let disc = |id, r: f64| {
        let outer = Contour::circle(DVec2::new(5.0, 5.0), r).ccw();
        NestPart { id, region: Region { outer, holes: vec![] }, turns: Turns::Free }
    };
    vec![ring(0, 90.0, 80.0), ring(1, 74.0, 62.0), ring(2, 55.0, 45.0), disc(3, 38.0)]
}

#[test]
fn parts_lie_in_holes_of_parts_in_holes() {
    let sheets = [sheet(190.0, 190.0, None)];
    let layout = nest(&nested_rings(), &sheets, &RULES, Effort::Normal, &|| false).unwrap();
    assert_eq!(flaws(&nested_rings(), &sheets, &RULES, &layout), []);
    assert_eq!(layout.sheets.len(), 1);
}

/// A mixed job of panels, rings, discs and angles, from a seed.
pub(crate) fn mixed(seed: u64, count: usize) -> Vec<NestPart> {
    let mut dice = super::dice::Dice::new(seed);
    let mut size = |low: usize, high: usize| (low + dice.below(high - low)) as f64 + 0.25;
    (0..count)
        .map(|id| {
            let turns = if id % 3 == 0 { Turns::Locked } else { Turns::Free };
            let plain = |outer: Contour| Region { outer: outer.ccw(), holes: vec![] };
            let region = match id % 7 {
                0 => {
                    let r = size(40, 80);
                    let holes = vec![Contour::circle(DVec2::ZERO, r - 12.0).cw()];
                    Region { outer: Contour::circle(DVec2::ZERO, r).ccw(), holes }
                }
                1 | 2 => plain(Contour::circle(DVec2::new(1.0, 2.0), size(8, 30))),
                3 => {
                    let (a, b, t) = (size(50, 110), size(40, 90), size(12, 24));
                    let corners = [(0.0, 0.0), (a, 0.0), (a, t), (t, t), (t, b), (0.0, b)];
                    plain(Contour::polygon(&corners.map(DVec2::from)))
                }
                _ => plain(Contour::rect(DVec2::ZERO, DVec2::new(size(30, 200), size(30, 140)))),
            };
            NestPart { id, region, turns }
        })
        .collect()
}

#[test]
fn mixed_jobs_keep_gap_and_margin_and_repeat_to_the_byte() {
    let sheets = [sheet(600.0, 400.0, None)];
    for (seed, gap_mm) in [(1, 3.0), (2, 0.0), (3, 1.37)] {
        let parts = mixed(seed, 40);
        let rules = Rules { gap_mm, margin_mm: 5.0 };
        let layout = run(&parts, &sheets, &rules).unwrap();
        assert_eq!(run(&parts, &sheets, &rules).unwrap(), layout);
        let cover: f64 = layout.sheets.iter().map(|s| s.utilisation * s.width_mm * s.height_mm).sum();
        let net: f64 = parts.iter().map(|p| p.region.area()).sum();
        assert!((cover - net).abs() < 1e-6 * net);
    }
}

#[test]
fn more_effort_is_never_worse() {
    let sheets = [sheet(400.0, 300.0, None)];
    let rank = |l: &Layout| (l.sheets.len(), -l.sheets.last().map_or(0.0, |s| s.largest_offcut.area_mm2()));
    let parts = mixed(5, 18);
    let quick = nest(&parts, &sheets, &RULES, Effort::Quick, &|| false).unwrap();
    let normal = nest(&parts, &sheets, &RULES, Effort::Normal, &|| false).unwrap();
    assert!(rank(&normal) <= rank(&quick), "{:?} {:?}", rank(&normal), rank(&quick));
}

#[test]
fn many_different_parts_cost_about_as_much_each() {
    let work = |count: usize| {
        let sheets = [sheet(600.0, 400.0, None)];
        let mut bench = super::intake::take_in(&mixed(11, count), &sheets, &RULES).unwrap();
        super::plan::run(&mut bench, &RULES, Effort::Quick, &|| false).unwrap();
        bench.sweep.work as f64 / count as f64
    };
    let (some, many) = (work(60), work(400));
    assert!(many < 1.5 * some, "{some} {many}");
}

#[test]
fn fine_turns_are_kept_apart_too() {
    let sheets = [sheet(300.0, 200.0, None)];
    let parts: Vec<NestPart> = (0..6).map(|i| rect(i, 90.0, 30.0 + i as f64, Turns::Fine(15.0))).collect();
    run(&parts, &sheets, &RULES).unwrap();
}

#[test]
fn a_stop_before_the_first_layout_is_said() {
    let parts = [rect(0, 10.0, 10.0, Turns::Free)];
    assert_eq!(nest(&parts, &[sheet(50.0, 50.0, None)], &RULES, Effort::Quick, &|| true), Err(NestFault::Stopped));
}

#[test]
fn what_is_left_over_goes_on_the_smaller_offcut() {
    let offcut = SheetSupply { id: 1, width_mm: 130.0, height_mm: 80.0, count: Some(1), keep_outs: vec![] };
    let sheets = [offcut, sheet(213.0, 133.0, None)];
    let parts: Vec<NestPart> = (0..5).map(|i| rect(i, 100.0, 60.0, Turns::Locked)).collect();
    let layout = run(&parts, &sheets, &RULES).unwrap();
    assert_eq!(layout.sheets.iter().map(|s| s.supply).collect::<Vec<_>>(), [7, 1]);
}

#[test]
fn a_layout_with_flaws_is_seen_through() {
    let sheets = [sheet(213.0, 133.0, None)];
    let parts: Vec<NestPart> = (0..2).map(|i| rect(i, 100.0, 60.0, Turns::Locked)).collect();
    let mut layout = run(&parts, &sheets, &RULES).unwrap();
    layout.sheets[0].places[1].dx_mm = layout.sheets[0].places[0].dx_mm + 102.999_99;
    layout.sheets[0].places[1].dy_mm = layout.sheets[0].places[0].dy_mm;
    assert!(
        matches!(flaws(&parts, &sheets, &RULES, &layout)[..], [Flaw::Gap { part: 0, other: 1, distance_mm }] if (distance_mm - 2.999_99).abs() < 1e-9)
    );
    layout.sheets[0].places[1].dx_mm = layout.sheets[0].places[0].dx_mm;
    assert!(matches!(flaws(&parts, &sheets, &RULES, &layout)[..], [Flaw::Gap { distance_mm: 0.0, .. }]));
    layout.sheets[0].places.pop();
    assert_eq!(flaws(&parts, &sheets, &RULES, &layout), [Flaw::Count { part: 1 }]);
    layout.sheets[0].places[0].dx_mm -= 0.1;
    assert!(matches!(flaws(&parts, &sheets, &RULES, &layout)[..], [Flaw::Edge { part: 0, .. }, _]));
}
