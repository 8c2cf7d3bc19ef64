//! Prototypes over HTTP: made of every example, or refused at their place.

use super::client::{Answer, post_to};
use berth_service::examples;
use serde_json::{Value, json};

fn prototype(spec: &Value, accept: &str) -> Answer {
    post_to("/v1/prototypes", spec.to_string(), "application/json", accept)
}

#[test]
fn every_example_has_a_prototype_whose_report_says_what_it_proves() {
    for e in examples::all() {
        let spec = json!({"design": e.request, "board": {"readings_mm": [4.9, 4.88]}});
        let answer = prototype(&spec, "application/json");
        assert_eq!(answer.status, 200, "{}: {}", e.name, String::from_utf8_lossy(&answer.body));
        let report = answer.json();
        let note = &report["prototype"];
        assert_eq!(note["thickness_mm"], json!(4.89), "{}", e.name);
        assert_eq!(note["square_slot_mm"], json!(4.59), "{}", e.name);
        for list in ["proves", "does_not_prove", "outsides"] {
            assert!(!note[list].as_array().unwrap().is_empty(), "{} {list}", e.name);
        }
        assert_eq!(report["cutter"]["process"], "knife");
        assert!(
            report["stocks"].as_array().unwrap().iter().all(|s| s["material"] == "foam-board-5" && s["kerf_mm"] == 0.0)
        );
    }
}

#[test]
fn the_package_of_a_prototype_is_the_same_twice_and_one_place_is_smaller_than_all() {
    let design = examples::all().into_iter().find(|e| e.name == "bench-drawer").unwrap().request;
    let spec =
        json!({"design": design, "board": {"material": "cardboard-3"}, "cells": "doubtful", "thing": "grease can"});
    let first = prototype(&spec, "application/zip");
    assert_eq!(first.status, 200, "{}", String::from_utf8_lossy(&first.body));
    assert!(first.header("content-disposition").contains("prototype"));
    assert_eq!(first.body, prototype(&spec, "application/zip").body);
    let report = prototype(&spec, "application/json").json();
    assert!(report["prototype"]["made"].as_str().unwrap().contains("grease can"), "{}", report["prototype"]["made"]);
    assert!(report["parts"].as_u64().unwrap() < 9, "{}", report["parts"]);
}

#[test]
fn what_is_no_prototype_is_refused_at_its_place() {
    let design = examples::all().into_iter().find(|e| e.name == "compartments").unwrap().request;
    for (spec, status, place) in [
        (json!({"design": design, "bord": {}}), 400, "/bord"),
        (json!({"design": {"name": "x"}}), 400, "/design"),
        (json!({"design": design, "board": []}), 400, "/board"),
        (json!({"design": design, "holder": -1}), 400, "/holder"),
        (json!({"design": design, "board": {"readings_mm": [40]}}), 422, "/board/readings_mm"),
        (json!({"design": design, "board": {"material": "mdf-3"}}), 422, "/board/material"),
    ] {
        let answer = prototype(&spec, "application/zip");
        assert_eq!(answer.status, status, "{}", String::from_utf8_lossy(&answer.body));
        let findings = answer.json()["findings"].as_array().cloned().unwrap_or_default();
        let refuses = |f: &&Value| f["verdict"] == "refuse" && f["where"].as_str().unwrap().starts_with(place);
        let found = findings.iter().find(refuses).unwrap_or_else(|| panic!("{place}: {findings:#?}"));
        assert!(found["why"].as_str().unwrap().len() > 10, "{found}");
    }
    assert_eq!(post_to("/v1/prototypes", "{}", "text/plain", "application/zip").status, 415);
    assert_eq!(prototype(&json!({"design": design}), "text/html").status, 406);
}
