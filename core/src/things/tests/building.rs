//! What is refused, and what stands after checking.

use super::{amount, findings, near, thing};
use crate::things::{GripPlace, ThingSpec};
use crate::units::decode;
use serde_json::{Value, json};

fn bottle(changes: Value) -> Value {
    let mut shape = json!({"kind": "bottle", "diameter_mm": 38, "body_mm": 92, "overall_mm": 138, "tip_diameter_mm": 6, "wall_mm": 1.1});
    for (k, v) in changes.as_object().unwrap() {
        shape[k] = v.clone();
    }
    json!({"id": "wet-lube", "count": 8, "shape": shape, "fill": 0.95})
}

fn codes(spec: Value) -> Vec<&'static str> {
    findings(spec).1.iter().map(|f| f.code).collect()
}

// scenario A06 (a): sealant bottle, 52 across, 140 around
#[test]
fn a_tape_that_disagrees_is_refused_with_both_numbers() {
    let shape = json!({"kind": "bottle", "diameter_mm": 52, "circumference_mm": 140, "body_mm": 120, "overall_mm": 150, "tip_diameter_mm": 20});
    let (built, out) = findings(json!({"id": "sealant", "shape": shape}));
    assert!(!built && out.len() == 1, "{out:#?}");
    near(amount(&out[0], "diameter_from_tape_mm"), 44.56, 0.05);
    near(amount(&out[0], "disagreement_percent"), 14.3, 0.2);
    assert!(out[0].why.contains("52 across but 140 around means 44.6 across"), "{}", out[0].why);
    assert_eq!(out[0].place, "/things/0/shape/circumference_mm");
}

#[test]
fn a_tape_is_believed_to_three_percent_and_an_oval_has_a_mean() {
    // 38·π = 119.38; 3 % of the diameter either way
    assert!(codes(bottle(json!({"circumference_mm": 119.38 * 1.0299}))).is_empty());
    assert_eq!(codes(bottle(json!({"circumference_mm": 119.38 * 1.0301}))), ["tape-disagrees"]);
    assert!(codes(bottle(json!({"circumference_mm": 119.38 * 0.9701}))).is_empty());
    assert_eq!(codes(bottle(json!({"circumference_mm": 119.38 * 0.9699}))), ["tape-disagrees"]);
    assert!(codes(bottle(json!({"diameter_mm": [37.0, 39.0], "circumference_mm": 119.38}))).is_empty());
}

// scenario A06 (c): lube bottle, body 92 long, overall 88
#[test]
fn an_overall_below_the_body_names_the_nozzle_it_implies() {
    let (built, out) = findings(bottle(json!({"overall_mm": 88})));
    assert!(!built && out.len() == 1, "{out:#?}");
    near(amount(&out[0], "nozzle_mm"), -4.0, 1e-9);
    assert!(out[0].why.contains("a nozzle of -4 mm"), "{}", out[0].why);
}

#[test]
fn each_contradiction_has_its_own_finding() {
    for (changes, code) in [
        (json!({"tip_diameter_mm": 40}), "tip-wider-than-body"),
        (json!({"wall_mm": 19}), "wall-too-thick"),
        (json!({"bore_mm": 7}), "bore-wider-than-tip"),
        (json!({"shoulder_mm": 47, "neck_diameter_mm": 20}), "shoulder-beyond-tip"),
        (json!({"shoulder_mm": 10, "neck_diameter_mm": 39}), "neck-wider-than-body"),
        (json!({"shoulder_mm": 10}), "shoulder-half-given"),
        (json!({"diameter_range_mm": [36]}), "range-needs-two"),
        (json!({"diameter_range_mm": [40, 36]}), "range-turned"),
        (json!({"diameter_range_mm": [39, 42]}), "reading-outside-range"),
        (json!({"content_ml": 150}), "content-disagrees"),
        (json!({"diameter_mm": [33, 38]}), "readings-far-apart"),
    ] {
        assert_eq!(codes(bottle(changes.clone())), [code], "{changes}");
    }
    // 91.6 ml inside: π·1.79²·9.2
    assert!(
        codes(bottle(json!({"content_ml": 100, "shoulder_mm": 10, "neck_diameter_mm": 20, "wall_mm": 1.1}))).is_empty()
    );
}

#[test]
fn all_faults_of_one_thing_are_reported() {
    let (_, out) = findings(json!({"id": "a/b", "count": 2.5, "grip_height_mm": 200, "mass_g": 1e9,
        "shape": {"kind": "bottle", "diameter_mm": 38, "circumference_mm": 150, "body_mm": 92, "overall_mm": 88, "tip_diameter_mm": 60, "wall_mm": 19.5}}));
    let codes: Vec<&str> = out.iter().map(|f| f.code).collect();
    for code in [
        "bad-name",
        "out-of-range",
        "count-not-whole",
        "tape-disagrees",
        "overall-below-body",
        "tip-wider-than-body",
        "wall-too-thick",
    ] {
        assert!(codes.contains(&code), "{code} in {codes:?}");
    }
}

#[test]
fn a_finding_at_a_measure_says_by_how_much_and_its_cure_clears_it() {
    let spec = json!({"id": "x", "count": 2.5, "shape": {"kind": "block", "width_mm": 10, "depth_mm": 10, "height_mm": 10}, "grip_height_mm": 12});
    let (_, out) = findings(spec.clone());
    assert_eq!(out.len(), 2);
    let mut mended = spec;
    for op in out.iter().flat_map(|f| &f.cures).flat_map(|c| &c.patch) {
        let field = op.path.strip_prefix("/things/0/").unwrap();
        mended[field] = serde_json::to_value(op.value.as_ref().unwrap()).unwrap();
    }
    assert_eq!(findings(mended).1, vec![]);
}

