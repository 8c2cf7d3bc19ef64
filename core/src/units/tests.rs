//! The macros on a small struct.

use crate::finding::Finding;
use crate::units::{Readings, decode};
use serde_json::json;

crate::params! {
    /// A test object.
    pub struct Peg {
        numbers {
            /// How wide.
            width_mm: req(1.0, 10.0, "mm"),
            /// How high.
            height_mm: def(2.0, 20.0, "mm", 5.0),
            /// Readings.
            reading_mm: optmany(0.5, 6.0, "mm"),
            /// Left out or not.
            lean_deg: opt(0.0, 10.0, "deg"),
            /// Always readings.
            deep_mm: many(1.0, 9.0, "mm"),
        }
        fields {
            /// A name.
            #[serde(default)]
            pub name: String,
        }
    }
}

crate::tagged! {
    /// One of one.
    "kind": pub enum Things { "peg" => Peg(Peg) }
}

#[derive(Debug, serde::Deserialize)]
struct Top {
    things: Vec<Things>,
}

#[test]
fn a_number_outside_its_row_is_named_with_its_range() {
    let t: Things = decode(json!({"kind": "peg", "width_mm": 11.0, "deep_mm": [2, 10.5], "lean_deg": 11})).unwrap();
    let mut out: Vec<Finding> = vec![];
    assert_eq!(t.tag(), "peg");
    t.check("/things/0", &mut out);
    let places: Vec<&str> = out.iter().map(|f| f.place.as_str()).collect();
    assert_eq!(places, ["/things/0/width_mm", "/things/0/lean_deg", "/things/0/deep_mm/1"]);
    assert!(out[0].why.contains("outside 1 to 10 by 1"), "{}", out[0].why);
    let mut d = vec![];
    t.note_defaults("/things/0", &mut d);
    assert_eq!(d.len(), 1);
    let Things::Peg(p) = &t;
    assert_eq!(p.height_mm(), 5.0);
    assert_eq!(p.deep_mm, Readings::new(vec![2.0, 10.5]).unwrap());
}

#[test]
fn an_error_behind_a_tag_still_names_its_field() {
    let good = decode::<Top>(json!({"things": [{"kind": "peg", "width_mm": 1, "deep_mm": 1}]})).unwrap();
    assert_eq!(good.things.len(), 1);
    let fault = |v| decode::<Top>(v).unwrap_err().0;
    assert_eq!(fault(json!({"things": [{"kind": "peg", "width_mm": "x", "deep_mm": 1}]})), "/things/0/width_mm");
    assert_eq!(fault(json!({"things": [{"kind": "peg", "width_mm": 1, "deep_mm": 1, "extra": 1}]})), "/things/0/extra");
    assert_eq!(fault(json!({"things": [{"kind": "pin"}]})), "/things/0/kind");
    assert_eq!(fault(json!({"things": [[1, 2]]})), "/things/0");
}

#[derive(Debug, serde::Deserialize)]
struct Pile {
    #[serde(default, deserialize_with = "super::whole")]
    count: Option<u32>,
}

#[test]
fn a_whole_number_may_be_written_with_decimals() {
    let count = |v| decode::<Pile>(v).map(|p| p.count);
    assert_eq!(count(json!({"count": 82.0})), Ok(Some(82)));
    assert_eq!(count(json!({"count": 7})), Ok(Some(7)));
    assert_eq!(count(json!({"count": null})), Ok(None));
    assert_eq!(count(json!({})), Ok(None));
    for bad in [json!({"count": 2.5}), json!({"count": -1}), json!({"count": 5e9}), json!({"count": "3"})] {
        let (at, why) = count(bad).unwrap_err();
        assert_eq!(at, "/count", "{why}");
    }
}
