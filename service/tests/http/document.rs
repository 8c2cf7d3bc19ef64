//! The OpenAPI document: no drift, and it accepts exactly what the server accepts.

use berth_core::finding::Finding;
use berth_core::job::{Job, Limits, read};
use berth_service::{examples, openapi};
use jsonschema::Validator;
use serde_json::{Value, json};

#[test]
fn the_committed_document_is_what_the_code_says() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/../openapi/openapi.json");
    let committed = std::fs::read_to_string(file).unwrap_or_default();
    assert!(
        committed == openapi::text(),
        "it has drifted; mend it: cargo run -q --bin berth -- openapi > openapi/openapi.json"
    );
}

/// The schema of a component, ready to judge.
pub fn validator(component: &str) -> Validator {
    jsonschema::validator_for(&openapi::alone(component)).unwrap()
}

/// What the server says to a value, by shape and by range; other findings are beyond a schema.
fn server_refuses(value: &Value) -> Option<String> {
    match read(value.clone()) {
        Err((at, why)) => Some(format!("{at}: {why}")),
        Ok(request) => {
            let mut findings: Vec<Finding> = vec![];
            let _ = Job::checked(&request, &Limits::default(), &mut findings, &mut vec![]);
            findings
                .iter()
                .find(|f| ["out-of-range", "nothing-asked"].contains(&f.code))
                .map(|f| format!("{}: {}", f.place, f.why))
        }
    }
}

#[test]
fn every_example_is_accepted_by_the_schema_and_by_the_server() {
    let schema = validator("Request");
    for e in examples::all() {
        let faults: Vec<String> = schema.iter_errors(&e.request).map(|f| f.to_string()).collect();
        assert!(faults.is_empty(), "{}: {faults:?}", e.name);
        assert_eq!(server_refuses(&e.request), None, "{}", e.name);
    }
}

/// Every place of a value, as JSON Pointers.
fn places(value: &Value, at: &str, out: &mut Vec<String>) {
    out.push(at.to_owned());
    match value {
        Value::Object(map) => map.iter().for_each(|(k, v)| places(v, &format!("{at}/{k}"), out)),
        Value::Array(list) => list.iter().enumerate().for_each(|(i, v)| places(v, &format!("{at}/{i}"), out)),
        _ => {}
    }
}

/// The value with one place changed in every way that comes to mind.
pub fn mutants(value: &Value) -> Vec<(String, Value)> {
    let mut all_places = vec![];
    places(value, "", &mut all_places);
    let mut out = vec![];
    for at in all_places {
        let mut change = |how: &str, f: &dyn Fn(&mut Value)| {
            let mut copy = value.clone();
            copy.pointer_mut(&at).map(f).unwrap();
            out.push((format!("{at} {how}"), copy));
        };
        for other in [
            json!(null),
            json!("x"),
            json!([]),
            json!({}),
            json!(true),
            json!(0.25),
            json!(-5),
            json!(1e7),
            json!([1, 2]),
        ] {
            change(&format!("= {other}"), &move |v| *v = other.clone());
        }
        change("in an array", &|v| *v = json!([v.take()]));
        change("with a field more", &|v| {
            if let Value::Object(map) = v {
                map.insert("unheard_of".to_owned(), json!(1));
            }
        });
        if let Some(Value::Object(map)) = value.pointer(&at) {
            for key in map.keys() {
                change(&format!("without {key}"), &|v| {
                    v.as_object_mut().unwrap().remove(key);
                });
            }
        }
    }
    out
}

#[test]
fn a_mutated_example_is_refused_by_both_or_by_neither() {
    let schema = validator("Request");
    let (mut refused, mut accepted, mut apart) = (0, 0, vec![]);
    for e in examples::all() {
        for (what, mutant) in mutants(&e.request) {
            let by_schema = schema.iter_errors(&mutant).next().map(|f| f.to_string());
            let by_server = server_refuses(&mutant);
            if by_schema.is_some() {
                refused += 1
            } else {
                accepted += 1
            }
            if by_schema.is_some() != by_server.is_some() {
                apart.push(format!("{}: {what}: schema {by_schema:?}, server {by_server:?}", e.name));
            }
        }
    }
    assert!(apart.is_empty(), "{} apart of {}: {:#?}", apart.len(), refused + accepted, &apart[..apart.len().min(12)]);
    assert!(refused > 300 && accepted > 50, "{refused} refused, {accepted} accepted: the mutants say little");
}

#[test]
fn each_familys_schema_stands_alone_and_accepts_its_example() {
    for about in berth_core::families::ALL {
        let schema = openapi::family_schema(about.tag);
        assert!(!schema.to_string().contains("#/components/"));
        let validator = jsonschema::validator_for(&schema).unwrap();
        let example = (about.example)();
        let own = example["holders"].as_array().unwrap().iter().filter(|h| h["family"] == about.tag);
        assert!(own.clone().count() > 0, "{}", about.tag);
        for holder in own {
            assert!(validator.is_valid(holder), "{}", about.tag);
            let mut other = holder.clone();
            other["unheard_of"] = json!(1);
            assert!(!validator.is_valid(&other));
        }
    }
}
