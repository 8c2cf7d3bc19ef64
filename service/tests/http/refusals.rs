//! What bad input gets: the place, the number, the limit.

use super::client::{Answer, get, post, post_bytes};
use berth_service::examples;
use serde_json::{Value, json};

/// An example with some places changed (JSON Pointer, new value).
fn changed(name: &str, changes: &[(&str, Value)]) -> Value {
    let mut spec = examples::all().into_iter().find(|e| e.name == name).unwrap().request;
    for (at, value) in changes {
        let (parent, key) = at.rsplit_once('/').unwrap();
        match spec.pointer_mut(parent).unwrap() {
            Value::Object(map) => {
                map.insert(key.to_owned(), value.clone());
            }
            Value::Array(list) => list[key.parse::<usize>().unwrap()] = value.clone(),
            other => panic!("{at} leads into {other}"),
        }
    }
    spec
}

/// A refusal of the given code, with have, need and why; each refusing finding says by how much.
fn refuses(answer: &Answer, code: &str, place: &str) {
    assert_eq!(answer.status, 422, "{code}: {}", String::from_utf8_lossy(&answer.body));
    assert_eq!(answer.header("content-type"), "application/problem+json", "{code}");
    assert_eq!(answer.header("berth-verdict"), "refuse", "{code}");
    let body = answer.json();
    for key in ["type", "title", "status", "detail"] {
        assert!(!body[key].is_null(), "{code}: no {key} (RFC 9457, section 3.1)");
    }
    let findings = body["findings"].as_array().unwrap();
    let found = findings.iter().find(|f| f["code"] == code && f["where"].as_str().unwrap().starts_with(place));
    let found = found.unwrap_or_else(|| panic!("{code} at {place}: got {:#?}", body["findings"]));
    assert!(!found["have"].as_object().unwrap().is_empty(), "{found}");
    assert!(!found["need"].as_object().unwrap().is_empty(), "{found}");
    assert!(found["why"].as_str().unwrap().len() > 20, "{found}");
}

/// An example, the code that it must be refused for, where, and what is changed in it.
type Case = (&'static str, &'static str, &'static str, Vec<(&'static str, Value)>);

