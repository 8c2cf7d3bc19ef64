//! The table of all paths, and the layers around them.

use crate::app::{App, Settings, Shared};
use crate::handlers::{health, holders};
use crate::problem::{Kind, Problem};
use axum::Router;
use axum::response::{IntoResponse, Response};
use axum::routing::{get, post};
use tower_http::catch_panic::CatchPanicLayer;

/// Everything that the service answers.
pub fn router(app: App) -> Router {
    Router::new()
        .route("/v1/holders", post(holders::make))
        .route("/livez", get(health::livez))
        .route("/readyz", get(health::readyz))
        .fallback(not_found)
        .method_not_allowed_fallback(method_not_allowed)
        .layer(CatchPanicLayer::custom(|_| Problem::broken("a handler panicked").into_response()))
        .with_state(app)
}

/// A router with its own state.
pub fn fresh(settings: Settings) -> Router {
    router(Shared::new(settings))
}

async fn not_found() -> Response {
    Problem::new(Kind::NotFound, Kind::NotFound.what()).into_response()
}

async fn method_not_allowed() -> Response {
    Problem::new(Kind::MethodNotAllowed, Kind::MethodNotAllowed.what()).into_response()
}
