//! `POST /v1/holders`: measures in, cut files out.

use crate::accept::{Representation, wanted};
use crate::answer::compute;
use crate::app::App;
use crate::body;
use crate::openapi::ComputingFaults;
use crate::problem::{Kind, Problem, ProblemDocument};
use axum::extract::{Request, State};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use utoipa::ToSchema;

/// Measures of things and of a space in, cut files out.
///
/// The representation is chosen by `Accept`: the package (the default), the report, the assembled model, or the
/// plan view. A warning never blocks; its finding comes with the package, and `Berth-Verdict` says so.
#[utoipa::path(post, path = "/v1/holders", tag = "holders", operation_id = "makeHolders",
    request_body(content = berth_core::job::Request, content_type = "application/json", description = "What there is and what is wanted."),
    responses(
        (status = 200, description = "Made.", content(
            (Package = "application/zip"),
            (Report = "application/json"),
            (Model = "model/gltf-binary"),
            (Plan = "image/svg+xml"),
        ), headers(
            ("Berth-Verdict" = String, description = "`ok` or `warn`."),
            ("Content-Disposition" = String, description = "A name for the download, from the job's."),
            ("X-Request-Id" = String, description = "The id in the log."),
        )),
        (status = 400, description = "Not JSON, or not a request.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 406, description = "None of the accepted media types can be sent.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 415, description = "Not JSON by its header.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 422, description = "Refused: the findings say what, where, by how much, why, and the nearest cure.", body = ProblemDocument, content_type = "application/problem+json",
            headers(("Berth-Verdict" = String, description = "`refuse`."))),
        ComputingFaults,
    ))]
pub async fn make(State(app): State<App>, request: Request) -> Response {
    let mut response = answer(app, request).await.unwrap_or_else(IntoResponse::into_response);
    response.headers_mut().insert(header::VARY, HeaderValue::from_static("Accept"));
    response
}

/// The package: a ZIP archive.
#[derive(ToSchema)]
#[schema(value_type = String, format = Binary, content_media_type = "application/zip")]
#[allow(dead_code)]
pub struct Package(Vec<u8>);

/// The report: verdict, findings, every check with its value and limit.
#[derive(ToSchema)]
#[schema(value_type = Object)]
#[allow(dead_code)]
pub struct Report(serde_json::Value);

/// The assembled model, glTF 2.0 binary.
#[derive(ToSchema)]
#[schema(value_type = String, format = Binary, content_media_type = "model/gltf-binary")]
#[allow(dead_code)]
pub struct Model(Vec<u8>);

/// The plan view.
#[derive(ToSchema)]
#[schema(value_type = String, content_media_type = "image/svg+xml")]
#[allow(dead_code)]
pub struct Plan(String);

async fn answer(app: App, request: Request) -> Result<Response, Problem> {
    let (head, body) = request.into_parts();
    let representation = wanted(&head.headers).ok_or_else(|| not_acceptable(&Representation::ALL))?;
    let request = body::json(&head.headers, body, &app.settings).await?;
    let limits = app.settings.limits;
    let outcome = app.jobs.run(move |stop| compute(&request, &limits, representation, stop)).await?;
    Ok(outcome.into_response())
}

/// None of the media types that can be sent was accepted.
pub(super) fn not_acceptable(sent: &[Representation]) -> Problem {
    let all: Vec<&str> = sent.iter().map(|r| r.media_type()).collect();
    Problem::new(Kind::NotAcceptable, format!("What can be sent: {}.", all.join(", ")))
}
