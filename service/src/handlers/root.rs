//! `GET /`: what there is, `GET /openapi.json`: the same for machines.

use crate::openapi;
use axum::Json;
use serde::Serialize;
use serde_json::Value;
use utoipa::ToSchema;

/// What there is.
#[derive(Debug, Serialize, ToSchema)]
pub struct Index {
    /// This service.
    pub service: &'static str,
    /// Its version: the same request to the same version gives the same bytes.
    pub version: &'static str,
    /// Documentation for people.
    pub docs: &'static str,
    /// Documentation for machines.
    pub openapi: &'static str,
    /// Where requests go.
    pub holders: &'static str,
    /// Where designs go that are to be tried in board.
    pub prototypes: &'static str,
    /// Where two specs are compared.
    pub changes: &'static str,
    /// Where single parts of a package are cut again.
    pub recuts: &'static str,
    /// Where packages go that are to be read back.
    pub readbacks: &'static str,
    /// Requests that work.
    pub examples: &'static str,
    /// Families of holders.
    pub families: &'static str,
    /// What may be cut.
    pub materials: &'static str,
    /// What can go wrong.
    pub problems: &'static str,
}

/// What there is.
#[utoipa::path(get, path = "/", tag = "service", operation_id = "getIndex", responses(
    (status = 200, description = "The addresses of everything.", body = Index),
))]
pub async fn index() -> Json<Index> {
    Json(Index {
        service: "berth",
        version: env!("CARGO_PKG_VERSION"),
        docs: "/docs/",
        openapi: "/openapi.json",
        holders: "/v1/holders",
        prototypes: "/v1/prototypes",
        changes: "/v1/changes",
        recuts: "/v1/recuts",
        readbacks: "/v1/readbacks",
        examples: "/v1/examples",
        families: "/v1/families",
        materials: "/v1/materials",
        problems: "/problems",
    })
}

/// This document.
#[utoipa::path(get, path = "/openapi.json", tag = "service", operation_id = "getOpenapi", responses(
    (status = 200, description = "The OpenAPI document.", body = Object),
))]
pub async fn openapi() -> Json<&'static Value> {
    Json(openapi::document())
}