#[test]
fn other_shapes_refuse_what_cannot_be() {
    let of = |shape: Value| codes(json!({"id": "x", "shape": shape}));
    assert_eq!(
        of(json!({"kind": "can", "diameter_mm": 65, "overall_mm": 205, "cap_height_mm": 30})),
        ["cap-half-given"]
    );
    assert_eq!(
        of(json!({"kind": "can", "diameter_mm": 65, "overall_mm": 205, "cap_height_mm": 205, "cap_diameter_mm": 50}))
            [0],
        "cap-higher-than-can"
    );
    assert_eq!(
        of(json!({"kind": "roll", "diameter_mm": 118, "width_mm": 34, "bore_mm": 118})),
        ["bore-wider-than-thing"]
    );
    assert_eq!(of(json!({"kind": "bar", "length_mm": 100})), ["bar-needs-one"]);
    assert_eq!(of(json!({"kind": "bar", "length_mm": 100, "diameter_mm": 5, "across_flats_mm": 5})), ["bar-needs-one"]);
    assert_eq!(
        of(json!({"kind": "bar", "length_mm": 100, "across_flats_mm": 5, "circumference_mm": 16})),
        ["bar-needs-one"]
    );
    assert_eq!(
        of(json!({"kind": "blade", "thickness_mm": 20, "width_mm": 2, "length_mm": 100})),
        ["blade-thicker-than-wide"]
    );
    assert_eq!(of(json!({"kind": "loose", "piece_mm": [1, 2]})), ["piece-needs-three"]);
    assert_eq!(of(json!({"kind": "loose", "piece_mm": [1, 2, 3], "piece_volume_mm3": 6.5})), ["piece-larger-than-box"]);
    let filled = json!({"id": "x", "fill": 0.5, "shape": {"kind": "can", "diameter_mm": 65, "overall_mm": 205}});
    let (built, out) = findings(filled);
    assert!(built && out[0].code == "fill-ignored");
}

#[test]
fn readings_and_brands_give_the_largest_solid() {
    let t = thing(bottle(json!({"diameter_mm": [37.2, 38.4, 37.9]})));
    near(t.solid().max_radius(), 19.2, 1e-12);
    let t = thing(bottle(json!({"diameter_mm": [37.2, 38.4], "diameter_range_mm": [36, 40]})));
    near(t.solid().max_radius(), 20.0, 1e-12);
    let d = t.diameters().unwrap();
    assert_eq!((d.smallest_mm, d.largest_mm), (36.0, 40.0));
    assert_eq!((t.id(), t.kind(), t.count()), ("wet-lube", "bottle", 8));
}

// scenario A10: the nozzle is 14 across at its cap, so 22 stay between it and the next body 10 away
#[test]
fn the_hand_takes_the_nozzle_at_its_cap() {
    let t = thing(bottle(json!({"cap_diameter_mm": 14})));
    let g = t.grip();
    assert_eq!((g.place, g.diameter_mm), (GripPlace::Cap, 14.0));
    near(10.0 + (38.0 - g.diameter_mm) / 2.0, 22.0, 0.05);
    near(t.solid().radius_at(92.0), 19.0, 1e-12);
    near(t.solid().radius_at(92.001), 7.0, 1e-3);
    let can = thing(json!({"id": "polish", "shape": {"kind": "can", "diameter_mm": 52, "overall_mm": 175}}));
    // scenario A15: caps the full 52 across, at a pitch of 58
    near(58.0 - can.grip().diameter_mm, 6.0, 1e-9);
    let given =
        thing(json!({"id": "x", "grip_height_mm": 50, "shape": {"kind": "can", "diameter_mm": 52, "overall_mm": 175}}));
    assert_eq!((given.grip().place, given.grip().height_mm), (GripPlace::Given, 50.0));
}

#[test]
fn each_default_that_is_used_is_listed() {
    let list = |spec: Value| -> Vec<String> {
        let spec: ThingSpec = decode(spec).unwrap();
        let mut out = vec![];
        spec.note_all_defaults("/things/0", &mut out);
        out.iter().map(|d| format!("{} {}", d.at, d.value)).collect()
    };
    let b = json!({"id": "x", "shape": {"kind": "bottle", "diameter_mm": 38, "body_mm": 92, "overall_mm": 138, "tip_diameter_mm": 6}});
    assert_eq!(
        list(b),
        [
            "/things/0/count 1",
            "/things/0/fill 0.95",
            "/things/0/shape/wall_mm 1.2",
            "/things/0/shape/density_g_cm3 1",
            "/things/0/shape/bore_mm 2"
        ]
    );
    let jar = json!({"id": "x", "count": 1, "fill": 0.9, "shape": {"kind": "bottle", "diameter_mm": 60, "body_mm": 60, "overall_mm": 80, "tip_diameter_mm": 50, "wall_mm": 1, "density_g_cm3": 1}});
    assert_eq!(list(jar), ["/things/0/shape/bore_mm 50"]);
    let can = json!({"id": "x", "shape": {"kind": "can", "diameter_mm": 52, "overall_mm": 175}});
    assert_eq!(list(can), ["/things/0/count 1"]);
}
