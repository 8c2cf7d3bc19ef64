//! What happens to every request and answer: an id, a line in the log, and the headers that are always there.

use crate::app::Settings;
use axum::extract::{MatchedPath, Request};
use axum::http::{HeaderName, HeaderValue, Method, header};
use axum::middleware::Next;
use axum::response::Response;
use std::hash::{BuildHasher, RandomState};
use std::sync::LazyLock;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::Instant;
use tower_http::cors::{AllowOrigin, Any, CorsLayer};
use tracing::Instrument;

/// The id under which a request stands in the log: the caller's, or one of ours.
pub const REQUEST_ID: HeaderName = HeaderName::from_static("x-request-id");

/// Longest id that is taken over from a caller.
const MOST_ID_CHARS: usize = 128;

/// An id is for people to point at a line of the log: it need not be secret, only its own.
fn fresh_id() -> String {
    static RUN: LazyLock<u64> = LazyLock::new(|| RandomState::new().hash_one(std::process::id()));
    static COUNT: AtomicU64 = AtomicU64::new(0);
    format!("{:016x}-{}", *RUN, COUNT.fetch_add(1, Ordering::Relaxed))
}

/// The caller's id, when it is visible ASCII and not too long.
fn given_id(value: &HeaderValue) -> Option<String> {
    let text = value.to_str().ok()?;
    (1..=MOST_ID_CHARS).contains(&text.len()).then(|| text.to_owned())
}

/// Gives the request its id and writes its line.
pub async fn logged(request: Request, next: Next) -> Response {
    let id = request.headers().get(REQUEST_ID).and_then(given_id).unwrap_or_else(fresh_id);
    let method = request.method().clone();
    // the pattern, not the address: what a caller writes into an address is not repeated in the log
    let path = request.extensions().get::<MatchedPath>().map_or("unknown", MatchedPath::as_str).to_owned();
    let span = tracing::info_span!("request", id);
    let began = Instant::now();
    let mut response = next.run(request).instrument(span.clone()).await;
    let status = response.status().as_u16();
    let latency_ms = began.elapsed().as_millis() as u64;
    let verdict = response.headers().get(crate::problem::VERDICT).and_then(|v| v.to_str().ok()).unwrap_or_default();
    span.in_scope(|| tracing::info!(%method, path, status, latency_ms, verdict, "answered"));
    let headers = response.headers_mut();
    if let Ok(value) = HeaderValue::from_str(&id) {
        headers.insert(REQUEST_ID, value);
    }
    // a browser takes nothing for anything but what its header says
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    response
}

/// Lets browsers call from the origins that were named; none when none were.
#[must_use]
pub fn cors(settings: &Settings) -> Option<CorsLayer> {
    let origins = &settings.allow_origins;
    if origins.is_empty() {
        return None;
    }
    let any = origins.iter().any(|o| o == "*");
    let allowed = if any { Any.into() } else { AllowOrigin::list(origins.iter().cloned()) };
    Some(
        CorsLayer::new()
            .allow_origin(allowed)
            .allow_methods([Method::GET, Method::POST])
            .allow_headers([header::ACCEPT, header::CONTENT_TYPE, REQUEST_ID])
            .expose_headers([crate::problem::VERDICT, header::CONTENT_DISPOSITION, header::RETRY_AFTER, REQUEST_ID]),
    )
}
