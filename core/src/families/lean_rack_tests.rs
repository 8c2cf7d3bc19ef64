//! Lean racks against calculated scenarios, and many of them judged by the solids.

use crate::finding::{Amount, Finding, Verdict};
use crate::finish::Built;
use crate::geom::{DVec3, Region};
use crate::make::tests::{Dice, faults, proven};
use crate::solid::{Plate, thing_in_panel};
use serde_json::{Value, json};

fn near(have: f64, want: f64, tol: f64, what: &str) {
    assert!((have - want).abs() <= tol, "{what}: {have}, not {want} ± {tol}");
}

fn lube(count: usize) -> Value {
    json!({ "id": "wet lube", "count": count, "fill": 0.95, "shape": { "kind": "bottle", "diameter_mm": 38, "body_mm": 92,
        "overall_mm": 138, "tip_diameter_mm": 6, "bore_mm": 2, "cap_diameter_mm": 14, "wall_mm": 1.1 } })
}

/// A request for one rack of 3.10 sheet; `space` is width, depth and clear height as measured.
fn request(space: [f64; 3], things: Vec<Value>, holder: Value) -> Value {
    let ids: Vec<Value> = things.iter().map(|t| t["id"].clone()).collect();
    let mut h = json!({ "family": "lean-rack", "things": ids });
    h.as_object_mut().unwrap().extend(holder.as_object().unwrap().clone());
    json!({
        "space": { "kind": "drawer", "width_mm": space[0], "depth_mm": space[1], "clear_height_mm": space[2] },
        "cutter": { "base": "co2-600x400", "bed_mm": [1000, 700] },
        "stocks": [ { "id": "A", "material": "birch-ply-3", "readings_mm": [3.10], "kerf_mm": 0.18, "sheet_mm": [1000, 700] } ],
        "things": things,
        "holders": [h]
    })
}

fn one(request: Value) -> Built {
    let (mut holders, findings) = proven(request);
    let refused: Vec<&Finding> = findings.iter().filter(|f| f.verdict == Verdict::Refuse).collect();
    assert!(refused.is_empty() && holders.len() == 1, "{refused:#?}");
    let built = holders.remove(0);
    assert_eq!(faults(&built), Vec::<String>::new());
    assert_eq!(passes(&built), Vec::<String>::new());
    built
}

/// Panels that a thing would have to cut through where it sits.
fn passes(built: &Built) -> Vec<String> {
    let mut bad = vec![];
    for (k, berth) in built.assembly.berths.iter().enumerate() {
        for (panel, finished) in built.assembly.panels.iter().zip(&built.finished.panels) {
            let area = thing_in_panel(berth, Plate { slab: &panel.slab, region: &finished.region });
            if area > 1e-6 {
                bad.push(format!("thing {k} stands {area} mm² in {}", panel.name));
            }
        }
    }
    bad
}

fn panel<'a>(built: &'a Built, name: &str) -> &'a Region {
    let k = built.assembly.panels.iter().position(|p| p.name == name).unwrap_or_else(|| panic!("no {name}"));
    &built.finished.panels[k].region
}

fn found<'a>(findings: &'a [Finding], code: &str) -> &'a Finding {
    findings.iter().find(|f| f.code == code).unwrap_or_else(|| panic!("no {code} in {findings:#?}"))
}

