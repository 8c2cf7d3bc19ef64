//! Coupons over HTTP: the files, and the round from a coupon's form to a profile.

use super::client::{Answer, post, post_to};
use berth_service::examples;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::Read;

fn coupons(spec: &Value) -> Answer {
    post_to("/v1/coupons", spec.to_string(), "application/json", "application/zip")
}

fn files(zip: &[u8]) -> BTreeMap<String, Vec<u8>> {
    let mut archive = zip::ZipArchive::new(std::io::Cursor::new(zip)).unwrap();
    (0..archive.len())
        .map(|i| {
            let mut file = archive.by_index(i).unwrap();
            let mut bytes = vec![];
            file.read_to_end(&mut bytes).unwrap();
            (file.name().unwrap().into_owned(), bytes)
        })
        .collect()
}

#[test]
fn a_coupon_is_the_same_alone_and_in_the_package_and_its_form_is_answered() {
    let spec = examples::named("compartments").unwrap().request;
    let answer = coupons(&spec);
    assert_eq!(answer.status, 200, "{}", String::from_utf8_lossy(&answer.body));
    assert_eq!(answer.header("content-type"), "application/zip");
    let alone = files(&answer.body);
    for ending in ["dxf", "svg", "txt", "json"] {
        assert!(alone.keys().any(|n| n.starts_with("coupon/01-") && n.ends_with(ending)), "{:?}", alone.keys());
    }
    let package = files(&post(&spec).body);
    for (name, bytes) in &alone {
        assert_eq!(package.get(name), Some(bytes), "{name}");
    }
    let mut form: Value =
        alone.iter().find(|f| f.0.ends_with(".json")).map(|f| serde_json::from_slice(f.1).unwrap()).unwrap();
    form["strips"][0]["measured_mm"] = json!([98.2, 98.21]);
    for comb in form["combs"].as_array_mut().unwrap() {
        let words = ["refuses", "refuses", "mallet", "thumb", "thumb", "slide", "loose", "loose", "rattles"];
        for (slot, word) in comb["slots"].as_array_mut().unwrap().iter_mut().zip(words) {
            slot["answer"] = json!(word);
        }
    }
    let said = post_to("/v1/readings", form.to_string(), "application/json", "application/json");
    assert_eq!(said.status, 200, "{}", String::from_utf8_lossy(&said.body));
    assert_eq!(said.json()["profile"]["fit"]["answers"], 18);
}

#[test]
fn what_must_not_be_cut_gets_no_coupon_either() {
    let mut spec = examples::named("compartments").unwrap().request;
    spec["stocks"][0]["material"] = json!("foamed PVC");
    let answer = coupons(&spec);
    assert_eq!(answer.status, 422);
    assert_eq!(answer.refused_for(), ["material-never"]);
    assert_eq!(post_to("/v1/coupons", "{}", "application/json", "application/zip").status, 400);
}
