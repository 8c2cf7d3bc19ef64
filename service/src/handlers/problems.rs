//! `GET /problems`: what each problem type means.

use crate::problem::{Kind, Problem, ProblemDocument, TYPES_AT};
use axum::Json;
use axum::extract::Path;
use serde::Serialize;
use utoipa::ToSchema;

/// All problem types.
#[derive(Debug, Serialize, ToSchema)]
pub struct ProblemTypes {
    /// In the order of their statuses.
    pub problems: Vec<ProblemType>,
}

/// A type of problem (RFC 9457, section 4).
#[derive(Debug, Serialize, ToSchema)]
pub struct ProblemType {
    /// The `type` of such problems.
    pub r#type: String,
    /// Their `title`.
    pub title: &'static str,
    /// Their `status`.
    pub status: u16,
    /// What it means and what to do.
    pub what: &'static str,
}

impl From<Kind> for ProblemType {
    fn from(k: Kind) -> Self {
        Self {
            r#type: format!("{TYPES_AT}/{}", k.name()),
            title: k.title(),
            status: k.status().as_u16(),
            what: k.what(),
        }
    }
}

/// What can go wrong, and what to do then.
#[utoipa::path(get, path = "/problems", tag = "lists", operation_id = "listProblems", responses(
    (status = 200, description = "All problem types.", body = ProblemTypes),
))]
pub async fn list() -> Json<ProblemTypes> {
    Json(ProblemTypes { problems: Kind::ALL.iter().copied().map(ProblemType::from).collect() })
}

/// What one problem type means.
#[utoipa::path(get, path = "/problems/{name}", tag = "lists", operation_id = "getProblem",
    params(("name" = String, Path, description = "Last part of the type.", example = "refused")),
    responses(
        (status = 200, description = "The problem type.", body = ProblemType),
        (status = 404, description = "No problem has this name.", body = ProblemDocument, content_type = "application/problem+json"),
    ))]
pub async fn one(Path(name): Path<String>) -> Result<Json<ProblemType>, Problem> {
    Kind::ALL
        .iter()
        .find(|k| k.name() == name)
        .map(|k| Json(ProblemType::from(*k)))
        .ok_or_else(|| Problem::new(Kind::NotFound, "No problem has this name."))
}
