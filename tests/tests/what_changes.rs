//! What a change of one number may change, and what it may not.

#![allow(clippy::unwrap_used)] // a test that cannot go on stops here

use berth_core::families::ALL;
use berth_core::finish::Why;
use berth_core::geom::{DVec3, Region};
use berth_core::job::{Limits, read};
use berth_core::made::{Made, Part};
use berth_core::make::{Answer, make};
use serde_json::Value;

fn made(request: &Value) -> Made {
    match make(&read(request.clone()).unwrap(), &Limits::default(), &|| false) {
        Answer::Made(m) => *m,
        other => panic!("{other:#?}"),
    }
}

fn corners(r: &Region) -> Vec<berth_core::geom::DVec2> {
    r.contours().flat_map(|c| c.vertices.iter().map(|v| v.p)).collect()
}

#[test]
fn another_kerf_changes_drawn_files_and_nothing_on_the_bench() {
    for about in ALL {
        let mut request = (about.example)();
        let before = made(&request);
        for stock in request["stocks"].as_array_mut().unwrap() {
            stock["kerf_mm"] = (stock["kerf_mm"].as_f64().unwrap() + 0.03).into();
        }
        let after = made(&request);
        assert_eq!(before.parts.len(), after.parts.len());
        for (a, b) in before.parts.iter().zip(&after.parts) {
            assert_eq!(a.finished, b.finished, "{}: finished outline of {} changed", about.tag, a.code);
            assert_eq!(a.placement, b.placement, "{}: place of {} changed", about.tag, a.code);
            assert_ne!(a.drawn, b.drawn, "{}: drawn outline of {} did not change", about.tag, a.code);
        }
    }
}

/// The box around all panels of a holder, from its placed corners.
fn outside(m: &Made, holder: usize) -> (DVec3, DVec3) {
    m.parts
        .iter()
        .filter(|p| p.holder == holder)
        .flat_map(placed)
        .fold((DVec3::INFINITY, DVec3::NEG_INFINITY), |(lo, hi), p| (lo.min(p), hi.max(p)))
}

fn placed(part: &Part) -> Vec<DVec3> {
    corners(&part.finished)
        .into_iter()
        .flat_map(|p| [0.0, part.thickness_mm].map(|z| part.placement.out(p.extend(z))))
        .collect()
}

/// Sizes along and across of each slot of a part.
fn slots(m: &Made, part: &Part) -> Vec<(f64, f64)> {
    let built = &m.holders[part.holder];
    built.finished.panels[part.panel]
        .cuts
        .iter()
        .filter(|c| matches!(c.why, Why::Slot(_)))
        .map(|c| {
            let v = &c.contour.vertices;
            let sides = [v[0].p.distance(v[1].p), v[1].p.distance(v[2].p)];
            (sides[0], sides[1])
        })
        .collect()
}

/// Another reading of the only stock may change: the width of slots (by as much as the sheet), depths
/// of fingers and tabs, inside sizes, and the places that follow from these. Outer sizes, counts,
/// widths of fingers and tabs, fits and letters stay.
#[test]
fn another_reading_changes_slots_depths_and_inside_sizes_only() {
    // a twentieth of a millimetre: the usual scatter within a sheet
    let by = 0.05;
    for about in ALL {
        let mut request = (about.example)();
        let before = made(&request);
        for stock in request["stocks"].as_array_mut().unwrap() {
            let readings =
                stock["readings_mm"].as_array().unwrap().iter().map(|r| (r.as_f64().unwrap() + by).into()).collect();
            stock["readings_mm"] = Value::Array(readings);
        }
        let after = made(&request);
        assert_eq!(before.parts.len(), after.parts.len(), "{}", about.tag);
        assert_eq!(before.joints.len(), after.joints.len(), "{}", about.tag);
        for h in 0..before.holders.len() {
            let (a, b) = (outside(&before, h), outside(&after, h));
            // a leaning wall's square upper edge gives up t·sin²δ of the outer size: that follows
            let off = (a.0 - b.0).abs().max((a.1 - b.1).abs()).max_element();
            assert!(
                off < if about.tag == "case-liner" { by * 0.02 } else { 1e-6 },
                "{}: outer size {a:?} became {b:?}",
                about.tag
            );
        }
        let mut widened = 0;
        for (a, b) in before.parts.iter().zip(&after.parts) {
            let here = format!("{} {} \"{}\"", about.tag, a.code, a.name);
            assert_eq!((&a.code, &a.name), (&b.code, &b.name));
            assert!((b.thickness_mm - a.thickness_mm - by).abs() < 1e-9, "{here}");
            let (ca, cb) = (corners(&a.finished), corners(&b.finished));
            assert_eq!(ca.len(), cb.len(), "{here}: its outline has another count of corners");
            // no corner moves farther than every sheet of the row grown at once
            let most = by * (before.parts.len() as f64 + 2.0);
            let (pa, pb) = (placed(a), placed(b));
            let nearest = |p: &DVec3| pb.iter().map(|q| p.distance(*q)).fold(f64::INFINITY, f64::min);
            let farthest = pa.iter().map(nearest).fold(0.0, f64::max);
            assert!(farthest <= most, "{here}: a corner moved {farthest}");
            let (sa, sb) = (slots(&before, a), slots(&after, b));
            assert_eq!(sa.len(), sb.len(), "{here}: count of slots");
            for (p, q) in sa.iter().zip(&sb) {
                assert!((p.0 - q.0).abs() < 1e-6, "{here}: a slot's length went from {} to {}", p.0, q.0);
                let grown = q.1 - p.1;
                // a square slot grows by the sheet; an oblique one by (1 + cosφ)/sinφ of it at the most
                assert!(grown > by - 1e-6 && grown < by * 2.0, "{here}: a slot's width grew by {grown}");
                widened += 1;
            }
        }
        assert!(widened > 0, "{}: no slot was seen", about.tag);
        for (a, b) in before.holders.iter().zip(&after.holders) {
            for (m, n) in a.finished.meetings.iter().zip(&b.finished.meetings) {
                assert_eq!(m.cells.len(), n.cells.len(), "{}: count of cells", about.tag);
                for (c, d) in m.cells.iter().zip(&n.cells) {
                    assert_eq!(c.owner, d.owner);
                }
            }
        }
    }
}
