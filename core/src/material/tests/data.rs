//! All files of `shared/` parse, are sane, and are listed.

use super::super::data::{CUTTERS, MATERIALS};
use super::super::{Catalogue, FIT_ROW, Feel, Permit, Process, When, catalogue, forbidden};
use std::path::{Path, PathBuf};

fn folder(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../shared").join(name)
}

fn names(name: &str) -> Vec<String> {
    let mut all: Vec<String> = std::fs::read_dir(folder(name))
        .unwrap()
        .map(|e| e.unwrap().file_name().into_string().unwrap())
        .map(|n| n.strip_suffix(".json").unwrap_or_else(|| panic!("{n} is no JSON")).to_owned())
        .collect();
    all.sort();
    all
}

#[test]
fn every_file_parses() {
    let (all, faults) = Catalogue::read();
    assert_eq!(faults, Vec::<String>::new());
    assert_eq!(all.profiles.len(), MATERIALS.len());
    assert_eq!(all.cutters.len(), CUTTERS.len());
    assert!(all.never.len() >= 16, "the never-list may only grow");
    assert!(!all.cautions.is_empty());
}

#[test]
fn every_file_in_the_folders_is_listed() {
    let mut listed: Vec<&str> = MATERIALS.iter().map(|(n, _)| *n).chain(["never"]).collect();
    listed.sort_unstable();
    assert_eq!(names("materials"), listed);
    let listed: Vec<&str> = CUTTERS.iter().map(|(n, _)| *n).collect();
    assert_eq!(names("cutters"), listed);
}

#[test]
fn every_profile_is_sane() {
    for p in &catalogue().profiles {
        let id = &p.id;
        assert!((20.0..2000.0).contains(&p.density_kg_m3.value), "{id}");
        assert!(p.e_across_n_mm2.value <= p.e_along_n_mm2.value, "{id}");
        assert!(p.e_flat_n_mm2.value <= p.e_along_n_mm2.value, "{id}");
        assert!(p.rolling_shear_n_mm2.value <= p.edge_shear_n_mm2.value, "{id}");
        assert!(p.strain_along.value <= 0.01 && p.strain_across.value <= p.strain_along.value, "{id}");
        assert!(p.fit.tightest_mm >= FIT_ROW.min && p.fit.tightest_mm <= Feel::Slide.mm(), "{id}");
        assert!(Process::ALL.iter().any(|x| p.treatment(*x).permit != Permit::Never), "{id} cannot be cut at all");
        assert!(p.thickness.scatter_mm > 0.0 && p.thickness.scatter_mm <= 0.3, "{id}");
        for c in &p.cautions {
            let known = catalogue().cautions.iter().find(|x| x.id == *c);
            assert!(known.is_some_and(|x| x.when == When::Material), "{id} asks for {c}");
        }
    }
}

#[test]
fn every_cutter_has_a_feed_for_just_what_it_may_cut() {
    for c in &catalogue().cutters {
        for p in &catalogue().profiles {
            let may = p.treatment(c.process).permit != Permit::Never;
            assert_eq!(c.feeds.contains_key(&p.id), may, "{} and {}", c.id, p.id);
        }
        assert_eq!(c.feeds.len(), c.feeds.keys().filter(|m| catalogue().profile(m).is_some()).count(), "{}", c.id);
    }
}

#[test]
fn every_caution_of_the_file_is_given_with_something() {
    for c in catalogue().cautions.iter().filter(|c| c.when == When::Material) {
        assert!(catalogue().profiles.iter().any(|p| p.cautions.contains(&c.id)), "{} is never given", c.id);
    }
    let all: Vec<_> = catalogue().profiles.iter().collect();
    let laser = super::super::cautions(Process::Co2, &all);
    for needed in [
        "never-alone",
        "extraction",
        "fire-extinguisher",
        "eye-protection",
        "dust-mask",
        "solvents",
        "pressurised-cans",
        "glues",
    ] {
        assert!(laser.iter().any(|c| c.id == needed), "{needed}");
    }
    let knife = super::super::cautions(Process::Knife, &[]);
    assert!(knife.iter().any(|c| c.id == "knife") && !knife.iter().any(|c| c.id == "never-alone"));
}

#[test]
fn each_word_of_the_never_list_finds_its_own_entry() {
    for entry in &catalogue().never {
        for word in &entry.words {
            assert_eq!(*word, word.to_lowercase(), "{}", entry.id);
            let found = forbidden(&format!("3 mm {word}, offcut")).unwrap();
            assert!(
                found.id == entry.id || found.words.iter().any(|w| word.contains(w.as_str())),
                "{word} finds {}",
                found.id
            );
        }
        for text in [&entry.what, &entry.reason, &entry.instead, &entry.source] {
            assert!(!text.trim().is_empty(), "{}", entry.id);
        }
    }
}

#[test]
fn the_schema_says_what_serde_takes() {
    use utoipa::PartialSchema;
    let stock = serde_json::to_value(super::super::StockSpec::schema()).unwrap();
    let sheet = &stock["properties"]["sheet_mm"];
    // the mark that the service's document turns into an array of just two numbers
    assert_eq!(sheet["format"], "pair");
    assert_eq!(stock["additionalProperties"], false);
    let fit = serde_json::to_value(super::super::FitSpec::schema()).unwrap();
    for word in fit["oneOf"][0]["enum"].as_array().unwrap() {
        assert!(crate::units::decode::<super::super::FitSpec>(word.clone()).is_ok(), "{word}");
    }
    let cutter = serde_json::to_value(super::super::CutterSpec::schema()).unwrap();
    assert_eq!(cutter["oneOf"][0]["type"], "string");
    assert_eq!(cutter["oneOf"][1]["properties"]["bed_mm"]["format"], "pair");
}
