//! Whether the process lives, and whether it takes work.

use crate::app::App;
use axum::extract::State;
use axum::http::StatusCode;

/// The process lives.
#[utoipa::path(get, path = "/livez", tag = "service", responses((status = 200, description = "The process lives.", body = String, content_type = "text/plain")))]
pub async fn livez() -> &'static str {
    "alive\n"
}

/// Takes requests, or is about to stop.
#[utoipa::path(get, path = "/readyz", tag = "service", responses(
    (status = 200, description = "It takes requests.", body = String, content_type = "text/plain"),
    (status = 503, description = "It is about to stop.", body = String, content_type = "text/plain"),
))]
pub async fn readyz(State(app): State<App>) -> (StatusCode, &'static str) {
    if app.ready() { (StatusCode::OK, "ready\n") } else { (StatusCode::SERVICE_UNAVAILABLE, "stopping\n") }
}
