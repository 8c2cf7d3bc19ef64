//! `GET /v1/examples`: requests that work.

use crate::examples::{all, named};
use crate::problem::{Kind, Problem, ProblemDocument};
use axum::Json;
use axum::extract::Path;
use serde::Serialize;
use serde_json::Value;
use utoipa::ToSchema;

/// All examples.
#[derive(Debug, Serialize, ToSchema)]
pub struct Examples {
    /// Demonstrations first.
    pub examples: Vec<Listed>,
}

/// One of them.
#[derive(Debug, Serialize, ToSchema)]
pub struct Listed {
    /// Its name.
    pub name: &'static str,
    /// The job's name.
    pub title: String,
    /// Where to get it.
    pub href: String,
    /// Families of its holders.
    pub families: Vec<String>,
}

/// Requests that work, by name.
#[utoipa::path(get, path = "/v1/examples", tag = "lists", operation_id = "listExamples", responses(
    (status = 200, description = "All examples.", body = Examples),
))]
pub async fn list() -> Json<Examples> {
    let word = |v: &Value| v.as_str().unwrap_or_default().to_owned();
    let listed = all().into_iter().map(|e| Listed {
        name: e.name,
        title: word(&e.request["name"]),
        href: format!("/v1/examples/{}", e.name),
        families: e.request["holders"].as_array().into_iter().flatten().map(|h| word(&h["family"])).collect(),
    });
    Json(Examples { examples: listed.collect() })
}

/// One request that works: post it to `/v1/holders` as it is.
#[utoipa::path(get, path = "/v1/examples/{name}", tag = "lists", operation_id = "getExample",
    params(("name" = String, Path, description = "Name of the example.", example = "bench-drawer")),
    responses(
        (status = 200, description = "The request.", body = berth_core::job::Request),
        (status = 404, description = "No example has this name.", body = ProblemDocument, content_type = "application/problem+json"),
    ))]
pub async fn one(Path(name): Path<String>) -> Result<Json<Value>, Problem> {
    let names = || all().iter().map(|e| e.name).collect::<Vec<_>>().join(", ");
    named(&name)
        .map(|e| Json(e.request))
        .ok_or_else(|| Problem::new(Kind::NotFound, format!("The examples are: {}.", names())))
}
