//! What must not be cut, by the names that people give it.

use super::super::forbidden;
use super::{check, check_on, codes, still_there};
use crate::finding::Verdict;
use serde_json::json;

#[test]
fn words_of_people_are_understood() {
    for (text, id) in [
        ("4mm PVC foam sheet", "pvc"),
        ("offcut, foamed-PVC, from the sign maker", "pvc"),
        ("Vinyl floor", "pvc"),
        ("old Inner Tubes, opened and pressed flat", "rubber"),
        ("carbon-fiber plate from a seat post", "carbon-fibre"),
        ("CARBON FIBRE", "carbon-fibre"),
        ("polystyrene-core board", "polystyrene-foam"),
        ("ABS 3 mm", "abs"),
        ("ply, make unknown, dark core", "unknown"),
        ("oily drawer bottom", "oiled"),
        ("galvanised tray", "metal"),
        ("pressure-treated ply", "treated-wood"),
        ("chrome-tanned leather", "leather"),
    ] {
        assert_eq!(forbidden(text).map(|f| f.id.as_str()), Some(id), "{text}");
    }
}

#[test]
fn harmless_words_that_look_alike_are_left_alone() {
    for text in ["absolutely flat birch", "untreated beech", "epsom birch", "unpainted poplar", "birch-ply-3", "", "—"]
    {
        assert_eq!(forbidden(text).map(|f| f.id.as_str()), None, "{text}");
    }
}

#[test]
fn nothing_on_the_list_comes_under_the_laser() {
    let bad = ["white foamed PVC", "inner tube", "carbon fibre sheet", "ply of unknown make"];
    for text in bad {
        // alone, and under the cloak of a base that is in the list
        for changes in [json!({"material": text}), json!({"material": text, "base": "birch-ply-3"})] {
            let (stock, out) = check(changes.clone());
            assert!(stock.is_none(), "{text}");
            assert_eq!(codes(&out), [("material-never", Verdict::Refuse)], "{text}");
            for cure in &out[0].cures {
                assert!(!still_there("co2-600x400", &changes, cure, "material-never"), "{text}");
            }
        }
    }
    let (stock, out) = check(json!({"material": "foam-board-5", "readings_mm": 4.9}));
    assert!(stock.is_none());
    assert_eq!(codes(&out), [("material-not-for-process", Verdict::Refuse)]);
}

#[test]
fn a_knife_is_offered_for_foam_board_and_the_laser_for_plywood() {
    let foam = json!({"material": "foam-board-5", "readings_mm": 4.9, "kerf_mm": null});
    let (_, out) = check(foam.clone());
    assert_eq!(out[0].cures.len(), 2);
    for cure in &out[0].cures {
        assert!(!still_there("co2-600x400", &foam, cure, out[0].code), "{}", cure.action);
    }
    let (stock, out) = check_on("knife-600x400", json!({}));
    assert!(stock.is_none());
    assert_eq!(out[0].code, "material-not-for-process");
    assert!(!still_there("knife-600x400", &json!({}), &out[0].cures[0], out[0].code));
}

#[test]
fn unknown_means_no_and_the_list_is_told() {
    let (stock, out) = check(json!({"material": "Birch ply 3 mm"}));
    assert!(stock.is_none());
    assert_eq!(codes(&out), [("material-unknown", Verdict::Refuse)]);
    assert!(out[0].why.contains("mdf-3") && out[0].why.contains("poplar-ply-6"));
    let best = &out[0].cures[0];
    assert_eq!(best.action, "If the data sheet says so, use birch-ply-3.");
    assert!(!still_there("co2-600x400", &json!({"material": "Birch ply 3 mm"}), best, "material-unknown"));
    for text in ["", "bamboo 3", "BIRCH-PLY-3"] {
        assert!(check(json!({"material": text})).0.is_none(), "{text}");
    }
    let (_, out) = check(json!({"material": "bamboo, three layers", "base": "bamboo"}));
    assert_eq!((out[0].code, out[0].place.as_str()), ("material-unknown", "/stocks/0/base"));
    let (_, out) = check_on("knife-600x400", json!({"material": "inner tube"}));
    assert!(out[0].code == "material-unknown" && out[0].why.contains("knife"), "{}", out[0].why);
}

#[test]
fn cardboard_is_cut_with_a_warning() {
    let (stock, out) = check(json!({"material": "cardboard-3", "readings_mm": 2.9}));
    assert!(stock.is_some());
    assert_eq!(codes(&out), [("material-caution", Verdict::Warn)]);
}
