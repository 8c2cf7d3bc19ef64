//! Shelves, free holders, and specs that are written and read.

use super::{case_json, check, codes, cures_work, drawer_json, good, near};
use crate::finding::Verdict;
use crate::spaces::{Entry, Kind, SpaceSpec};
use crate::things::Attitude;
use crate::units::decode;
use serde_json::json;

fn shelf() -> serde_json::Value {
    json!({"kind": "shelf", "width_mm": [760, 758.5], "depth_mm": 240, "clear_height_mm": 310, "opening_width_mm": 720, "opening_height_mm": 290})
}

#[test]
fn a_shelf_is_entered_from_the_front() {
    let s = good(shelf());
    assert_eq!((s.kind, s.usable(5.0).width_mm, s.usable_height_mm, s.slam_g()), (Kind::Shelf, 756.5, 306.0, 0.0));
    assert_eq!(s.entry, Entry::Front { width_mm: 718.0, height_mm: 286.0 });
    assert_eq!(s.must_pass(718.0, 900.0, 286.0), None, "what stands proud is not in the way");
    let b = s.must_pass(756.0, 230.0, 300.0).unwrap();
    near(b.width_over_mm, 38.0, 1e-9);
    near(b.height_over_mm, 14.0, 1e-9);
    let tight = super::merge(shelf(), json!({"top_clearance_mm": 1}));
    assert_eq!(codes(&check(tight.clone()).1), [("top-clearance", Verdict::Refuse)]);
    cures_work(&tight);
}

#[test]
fn free_means_nothing_is_in_the_way() {
    let s =
        good(json!({"kind": "free", "width_mm": 300, "depth_mm": 180, "height_mm": 200, "attitudes": ["upside-down"]}));
    assert_eq!((s.usable(0.0).width_mm, s.usable_height_mm, s.entry), (300.0, 200.0, Entry::Anywhere));
    assert_eq!(s.must_pass(900.0, 900.0, 900.0), None);
    assert_eq!(s.attitudes, [Attitude::Flat, Attitude::UpsideDown]);
    let (space, out) = check(json!({"kind": "free", "width_mm": 3, "depth_mm": 180, "height_mm": 2000}));
    assert!(space.is_none());
    assert_eq!(codes(&out), [("out-of-range", Verdict::Refuse)]);
}

#[test]
fn a_spec_survives_being_written_and_read() {
    for spec in [
        drawer_json(json!({"diagonals_mm": [566.0, 566.5], "slam": {"speed_m_s": 1.2}, "measured_with": "caliper"})),
        case_json(json!({"lid": {"hinge": "left", "depth_mm": 20.0}, "open_top": false, "ride": {"up_g": 1.5}})),
        shelf(),
    ] {
        let read: SpaceSpec = decode(spec.clone()).unwrap();
        let again: SpaceSpec = decode(serde_json::to_value(&read).unwrap()).unwrap();
        assert_eq!(read, again);
        assert_eq!(read.tag(), spec["kind"]);
    }
    let fault = |v| decode::<SpaceSpec>(v).unwrap_err().0;
    assert_eq!(fault(json!({"kind": "bucket"})), "/kind");
    assert_eq!(fault(drawer_json(json!({"slam": {"speed": 1}}))), "/slam/speed");
    assert_eq!(fault(drawer_json(json!({"diagonals_mm": [1]}))), "/diagonals_mm");
    assert_eq!(fault(drawer_json(json!({"measured_with": "eye"}))), "/measured_with");
    assert_eq!(fault(drawer_json(json!({"width": 400}))), "/width");
}

/// Numbers from all over the place: nothing panics, and what is not refused has room in it.
#[test]
fn no_number_breaks_it() {
    let numbers = [-1e9, -1.0, 0.0, 1e-300, 0.8, 1.5, 5.0, 20.0, 98.0, 372.0, 380.0, 3000.0, 1e300];
    let mut seen = [0usize; 2];
    for a in numbers {
        for (b, c) in numbers.iter().flat_map(|b| numbers.map(|c| (b, c))) {
            for spec in [
                drawer_json(
                    json!({"width_mm": a, "depth_mm": b, "clear_height_mm": c, "diagonals_mm": [a, b], "outside_width_mm": c, "corner_radius_mm": c}),
                ),
                drawer_json(
                    json!({"side_clearance_mm": a, "floor_fillet_mm": b, "extension_mm": c, "slam": {"speed_m_s": a, "coin_slide_mm": b}}),
                ),
                case_json(json!({"floor_mm": [a, b], "rim_mm": [b, c], "height_mm": c, "corner_radius_floor_mm": a})),
                case_json(
                    json!({"height_mm": null, "rim_mm": [a, b], "slope_deg": c, "lid": {"depth_mm": a, "clearance_mm": b}}),
                ),
                json!({"kind": "shelf", "width_mm": a, "depth_mm": b, "clear_height_mm": c, "top_clearance_mm": a}),
            ] {
                let (space, out) = check(spec);
                seen[usize::from(space.is_some())] += 1;
                match space {
                    Some(s) => {
                        let p = s.usable(s.usable_height_mm / 2.0);
                        assert!(p.width_mm > 0.0 && p.depth_mm > 0.0 && s.usable_height_mm > 0.0);
                        assert!(out.iter().all(|f| f.verdict != Verdict::Refuse));
                    }
                    None => assert!(out.iter().any(|f| f.verdict == Verdict::Refuse)),
                }
            }
        }
    }
    assert!(seen[0] > 1000 && seen[1] > 10, "{seen:?}");
}
