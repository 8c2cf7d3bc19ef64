//! A client without a socket: the whole router, one request at a time.

use axum::body::Body;
use axum::http::{Request, Response, header};
use berth_service::app::Settings;
use berth_service::router::fresh;
use http_body_util::BodyExt;
use serde_json::Value;
use tower::ServiceExt;

/// What came back.
pub struct Answer {
    /// The status code.
    pub status: u16,
    /// The headers.
    pub headers: axum::http::HeaderMap,
    /// The whole body.
    pub body: Vec<u8>,
}

impl Answer {
    /// The body as JSON.
    pub fn json(&self) -> Value {
        serde_json::from_slice(&self.body).unwrap()
    }
    /// A header as text; empty when it is not there.
    pub fn header(&self, name: &str) -> &str {
        self.headers.get(name).and_then(|v| v.to_str().ok()).unwrap_or_default()
    }
    /// The codes of the findings that refuse.
    pub fn refused_for(&self) -> Vec<String> {
        let findings = self.json()["findings"].as_array().cloned().unwrap_or_default();
        findings
            .iter()
            .filter(|f| f["verdict"] == "refuse")
            .map(|f| f["code"].as_str().unwrap_or_default().to_owned())
            .collect()
    }
}

/// Sends one request to a fresh service.
pub fn send(request: Request<Body>) -> Answer {
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build().unwrap();
    runtime.block_on(async {
        let response: Response<Body> = fresh(Settings::default()).oneshot(request).await.unwrap();
        let (parts, body) = response.into_parts();
        let body = body.collect().await.unwrap().to_bytes().to_vec();
        Answer { status: parts.status.as_u16(), headers: parts.headers, body }
    })
}

/// Posts bytes as a request for holders.
pub fn post_bytes(body: impl Into<Body>, content_type: &str, accept: &str) -> Answer {
    post_to("/v1/holders", body, content_type, accept)
}

/// Posts bytes to a path.
pub fn post_to(path: &str, body: impl Into<Body>, content_type: &str, accept: &str) -> Answer {
    send(
        Request::post(path)
            .header(header::CONTENT_TYPE, content_type)
            .header(header::ACCEPT, accept)
            .body(body.into())
            .unwrap(),
    )
}

/// Posts a spec and asks for the package.
pub fn post(spec: &Value) -> Answer {
    post_bytes(spec.to_string(), "application/json", "application/zip")
}

/// Gets a path.
pub fn get(path: &str) -> Answer {
    send(Request::get(path).body(Body::empty()).unwrap())
}
