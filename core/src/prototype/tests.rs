//! Prototypes of the examples: outsides kept, angles kept, cells smaller by what the board is thicker.

use super::PrototypeSpec;
use crate::families::ALL;
use crate::finding::Verdict;
use crate::geom::{DVec3, Frame, Slab};
use crate::job::{Limits, read_as};
use crate::joints::{Section, Side};
use crate::made::Made;
use crate::make::tests::faults;
use crate::make::{Answer, Refused, prototype};
use serde_json::{Value, json};

fn answer(spec: Value) -> Result<Made, Box<Refused>> {
    let spec: PrototypeSpec = read_as(spec).unwrap();
    match prototype(&spec, &Limits::default(), &|| false) {
        Answer::Made(m) => Ok(*m),
        Answer::Refused(r) => Err(r),
        Answer::Stopped => panic!("nobody stopped it"),
    }
}

fn made(spec: Value) -> Made {
    answer(spec).unwrap_or_else(|r| panic!("{:#?}", r.findings))
}

/// 4.90 mm is a usual reading of board sold as 5 mm (common practice, no source).
fn foam() -> Value {
    json!({"readings_mm": [4.9]})
}

#[test]
fn every_familys_example_has_a_prototype_that_goes_together_with_its_outside_and_angles() {
    for about in ALL {
        for board in [foam(), json!({"material": "cardboard-3"})] {
            for cells in ["all", "doubtful"] {
                let m = made(json!({"design": (about.example)(), "board": board, "cells": cells}));
                let here = format!("{} {board} {cells}", about.tag);
                let note = m.prototype.as_ref().unwrap();
                for o in &note.outsides {
                    let off = o.design_mm.iter().zip(&o.board_mm).map(|(d, b)| (d - b).abs()).fold(0.0, f64::max);
                    assert!(off < 0.1, "{here}: {o:?}");
                }
                for claim in ["Outside", "Angles"] {
                    assert!(note.proves.iter().any(|p| p.starts_with(claim)), "{here}: {:?}", note.proves);
                }
                assert!(note.does_not_prove[0].starts_with("Slot fit"), "{here}: {:?}", note.does_not_prove);
                for built in &m.holders {
                    let f = faults(built);
                    assert!(f.is_empty(), "{here}: {:#?}", &f[..f.len().min(3)]);
                }
                // a knife takes nothing away, and slots are squeezed
                assert!(m.parts.iter().all(|p| p.drawn == p.finished && p.kerf_mm == 0.0), "{here}");
                assert!(m.joints.iter().all(|j| (j.fit_mm + 0.3).abs() < 1e-9), "{here}");
                if cells == "doubtful" {
                    let berths = m.holders[0].assembly.berths.len();
                    assert!(berths <= 2 && m.holders.len() == 1, "{here}: {berths} places");
                }
            }
        }
    }
}

/// A holder 513.1 × 438.1 outside of 3.10 sheet, four columns, and the same in board of 4.90 (calculated):
/// cell = (outside − (n + 1)·t)/n; a square slot is the board less 0.30.
#[test]
fn cells_of_board_are_smaller_by_the_walls_they_have_between_them() {
    let design = json!({
        "space": {"kind": "drawer", "width_mm": 515.1, "depth_mm": 440.1, "clear_height_mm": 80},
        "cutter": {"base": "co2-600x400", "bed_mm": [600, 500]},
        "stocks": [{"id": "A", "material": "birch-ply-3", "readings_mm": [3.10], "kerf_mm": 0.18}],
        "holders": [{"family": "compartments", "columns": 4, "rows": 3}]
    });
    let m = made(json!({"design": design, "board": foam()}));
    let note = m.prototype.unwrap();
    assert_eq!(note.cells.len(), 12);
    for c in &note.cells {
        assert!((c.design_mm[0] - 124.4).abs() < 0.05 && (c.board_mm[0] - 122.15).abs() < 0.05, "{c:?}");
        assert!((c.design_mm[0] - c.board_mm[0] - 2.25).abs() < 0.05, "{c:?}");
    }
    assert!((note.square_slot_mm - 4.6).abs() < 0.05);
    assert!((note.narrowest_slot_board_mm.unwrap() - 4.6).abs() < 0.05);
    assert!(note.does_not_prove.iter().any(|d| d.contains("2.25 mm narrower")), "{:?}", note.does_not_prove);
}