fn number(facts: &[(&'static str, Amount)], key: &str) -> f64 {
    match facts.iter().find(|f| f.0 == key) {
        Some((_, Amount::Number(v))) => *v,
        other => panic!("{key}: {other:?}"),
    }
}

fn lean_deg(built: &Built, berth: usize) -> f64 {
    libm::asin(built.assembly.berths[berth].pose.z.z).to_degrees()
}

/// y of the lowest point of a thing's base.
fn rim_y(built: &Built, berth: usize) -> f64 {
    let b = &built.assembly.berths[berth];
    b.pose.origin.y - b.solid.radius_at(0.0) * b.pose.y.y
}

// A chain-lube bottle at 30°, its lower edge on the floor (calculated: height =
// max(L·sinθ + D·cosθ, T·sinθ + (D + d)/2·cosθ), length = r·sinθ + max(L·cosθ + r·sinθ, T·cosθ + d/2·sinθ)).
#[test]
fn a_lube_bottle_leans_thirty_degrees_on_the_floor() {
    let mut bottle = lube(1);
    bottle["shape"].as_object_mut().unwrap().remove("cap_diameter_mm");
    let built = one(request([200.0, 250.0, 96.0], vec![bottle], json!({ "lean_deg": 30 })));
    let b = &built.assembly.berths[0];
    near(lean_deg(&built, 0), 30.0, 1e-9, "lean");
    let highest = b.pose.origin.z + b.solid.extent(b.pose.dir_own(DVec3::Z));
    near(highest, 91.15, 0.05, "top over the drawer's floor");
    near(96.0 - highest, 4.85, 0.05, "left over under the rail");
    let lowest = b.pose.origin.z - b.solid.extent(b.pose.dir_own(-DVec3::Z));
    near(lowest, 3.10, 1e-9, "its lower edge is on the floor");
    near(b.solid.room_along(b.pose.dir_own(DVec3::Y)), 130.51, 0.05, "length on the floor");
    assert_eq!(b.pose.z.x, 0.0);
    assert!(b.pose.z.y < 0.0, "noses to the front");
}

// Rows one behind the other in a holder of 513.1 × 438.1, 10 clear between bodies, upright cross panels
// (calculated: pitch = (D + gap)/sinθ, opening (D + c) wide and (D + c)/cosθ + t·tanθ high,
// n = floor((inside − web)/(opening + web))).
#[test]
fn four_rows_of_ten_lube_bottles_go_into_a_wide_drawer() {
    let wide = |count: usize| {
        request(
            [515.1, 440.1, 96.0],
            vec![lube(count)],
            json!({ "style": "cross-panels", "lean_deg": 30, "width_mm": 513.1, "depth_mm": 438.1, "web_mm": 6.5 }),
        )
    };
    let built = one(wide(40));
    assert_eq!(built.assembly.berths.len(), 40);
    let rims: Vec<f64> = (0..4).map(|r| rim_y(&built, 10 * r)).collect();
    assert!((0..40).all(|k| (rim_y(&built, k) - rims[k / 10]).abs() < 1e-9), "ten a row");
    for w in rims.windows(2) {
        near(w[1] - w[0], 96.0, 0.05, "row pitch on the floor");
    }
    near(rims[3] - rims[0] + 130.51, 418.51, 0.06, "length of four rows");
    for r in 1..=4 {
        let cross = panel(&built, &format!("cross panel {r}"));
        let (lo, hi) = cross.holes[0].bounds();
        near((hi - lo).x, 39.5, 0.05, "opening width");
        near((hi - lo).y, 47.4, 0.05, "opening height");
        assert_eq!(cross.holes.len(), 10);
    }
    let (none, findings) = proven(wide(41));
    assert!(none.is_empty());
    let f = found(&findings, "does-not-fit");
    assert_eq!(number(&f.have, "things_that_fit"), 40.0);
    assert_eq!(f.cures.len(), 1, "keep 40");
    assert!(number(&f.need, "depth_mm") > 514.51);
}

// A long-nozzle tube too tall to stand: liquid and height leave a window (calculated).
#[test]
fn a_long_tube_leans_near_the_middle_of_its_window() {
    let tube = |capped: bool| {
        json!({ "id": "assembly oil", "count": 2, "fill": 0.9, "shape": { "kind": "tube", "diameter_mm": 47, "body_mm": 168,
            "overall_mm": 282, "tip_diameter_mm": 8, "wall_mm": 1.2, "capped": capped } })
    };
    let in_drawer = |clear: f64, holder: Value| request([400.0, 400.0, clear], vec![tube(false)], holder);
    let built = one(in_drawer(152.0, json!({})));
    near(lean_deg(&built, 0), 15.0, 1e-9, "chosen lean");
    let b = &built.assembly.berths[0];
    let highest = b.pose.origin.z + b.solid.extent(b.pose.dir_own(DVec3::Z));
    near(highest, 102.65, 0.05, "height over the drawer's floor");
    near(b.solid.room_along(b.pose.dir_own(DVec3::Y)), 279.51, 0.05, "length on the floor");
    // the ends of the window, as a caller sees them who asks for a lean outside it
    let (_, findings) = proven(in_drawer(152.0, json!({ "lean_deg": 27 })));
    let f = found(&findings, "lean-outside-window");
    near(number(&f.need, "lean_max_deg"), 25.19, 0.05, "largest lean (height)");
    // a shallow drawer leaves none, and says by how much
    let (_, findings) = proven(in_drawer(70.0, json!({})));
    let f = found(&findings, "lean-window-empty");
    assert_eq!(f.place, "/things/0");
    assert!(number(&f.have, "lean_max_deg") < number(&f.need, "lean_min_deg"));
    let missing = number(&f.need, "clear_height_mm") - number(&f.have, "clear_height_mm");
    assert!(missing > 0.0 && f.cures.len() == 2, "{f:#?}");
    let built = one(in_drawer(70.0 + missing.ceil() + 1.0, json!({})));
    assert!(lean_deg(&built, 0) >= 10.0);
    // a capped one may lie as flat as things lean at all
    let built = one(request([400.0, 400.0, 100.0], vec![tube(true)], json!({})));
    assert!(lean_deg(&built, 0) >= 10.0);
}

/// A thing that might lean: bottles, tubes, cans, bars and blocks of all sizes.
fn any_thing(d: &mut Dice, k: usize) -> Value {
    let (across, body) = (d.within(14.0, 80.0), d.within(35.0, 200.0));
    let nose = body * d.within(1.05, 1.8);
    let tip = d.within(3.0, 8.0);
    let shape = match d.pick(&[0, 0, 1, 2, 3, 4]) {
        0 => {
            json!({ "kind": "bottle", "diameter_mm": across, "body_mm": body, "overall_mm": nose, "tip_diameter_mm": tip,
            "wall_mm": 1.1, "capped": d.next() < 0.3 })
        }
        1 => {
            json!({ "kind": "tube", "diameter_mm": across, "body_mm": body, "overall_mm": nose, "tip_diameter_mm": tip,
            "cap_diameter_mm": across * d.within(0.5, 1.15) })
        }
        2 => json!({ "kind": "can", "diameter_mm": across, "overall_mm": body }),
        3 => json!({ "kind": "bar", "across_flats_mm": d.within(8.0, 40.0), "length_mm": body }),
        _ => json!({ "kind": "block", "width_mm": across, "depth_mm": d.within(12.0, 60.0), "height_mm": body }),
    };
    json!({ "id": format!("thing {k}"), "count": (d.within(1.0, 9.0)).floor(), "fill": (d.within(0.2, 1.0) * 100.0).round() / 100.0, "shape": shape })
}

fn any_request(d: &mut Dice) -> Value {
    let things: Vec<Value> = (0..d.pick(&[1, 1, 2, 3])).map(|k| any_thing(d, k)).collect();
    let mut holder = json!({
        "style": d.pick(&["square-plates", "square-plates", "cross-panels"]),
        "floor": d.pick(&["fingers", "fingers", "captured", "none"]),
        "open": d.next() < 0.3,
        "mixed_rows": d.next() < 0.3,
        "lean_per_row": d.next() < 0.3,
        "decks": d.pick(&[1, 1, 2]),
        "gap_mm": d.within(4.0, 25.0),
    });
    let mut set = |chance: f64, key: &str, value: f64| {
        if d.next() < chance {
            holder[key] = json!(value);
        }
    };
    set(0.4, "lean_deg", 20.0 + 40.0 * set_share(things.len()));
    set(0.3, "columns", 3.0);
    set(0.2, "width_mm", 380.0);
    set(0.2, "depth_mm", 390.0);
    let mut all = request([520.0, 600.0, d.within(80.0, 260.0)], things, holder);
    all["stocks"][0]["readings_mm"] = json!([d.pick(&[2.9, 3.1, 3.1, 3.25])]);
    let thick = d.next() < 0.3;
    if thick {
        all["stocks"]
            .as_array_mut()
            .unwrap()
            .push(json!({ "id": "B", "material": "birch-ply-4", "readings_mm": [4.05],
            "kerf_mm": 0.2, "sheet_mm": [1000, 700] }));
        all["holders"][0][d.pick(&["stock", "inner_stock", "floor_stock"])] = json!("B");
    }
    all
}

/// Spreads the leans that are asked for.
fn set_share(n: usize) -> f64 {
    n as f64 / 3.0
}

/// Refusals that no rack may earn: what is placed must be drawable and pass through itself nowhere.
/// Sizes that cannot be, or that a rule of the trade forbids, may be refused.
const OURS: [&str; 9] = [
    "parts-overlap",
    "joint-misses-fit",
    "slot-not-filled",
    "thing-in-panel",
    "outline-unsound",
    "part-in-pieces",
    "part-vanished",
    "panel-unbounded",
    "joint-apart",
];

#[test]
fn many_racks_go_together() {
    let mut d = Dice::new(7);
    let (mut good, mut refused) = (0, std::collections::BTreeMap::<&str, usize>::new());
    for case in 0..60 {
        let request = any_request(&mut d);
        let (holders, findings) = proven(request.clone());
        let worst: Vec<&Finding> = findings.iter().filter(|f| f.verdict == Verdict::Refuse).collect();
        if let Some(f) = worst.first() {
            *refused.entry(f.code).or_default() += 1;
            assert!(!worst.iter().any(|f| OURS.contains(&f.code)), "{case}: {worst:#?}\n{request:#}");
            continue;
        }
        good += 1;
        let wrong: Vec<String> = faults(&holders[0]).into_iter().chain(passes(&holders[0])).collect();
        assert!(wrong.is_empty(), "{case}: {wrong:#?}\n{request:#}");
        let wanted: f64 = request["things"].as_array().unwrap().iter().map(|t| t["count"].as_f64().unwrap()).sum();
        assert_eq!(holders[0].assembly.berths.len() as f64, wanted, "{case}");
    }
    eprintln!("{good} made, refused {refused:?}");
    assert!(good >= 20, "{good} made, refused {refused:?}");
}