#[test]
fn what_cannot_be_held_is_refused_with_numbers() {
    let cases: Vec<Case> = vec![
        ("lean-rack", "lean-window-empty", "/things/0", vec![("/space/clear_height_mm", json!(62))]),
        ("deck-rack", "thing-too-high", "", vec![("/space/clear_height_mm", json!(90))]),
        ("lean-rack", "tape-disagrees", "/things/0", vec![("/things/0/shape/circumference_mm", json!(140))]),
        ("compartments", "holder-too-wide", "/holders/0", vec![("/holders/0/width_mm", json!(400))]),
        ("compartments", "part-beyond-bed", "", vec![("/stocks/0/sheet_mm", json!([300, 200]))]),
        ("compartments", "material-never", "/stocks/0", vec![("/stocks/0/material", json!("foamed PVC"))]),
        ("compartments", "material-unknown", "/stocks/0", vec![("/stocks/0/material", json!("grey board"))]),
        ("compartments", "kerf-implausible", "/stocks/0/kerf_mm", vec![("/stocks/0/kerf_mm", json!(1.8))]),
        ("compartments", "out-of-range", "/space/width_mm", vec![("/space/width_mm", json!(-5))]),
        ("compartments", "out-of-range", "/holders/0/columns", vec![("/holders/0/columns", json!(1e12))]),
        ("deck-rack", "too-many-things", "/things", vec![("/things/0/count", json!(100_000))]),
        (
            "compartments",
            "web-too-narrow",
            "",
            vec![
                ("/holders/0/column_widths_mm", json!([100, 8, 8, 100])),
                ("/holders/0/dividers", json!("removable")),
                ("/stocks/0/material", json!("birch-ply-6")),
                ("/stocks/0/readings_mm", json!(6.1)),
                ("/stocks/0/kerf_mm", json!(0.25)),
            ],
        ),
    ];
    let mut wrong = vec![];
    for (example, code, place, changes) in cases {
        let answer = post(&changed(example, &changes));
        let hit = std::panic::catch_unwind(|| refuses(&answer, code, place));
        if hit.is_err() {
            wrong.push(format!("{example} {code}: status {} refused for {:?}", answer.status, answer.refused_for()));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_kerf_ten_times_too_large_is_asked_back_with_a_cure_that_was_tried() {
    let answer = post(&changed("compartments", &[("/stocks/0/kerf_mm", json!(1.8))]));
    let body = answer.json();
    let cures = body["findings"][0]["cures"].as_array().unwrap();
    assert!(!cures.is_empty(), "{body:#}");
    let op = &cures[0]["patch"][0];
    let cured = post(&changed("compartments", &[(op["path"].as_str().unwrap(), op["value"].clone())]));
    assert_eq!(cured.status, 200, "{}", String::from_utf8_lossy(&cured.body));
}

#[test]
fn names_that_could_be_read_as_something_else_are_refused() {
    for name in [
        "../../etc/passwd",
        "a\\b",
        "=1+2",
        "+cmd",
        "@sum",
        "<b>x</b>",
        "tab\there",
        "line\nbreak",
        "\u{202e}gnp",
        "",
        "-1",
    ] {
        for (at, field) in [("/things/0/id", "id"), ("/name", "name")] {
            if name.is_empty() && field == "name" {
                continue; // a job may have no name
            }
            let mut spec = changed("compartments", &[(at, json!(name))]);
            if field == "id" {
                spec["holders"][0]["things"][0] = json!(name);
            }
            let answer = post(&spec);
            assert_eq!(answer.status, 422, "{name:?} as {field}: {}", String::from_utf8_lossy(&answer.body));
            assert!(
                answer.json()["findings"].as_array().unwrap().iter().any(|f| f["where"] == at),
                "{name:?} as {field}"
            );
        }
    }
}

#[test]
fn a_body_that_is_no_spec_is_refused_with_its_place() {
    let good = changed("compartments", &[]);
    let text = |v: Value| v.to_string();
    for (body, place) in [
        (text(changed("compartments", &[("/space/colour", json!("red"))])), "/space/colour"),
        (text(changed("compartments", &[("/stocks/0", json!([1, 2]))])), "/stocks/0"),
        (text(changed("compartments", &[("/holders/0/family", json!("shelf"))])), "/holders/0/family"),
        (text(good.clone()).replace("0.18", "1e999"), ""),
        (text(good.clone()).replace("0.18", "NaN"), ""),
        (text(good.clone())[..200].to_owned(), ""),
        ("[".repeat(5000), ""),
        (String::new(), ""),
        ("\u{0}\u{1}".to_owned(), ""),
    ] {
        let answer = post_bytes(body.clone(), "application/json", "application/zip");
        assert_eq!(answer.status, 400, "{}: {}", &body[..body.len().min(60)], String::from_utf8_lossy(&answer.body));
        assert_eq!(answer.header("content-type"), "application/problem+json");
        if !place.is_empty() {
            assert!(
                String::from_utf8_lossy(&answer.body).contains(place),
                "{place}: {}",
                String::from_utf8_lossy(&answer.body)
            );
        }
    }
}

#[test]
fn http_says_no_as_http_does() {
    let good = changed("compartments", &[]).to_string();
    assert_eq!(post_bytes(good.clone(), "text/plain", "application/zip").status, 415);
    assert_eq!(post_bytes(good.clone(), "application/json", "text/html").status, 406);
    assert_eq!(post_bytes(vec![b' '; 10 << 20], "application/json", "application/zip").status, 413);
    let wrong_method = get("/v1/holders");
    assert_eq!(wrong_method.status, 405);
    assert!(wrong_method.header("allow").contains("POST"));
    assert_eq!(get("/v1/nothing").status, 404);
    for path in ["/livez", "/readyz", "/v1/families", "/v1/materials", "/v1/examples", "/openapi.json"] {
        assert_eq!(get(path).status, 200, "{path}");
    }
}

#[test]
fn the_four_representations_come_as_asked_and_the_same_twice() {
    let good = changed("bench-drawer", &[]).to_string();
    for (accept, starts) in [
        ("application/zip", &b"PK\x03\x04"[..]),
        ("application/json", b"{"),
        ("model/gltf-binary", b"glTF"),
        ("image/svg+xml", b"<"),
    ] {
        let first = post_bytes(good.clone(), "application/json", accept);
        assert_eq!(first.status, 200, "{accept}: {}", String::from_utf8_lossy(&first.body));
        assert_eq!(first.header("content-type").split(';').next(), Some(accept));
        assert!(first.body.starts_with(starts), "{accept}");
        assert_eq!(first.header("berth-verdict"), "ok");
        assert_eq!(
            first.body,
            post_bytes(good.clone(), "application/json", accept).body,
            "{accept}: other bytes the second time"
        );
    }
}

/// The command writes what the service sends.
#[test]
fn the_command_makes_the_bytes_that_the_service_sends() {
    let folder = std::env::temp_dir().join(format!("berth-bytes-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    let (spec, out) = (folder.join("spec.json"), folder.join("out.zip"));
    let good = changed("bench-drawer", &[]).to_string();
    std::fs::write(&spec, &good).unwrap();
    for _ in 0..2 {
        let run = std::process::Command::new(env!("CARGO_BIN_EXE_berth"))
            .arg("make")
            .arg(&spec)
            .arg("-o")
            .arg(&out)
            .output()
            .unwrap();
        assert!(run.status.success(), "{}", String::from_utf8_lossy(&run.stderr));
        let sent = post_bytes(good.clone(), "application/json", "application/zip");
        assert_eq!(std::fs::read(&out).unwrap(), sent.body);
    }
    std::fs::remove_dir_all(&folder).unwrap();
}
