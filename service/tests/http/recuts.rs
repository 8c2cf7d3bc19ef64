//! Recuts over HTTP: forms, first bytes, refusals with the shim, and forms that are none.

use super::client::{Answer, post, post_to};
use berth_service::examples;
use serde_json::{Value, json};

const LINE: &str = "a-line-that-stands-in-no-package";

/// A form of fields, as any client writes it (RFC 7578).
fn form(fields: &[(&str, &[u8])]) -> Vec<u8> {
    let mut body = vec![];
    for (name, bytes) in fields {
        body.extend(format!("--{LINE}\r\nContent-Disposition: form-data; name=\"{name}\"\r\n\r\n").bytes());
        body.extend(*bytes);
        body.extend(b"\r\n");
    }
    body.extend(format!("--{LINE}--\r\n").bytes());
    body
}

fn send(body: Vec<u8>, accept: &str) -> Answer {
    post_to("/v1/recuts", body, &format!("multipart/form-data; boundary={LINE}"), accept)
}

fn recut(package: &[u8], spec: &Value, accept: &str) -> Answer {
    send(form(&[("package", package), ("recut", spec.to_string().as_bytes())]), accept)
}

fn package() -> Vec<u8> {
    let request = examples::all().into_iter().find(|e| e.name == "compartments").unwrap().request;
    post(&request).body
}

fn sheet(reading_mm: f64) -> Value {
    json!({"id": "today", "material": "birch-ply-3", "readings_mm": [reading_mm], "kerf_mm": 0.2})
}

#[test]
fn files_come_as_a_package_or_as_their_report() {
    let package = package();
    let first = recut(&package, &json!({"parts": ["A1", "A6"]}), "application/zip");
    assert_eq!(first.status, 200, "{}", String::from_utf8_lossy(&first.body));
    assert!(first.body.starts_with(b"PK\x03\x04") && first.header("content-disposition").contains("recut-A1.zip"));
    assert_eq!(
        first.body,
        recut(&package, &json!({"parts": ["A6", "A1", "A1"]}), "").body,
        "other bytes in another order"
    );
    let report = recut(&package, &json!({"parts": ["A6"], "sheet": sheet(3.12)}), "application/json");
    assert_eq!(
        (report.status, report.header("berth-verdict")),
        (200, "ok"),
        "{}",
        String::from_utf8_lossy(&report.body)
    );
    let report = report.json();
    assert_eq!(report["parts"][0]["same_bytes"], json!(false));
    let slot = report["joints"].as_array().unwrap().iter().find(|j| j["place"] == "slot").unwrap();
    let off = slot["was_mm"][0].as_f64().unwrap() - slot["now_mm"][0].as_f64().unwrap();
    assert!((off - (3.12 - 3.0875)).abs() < 0.003, "{slot}");
}

#[test]
fn a_sheet_or_a_package_that_does_not_do_is_refused_with_numbers() {
    let package = package();
    let thin = recut(&package, &json!({"parts": ["A6"], "sheet": sheet(2.95)}), "application/zip");
    assert_eq!((thin.status, thin.refused_for()), (422, vec!["recut-too-thin".to_owned()]));
    assert!(thin.json()["findings"][0]["have"]["shim_mm"].as_f64().unwrap() > 0.1);
    for (body, spec, code) in [
        (&package[..], json!({"parts": ["Q1"]}), "unknown-part"),
        (&package[..package.len() - 40], json!({"parts": ["A1"]}), "archive-unreadable"),
        (&b""[..], json!({"parts": ["A1"]}), "archive-unreadable"),
        (&package[..], json!({"parts": ["A1"], "sheet": sheet(9.0)}), "thickness-implausible"),
    ] {
        let answer = recut(body, &spec, "application/zip");
        assert_eq!(answer.status, 422, "{code}: {}", String::from_utf8_lossy(&answer.body));
        assert!(answer.refused_for().contains(&code.to_owned()), "{code}: {:?}", answer.refused_for());
    }
}

#[test]
fn what_is_no_such_form_is_refused_as_http_does() {
    let package = package();
    let spec = json!({"parts": ["A1"]}).to_string();
    let spec = spec.as_bytes();
    for (fields, says) in [
        (vec![("package", &package[..])], "recut"),
        (vec![("recut", spec)], "package"),
        (vec![("package", &package[..]), ("recut", spec), ("recut", spec)], "twice"),
        (vec![("package", &package[..]), ("recut", spec), ("more", spec)], "more"),
        (vec![("package", &package[..]), ("recut", &b"{"[..])], "Line 1"),
        (vec![("package", &package[..]), ("recut", &b"{\"part\": []}"[..])], "part"),
    ] {
        let answer = send(form(&fields), "application/zip");
        assert_eq!(answer.status, 400, "{says}: {}", String::from_utf8_lossy(&answer.body));
        assert!(answer.json()["detail"].as_str().unwrap().contains(says), "{says}: {}", answer.json()["detail"]);
    }
    let whole = form(&[("package", &package[..]), ("recut", spec)]);
    assert_eq!(send(whole[..whole.len() / 2].to_vec(), "application/zip").status, 400);
    assert_eq!(send(whole.clone(), "image/svg+xml").status, 406);
    assert_eq!(post_to("/v1/recuts", whole.clone(), "application/zip", "application/zip").status, 415);
    assert_eq!(post_to("/v1/recuts", whole, "multipart/form-data", "application/zip").status, 400);
    assert_eq!(send(vec![b'x'; 17 << 20], "application/zip").status, 413);
}
