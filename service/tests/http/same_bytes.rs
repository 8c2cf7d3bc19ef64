//! The same spec gives the same bytes: again, and whoever else is being served, with one worker and with two.

use axum::body::Body;
use axum::http::{Request, header};
use berth_service::app::Settings;
use berth_service::examples;
use berth_service::router::fresh;
use http_body_util::BodyExt;
use serde_json::{Value, json};
use std::time::Duration;
use tower::ServiceExt;

/// The packages of all specs, asked for at once of a service with this many workers.
fn packages(specs: &[Value], workers: usize) -> Vec<Vec<u8>> {
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(workers).enable_all().build().unwrap();
    let patient = Duration::from_secs(600);
    let settings = Settings { jobs: workers, queue: specs.len(), deadline: patient, ..Settings::default() };
    runtime.block_on(async {
        let service = fresh(settings);
        let ask = |spec: &Value| {
            let request = Request::post("/v1/holders")
                .header(header::CONTENT_TYPE, "application/json")
                .header(header::ACCEPT, "application/zip")
                .body(Body::from(spec.to_string()))
                .unwrap();
            tokio::spawn(service.clone().oneshot(request))
        };
        let asked: Vec<_> = specs.iter().map(ask).collect();
        let mut all = vec![];
        for answer in asked {
            let response = answer.await.unwrap().unwrap();
            assert_eq!(response.status(), 200);
            all.push(response.into_body().collect().await.unwrap().to_bytes().to_vec());
        }
        all
    })
}

/// A tray that needs sheets of two thicknesses.
fn married() -> Value {
    let sheet = |t: f64| json!({"sheet_mm": [400, 300], "readings_mm": [t]});
    json!({
        "space": {"kind": "drawer", "width_mm": 340, "depth_mm": 270, "clear_height_mm": 90},
        "stocks": [{"id": "A", "material": "birch-ply-3", "kerf_mm": 0.18, "sheets": [sheet(3.10), sheet(2.95), sheet(3.10)]}],
        "holders": [{"family": "compartments", "height_mm": 60, "columns": 4, "rows": 2}]
    })
}

#[test]
fn the_same_spec_gives_the_same_bytes_with_one_worker_and_with_two() {
    let mut specs: Vec<Value> = examples::all().into_iter().map(|e| e.request).collect();
    specs.push(married());
    // each twice, so that equal ones run beside each other too
    let twice: Vec<Value> = specs.iter().chain(&specs).cloned().collect();
    let alone = packages(&specs, 1);
    let two = packages(&twice, 2);
    for (i, package) in two.iter().enumerate() {
        let name = &specs[i % specs.len()]["name"];
        assert!(!package.is_empty() && *package == alone[i % specs.len()], "{name}: other bytes with two workers");
    }
}
