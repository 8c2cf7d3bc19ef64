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
