//! The table of all paths, and the layers around them.

use crate::app::{App, Settings, Shared};
use crate::handlers::{
    changes, coupons, examples, families, health, holders, materials, problems, prototypes, readbacks, readings,
    recuts, root,
};
use crate::layers;
use crate::openapi::Head;
use crate::problem::{Kind, Problem};
use axum::Router;
use axum::middleware::from_fn;
use axum::response::{IntoResponse, Response};
use tower_http::catch_panic::CatchPanicLayer;
use utoipa::OpenApi;
use utoipa_axum::router::OpenApiRouter;
use utoipa_axum::routes;
use utoipa_swagger_ui::{Config, SwaggerUi};

/// Every resource; the document is made from the same table.
pub fn table() -> OpenApiRouter<App> {
    OpenApiRouter::with_openapi(Head::openapi())
        .routes(routes!(holders::make))
        .routes(routes!(prototypes::make))
        .routes(routes!(coupons::make))
        .routes(routes!(readings::take))
        .routes(routes!(changes::compare))
        .routes(routes!(recuts::make))
        .routes(routes!(readbacks::make))
        .routes(routes!(materials::list))
        .routes(routes!(families::list))
        .routes(routes!(examples::list))
        .routes(routes!(examples::one))
        .routes(routes!(problems::list))
        .routes(routes!(problems::one))
        .routes(routes!(root::index))
        .routes(routes!(root::openapi))
        .routes(routes!(health::livez))
        .routes(routes!(health::readyz))
}

/// Everything that the service answers.
pub fn router(app: App) -> Router {
    let cors = layers::cors(&app.settings);
    let all = Router::from(table())
        .merge(SwaggerUi::new("/docs").config(Config::from("/openapi.json")))
        .fallback(not_found)
        .method_not_allowed_fallback(method_not_allowed)
        .layer(CatchPanicLayer::custom(|_| Problem::broken("a handler panicked").into_response()))
        .layer(from_fn(layers::logged))
        .with_state(app);
    match cors {
        Some(cors) => all.layer(cors),
        None => all,
    }
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
