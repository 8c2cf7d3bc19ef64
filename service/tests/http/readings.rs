//! Readings in, a profile out, and the profile into the next spec.

use super::client::{Answer, post, post_to};
use super::document::{mutants, validator};
use berth_core::job::read_as;
use berth_core::readings::{ReadingsRequest, take};
use berth_service::examples;
use serde_json::{Value, json};

fn readings() -> Value {
    json!({
        "stock": {"id": "A", "material": "birch-ply-3", "readings_mm": [3.08, 3.12, 3.05, 3.10, 3.13, 3.09, 3.11, 3.07]},
        "strips": [{"measured_mm": 98.18}, {"measured_mm": [98.22, 98.23], "drawn_mm": 100, "pieces": 10}],
        "combs": [{"grain": "across", "tongue_mm": [3.09, 3.1], "slots": [
            {"drawn_mm": 2.85, "answer": "mallet"},
            {"drawn_mm": 2.95, "answer": "thumb"},
            {"drawn_mm": 3.05, "answer": "loose"},
            {"drawn_mm": 3.15},
        ]}],
        "age_days": 3
    })
}

fn said(readings: &Value) -> Answer {
    post_to("/v1/readings", readings.to_string(), "application/json", "application/json")
}

#[test]
fn a_profile_goes_from_one_answer_into_the_next_request() {
    let answer = said(&readings());
    assert_eq!(answer.status, 200, "{}", String::from_utf8_lossy(&answer.body));
    assert_eq!(answer.header("berth-verdict"), "ok");
    let profile = &answer.json()["profile"];
    assert!((profile["kerf"]["mean_mm"].as_f64().unwrap() - 0.18).abs() < 0.003);
    let mut spec = examples::named("compartments").unwrap().request;
    let id = spec["stocks"][0]["id"].clone();
    spec["stocks"][0] = profile["stock"].clone();
    spec["stocks"][0]["id"] = id;
    spec["fits"] = profile["fits"].clone();
    let made = post(&spec);
    assert_eq!(made.status, 200, "{}", String::from_utf8_lossy(&made.body));
}

#[test]
fn a_contradiction_is_refused_with_both_numbers_over_http_too() {
    let mut wrong = readings();
    wrong["stock"]["kerf_mm"] = json!(1.8);
    let answer = said(&wrong);
    assert_eq!(answer.status, 422);
    assert_eq!(answer.header("content-type"), "application/problem+json");
    let why = answer.json()["findings"][0]["why"].as_str().unwrap().to_owned();
    assert!(why.contains("1.8") && why.contains("The strip says 0.18"), "{why}");
    for body in [json!([]), json!({"stock": {"id": "A"}}), json!({"stock": readings()["stock"], "unheard_of": 1})] {
        assert_eq!(said(&body).status, 400, "{body}");
    }
}

/// What the server says to a value, by shape, count and range; other findings are beyond a schema.
fn server_refuses(value: &Value) -> Option<String> {
    match read_as::<ReadingsRequest>(value.clone()) {
        Err((at, why)) => Some(format!("{at}: {why}")),
        Ok(request) => {
            let by_schema = |code| ["out-of-range", "wrong-count"].contains(&code);
            take(&request).1.iter().find(|f| by_schema(f.code)).map(|f| format!("{}: {}", f.place, f.why))
        }
    }
}

#[test]
fn mutated_readings_are_refused_by_both_or_by_neither() {
    let schema = validator("ReadingsRequest");
    assert!(schema.is_valid(&readings()));
    let mut apart = vec![];
    let all = mutants(&readings());
    for (what, mutant) in &all {
        let by_schema = schema.iter_errors(mutant).next().map(|f| f.to_string());
        let by_server = server_refuses(mutant);
        if by_schema.is_some() != by_server.is_some() {
            apart.push(format!("{what}: schema {by_schema:?}, server {by_server:?}"));
        }
    }
    assert!(all.len() > 300 && apart.is_empty(), "{} apart of {}: {:#?}", apart.len(), all.len(), apart);
}