/// Sizes given from inside shrink by the same share, so that the outside stays.
#[test]
fn cells_given_from_inside_keep_the_outside_too() {
    let mut design = (ALL[0].example)();
    design["holders"][0] =
        json!({"family": "compartments", "column_widths_mm": [60, 90, 60], "row_depths_mm": [80, 70]});
    let m = made(json!({"design": design, "board": foam()}));
    let note = m.prototype.unwrap();
    let o = &note.outsides[0];
    assert!((o.design_mm[0] - o.board_mm[0]).abs() < 1e-6 && (o.design_mm[1] - o.board_mm[1]).abs() < 1e-6, "{o:?}");
    assert!((note.cells[1].design_mm[0] - 90.0).abs() < 1e-9);
    let less = 4.0 * (4.9 - 3.0875) / 3.0;
    assert!((note.cells[1].board_mm[0] - (90.0 - less)).abs() < 1e-6, "{:?}", note.cells[1]);
}

fn refused_for(spec: Value) -> Vec<(&'static str, String)> {
    let r = answer(spec).expect_err("it was made");
    r.findings.iter().filter(|f| f.verdict == Verdict::Refuse).map(|f| (f.code, f.place.clone())).collect()
}

#[test]
fn what_cannot_be_tried_is_refused_at_its_place() {
    let design = || (ALL[0].example)();
    let cases = [
        (
            json!({"design": design(), "board": {"material": "birch-ply-3"}}),
            "material-not-for-process",
            "/board/material",
        ),
        (json!({"design": design(), "board": {"material": "grey board"}}), "material-unknown", "/board/material"),
        (json!({"design": design(), "board": {"readings_mm": [9.0]}}), "thickness-implausible", "/board/readings_mm"),
        (
            json!({"design": design(), "board": {"readings_mm": [4.9], "squeeze_mm": 0.4}}),
            "out-of-range",
            "/board/squeeze_mm",
        ),
        (json!({"design": design(), "board": {"readings_mm": [4.9], "sheet_mm": [100, 100]}}), "part-beyond-bed", "A1"),
        (json!({"design": design(), "holder": 7}), "unknown-holder", "/holder"),
        (json!({"design": design(), "thing": "anvil"}), "unknown-id", "/thing"),
    ];
    for (spec, code, place) in cases {
        let said = refused_for(spec);
        assert!(said.iter().any(|(c, p)| *c == code && p.starts_with(place)), "{code} at {place}: {said:?}");
    }
    // a design that is refused itself has no prototype
    let mut bad = design();
    bad["holders"][0]["width_mm"] = json!(400);
    let said = refused_for(json!({"design": bad, "board": foam()}));
    assert!(said.iter().any(|(c, p)| *c == "holder-too-wide" && p.starts_with("/design/holders/0")), "{said:?}");
}

/// A plate of 4.90 board that leans 60° through 4.90 board (calculated): (t + T·cos 60°)/sin 60° = 8.487.
#[test]
fn an_oblique_slot_in_board_is_the_shadow_of_the_board() {
    let slab = |z: DVec3| Slab { frame: Frame::new(DVec3::ZERO, z, DVec3::X).unwrap(), thickness: 4.9 };
    let (sin, cos) = libm::sincos(60_f64.to_radians());
    let x = Section::between(&slab(DVec3::new(0.0, sin, -cos)), &slab(DVec3::Z)).unwrap();
    let (lo, hi) = x.range(Side::B, &x.crossing());
    assert!((hi - lo - 8.487).abs() < 0.001, "{}", hi - lo);
}
