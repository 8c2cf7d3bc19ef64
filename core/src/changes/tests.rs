//! Changes of the examples: what must be cut, what stays, and that both go together.

use super::{Answer, Changes, ChangesSpec, changes};
use crate::families::ALL;
use crate::finding::Verdict;
use crate::job::{Limits, read_as};
use serde_json::{Value, json};

fn compared(old: &Value, new: &Value) -> Changes {
    let spec: ChangesSpec = read_as(json!({"old": old, "new": new})).unwrap();
    match changes(&spec, &Limits::default(), &|| false) {
        Answer::Compared(c) => *c,
        other => panic!("{other:#?}"),
    }
}

fn example(tag: &str) -> Value {
    (ALL.iter().find(|a| a.tag == tag).unwrap().example)()
}

#[test]
fn nothing_changes_when_nothing_does_or_only_the_kerf() {
    for about in ALL {
        let old = (about.example)();
        let mut new = old.clone();
        new["name"] = json!("another name");
        new["stocks"][0]["kerf_mm"] = json!(0.21);
        let c = compared(&old, &new);
        assert!(c.cut.is_empty() && c.left_over.is_empty() && c.findings.is_empty(), "{}: {c:#?}", about.tag);
        assert!(c.stay.iter().all(|s| s.code == s.was && !s.turned), "{}", about.tag);
        assert_eq!(c.stay.len(), c.parts);
    }
}

/// Another diameter within the same pitch: the decks' openings are cut anew, walls and floor stay.
#[test]
fn another_can_changes_the_deck_and_nothing_else() {
    let mut old = example("deck-rack");
    for (field, mm) in [("width_mm", 160.0), ("depth_mm", 220.0), ("height_mm", 40.0), ("deck_height_mm", 24.0)] {
        old["holders"][0][field] = json!(mm);
    }
    let mut new = old.clone();
    new["things"][0]["shape"]["diameter_mm"] = json!(51.0);
    let c = compared(&old, &new);
    let names: Vec<&str> = c.cut.iter().map(|p| p.name.as_str()).collect();
    assert!(!names.is_empty() && names.iter().all(|n| n.contains("deck")), "{names:?}");
    assert!(c.cut.iter().all(|p| p.why.iter().any(|w| w.starts_with("outline"))), "{:?}", c.cut);
    assert_eq!(c.verdict, Verdict::Ok, "{:#?}", c.findings);
    assert!(!c.joints.is_empty(), "no joint between old and new was measured");
    assert_eq!(c.left_over.len(), c.cut.len());
}

/// A column more: dividers that only moved along the walls are the same parts; walls with other slots are not.
#[test]
fn parts_are_known_by_their_outline_and_not_by_their_code() {
    let mut old = example("compartments");
    old["holders"][0]["dividers"] = json!("removable");
    let mut new = old.clone();
    new["holders"][0]["columns"] = json!(4);
    let c = compared(&old, &new);
    let stays = |name: &str| c.stay.iter().any(|s| s.name.starts_with(name));
    assert!(stays("divider along") && stays("left") && stays("right"), "{:#?} {:#?}", c.stay, c.cut);
    assert!(c.cut.iter().any(|p| p.name == "front"), "{:#?}", c.cut);
    assert!(c.cut.iter().any(|p| p.name == "divider along 3" && p.was.is_none()), "{:#?}", c.cut);
    assert_eq!(c.verdict, Verdict::Ok, "{:#?}", c.findings);
}

#[test]
fn a_thicker_sheet_changes_every_part_with_the_reason() {
    let old = example("case-liner");
    let mut new = old.clone();
    new["stocks"][0]["readings_mm"] = json!([3.25]);
    let c = compared(&old, &new);
    assert!(c.stay.is_empty() && c.cut.iter().all(|p| p.why.iter().any(|w| w.starts_with("thickness"))), "{c:#?}");
}

#[test]
fn a_refused_spec_is_named() {
    let old = example("compartments");
    let mut bad = old.clone();
    bad["stocks"][0]["kerf_mm"] = json!(1.8);
    let spec: ChangesSpec = read_as(json!({"old": bad, "new": old})).unwrap();
    let Answer::Refused(f) = changes(&spec, &Limits::default(), &|| false) else { panic!("it was compared") };
    assert_eq!(f[0].place, "/old/stocks/0/kerf_mm");
    assert!(f[0].cures.iter().all(|c| c.patch[0].path.starts_with("/old/stocks/0")), "{f:#?}");
}
