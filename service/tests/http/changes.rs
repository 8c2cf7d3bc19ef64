//! Two specs compared over HTTP.

use super::client::{Answer, post_to};
use berth_service::examples;
use serde_json::{Value, json};

fn compare(spec: &Value) -> Answer {
    post_to("/v1/changes", spec.to_string(), "application/json", "application/json")
}

fn example(name: &str) -> Value {
    examples::all().into_iter().find(|e| e.name == name).unwrap().request
}

#[test]
fn one_changed_thing_changes_its_parts_and_the_rest_stays_proven() {
    let old = example("bench-drawer");
    let mut new = old.clone();
    new["things"][1]["shape"]["overall_mm"] = json!(88);
    let answer = compare(&json!({"old": old, "new": new}));
    assert_eq!(answer.status, 200, "{}", String::from_utf8_lossy(&answer.body));
    assert_eq!(answer.header("berth-verdict"), "ok");
    let c = answer.json();
    assert_eq!(c["format"], "berth-changes/1");
    let count = |list: &str| c[list].as_array().unwrap().len();
    assert!(count("cut") > 0 && count("stay") > count("cut"), "{c:#}");
    assert_eq!(count("cut") + count("stay"), c["parts"].as_u64().unwrap() as usize);
    // only the rack of the cans is concerned: what is cut anew is of one holder
    let letters: Vec<char> =
        c["cut"].as_array().unwrap().iter().filter_map(|p| p["code"].as_str()?.chars().next()).collect();
    assert!(letters.iter().all(|l| *l == letters[0]), "{letters:?}");
    assert!(c["findings"].as_array().unwrap().is_empty());
}

#[test]
fn what_cannot_be_compared_is_refused_at_its_place() {
    let good = example("compartments");
    let mut bad = good.clone();
    bad["holders"][0]["width_mm"] = json!(400);
    let answer = compare(&json!({"old": good, "new": bad}));
    assert_eq!(answer.status, 422);
    let findings = answer.json()["findings"].as_array().unwrap().clone();
    assert!(findings.iter().any(|f| f["where"] == "/new/holders/0"), "{findings:#?}");
    assert_eq!(compare(&json!({"old": good})).status, 400);
    assert_eq!(compare(&json!({"old": good, "new": good, "x": 1})).status, 400);
    assert_eq!(post_to("/v1/changes", "{}", "application/json", "application/zip").status, 406);
}
