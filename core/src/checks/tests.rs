//! The list of checks, and what each says about itself.

use super::ALL;
use std::collections::BTreeSet;
use std::path::Path;

#[test]
fn names_are_unique_and_say_rule_and_source() {
    let names: BTreeSet<&str> = ALL.iter().map(|c| c.about.name).collect();
    assert_eq!(names.len(), ALL.len());
    for c in ALL {
        assert!(c.about.rule.ends_with('.') || c.about.rule.ends_with(')'), "{}", c.about.rule);
        assert!(c.about.source.len() >= "counted".len(), "{}", c.about.name);
    }
}

/// rustc says nothing about a file that no list names: a check that is not run would look like one.
#[test]
fn every_file_with_a_check_is_in_the_list() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/checks");
    let mut seen = 0;
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let stem = path.file_stem().unwrap().to_string_lossy().replace('_', "-");
        let file = if path.is_dir() { path.join("mod.rs") } else { path };
        let text = std::fs::read_to_string(file).unwrap();
        if text.contains("\npub const ABOUT: About") {
            seen += 1;
            let listed = ALL.iter().any(|c| c.about.name == stem);
            assert!(listed, "{stem} is not in the list, or its name is not its module's");
            assert!(text.contains("#[test]") || text.contains("mod tests;"), "{stem} has no test");
        }
    }
    assert_eq!(seen, ALL.len());
}

/// Every family's example, with what is warned about: nothing is refused.
#[test]
fn examples_of_all_families_pass() {
    for about in crate::families::ALL {
        let scene = super::testing::Scene::of((about.example)());
        for c in ALL {
            let out = scene.run(c.run);
            for f in &out.findings {
                assert!(f.verdict < crate::finding::Verdict::Refuse, "{}: {f:#?}", about.tag);
                eprintln!("{} {} {}: {}", about.tag, f.code, f.place, f.why);
            }
        }
    }
}

/// A finding names amounts on both sides, says why, and measures are numbers.
#[test]
fn whatever_is_found_has_amounts() {
    let small = serde_json::json!({"kind": "drawer", "width_mm": 60, "depth_mm": 50, "clear_height_mm": 25, "extension_mm": 20,
        "slide_capacity_kg": 0.5, "yank": {"speed_m_s": 2.0}, "ride": {}});
    let small = super::testing::Scene::of(super::testing::tray_for(small, serde_json::json!([]), 20.0)).job.space;
    let mut found = 0;
    for about in crate::families::ALL {
        let mut scene = super::testing::Scene::of((about.example)());
        // everything too large, too heavy, shaken every way
        scene.job.space = small.clone();
        for c in ALL {
            let out = scene.run(c.run);
            found += out.findings.len();
            for f in &out.findings {
                assert!(!f.have.is_empty() && !f.need.is_empty() && !f.why.is_empty(), "{}: {f:#?}", c.about.name);
            }
            assert!(out.measured.iter().all(|m| m.value.is_finite()), "{}: {:?}", c.about.name, out.measured);
        }
    }
    assert!(found > 5 * crate::families::ALL.len(), "only {found} findings");
}

/// Codes of everything that is found in a scene.
fn codes(scene: &super::testing::Scene) -> BTreeSet<&'static str> {
    ALL.iter().flat_map(|c| scene.run(c.run).findings).map(|f| f.code).collect()
}

/// A larger space with the same holder refuses nothing; it may only slide about (trade invariant).
#[test]
fn a_larger_space_refuses_nothing() {
    for about in crate::families::ALL {
        let mut scene = super::testing::Scene::of((about.example)());
        let before = codes(&scene);
        let walls = &mut scene.job.space.walls;
        walls.floor.width_mm += 60.0;
        walls.floor.depth_mm += 40.0;
        let more: Vec<&str> = codes(&scene).difference(&before).copied().collect();
        assert!(more.iter().all(|c| *c == "holder-slides"), "{}: {more:?}", about.tag);
    }
}

/// With one thing taken out all stays as it was, but for tipping and the place that is gone (trade invariant).
#[test]
fn one_thing_less_finds_nothing_new() {
    let mut taken = 0;
    for about in crate::families::ALL {
        let mut scene = super::testing::Scene::of((about.example)());
        let before = codes(&scene);
        if scene.holders[0].assembly.berths.pop().is_none() {
            continue;
        }
        taken += 1;
        let more: Vec<&str> = codes(&scene).difference(&before).copied().collect();
        assert_eq!(more, ["without-place"], "{}", about.tag);
    }
    assert!(taken >= 2);
}
