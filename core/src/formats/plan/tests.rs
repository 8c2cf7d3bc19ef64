//! The plan is to scale, well formed, and shows what a refusal points at.

use crate::families::ALL;
use crate::finding::{Finding, Verdict};
use crate::make::tests::made;

#[test]
fn every_example_has_a_plan_with_all_its_parts_and_things() {
    for about in ALL {
        let made = made((about.example)());
        let text = super::svg(&made).unwrap();
        assert!(text.contains("width=\"420mm\"") && text.contains("viewBox=\"0 0 420 297\""), "{}", about.tag);
        for thing in &made.job.things {
            assert!(text.contains(thing.id()), "{}: {}", about.tag, thing.id());
        }
        assert!(!text.contains("NaN") && !text.contains("inf "), "{}", about.tag);
        assert!(text.contains("Section A–A") && text.contains("Section B–B"));
    }
}

#[test]
fn offenders_are_red_and_their_finding_is_told() {
    let made = made((ALL[0].example)());
    assert!(!super::svg(&made).unwrap().contains("#f0a0a0"));
    let found = [Finding::new("web-narrow", Verdict::Refuse, "A2").why("Too narrow.")];
    let text = super::refused(Some(&made.job), &made.holders, &found).unwrap();
    assert!(text.contains("#f0a0a0") && text.contains("web-narrow (A2)"));
    assert!(super::refused(None, &made.holders, &found).is_none());
    assert!(super::refused(Some(&made.job), &[], &found).is_none());
}

#[test]
fn markup_in_a_finding_stays_text() {
    let made = made((ALL[0].example)());
    let found = [Finding::new("x", Verdict::Refuse, "/holders/0").why("</text><script>alert(1)</script> & \"q\"")];
    let text = super::refused(Some(&made.job), &made.holders, &found).unwrap();
    assert!(!text.contains("<script>") && text.contains("&lt;script&gt;"));
}

/// Two holders side by side in a space so large that only what stands in it is worth drawing.
#[test]
fn what_stands_free_is_drawn_without_walls() {
    let mut request = (ALL[0].example)();
    request["space"] = serde_json::json!({ "kind": "free", "width_mm": 2500, "depth_mm": 900, "height_mm": 600 });
    let mut holder = request["holders"][0].clone();
    holder["width_mm"] = 180.into();
    holder["depth_mm"] = 120.into();
    let mut second = holder.clone();
    second["things"] = serde_json::json!([]);
    request["holders"] = serde_json::json!([holder, second]);
    let made = made(request);
    let text = super::svg(&made).unwrap();
    assert!(text.contains("scale 1:1 ") || text.contains("scale 1:2 "), "drawn too small");
    let says = |words: &str| text.lines().any(|l| l == words);
    assert!(!says("2500") && says("180"), "the free space is no wall");
    assert!(says("B1") && says("A1"));
}
