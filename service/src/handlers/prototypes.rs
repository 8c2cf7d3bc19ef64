//! `POST /v1/prototypes`: a design in, the same in board for a knife out.

use super::holders::{Model, Package, Plan, Report, not_acceptable};
use crate::accept::{Representation, wanted};
use crate::answer::outcome;
use crate::app::App;
use crate::body;
use crate::openapi::ComputingFaults;
use crate::problem::{Problem, ProblemDocument};
use axum::extract::{Request, State};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use berth_core::make::prototype;
use berth_core::prototype::PrototypeSpec;

/// A design in, the same in foam board or cardboard out: own thickness, kerf 0, squeezed fits, the same outside.
///
/// The design is proved in its own sheets first; one that is refused has no prototype. The report's `prototype`
/// says what it proves, what it does not, and which checks say nothing about board.
#[utoipa::path(post, path = "/v1/prototypes", tag = "proving", operation_id = "makePrototype",
    request_body(content = PrototypeSpec, content_type = "application/json", description = "The design, and the board."),
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
        (status = 400, description = "Not JSON, or not of this shape.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 406, description = "None of the accepted media types can be sent.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 415, description = "Not JSON by its header.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 422, description = "Refused: the design, or its prototype; the findings say what, where, by how much and why.", body = ProblemDocument, content_type = "application/problem+json",
            headers(("Berth-Verdict" = String, description = "`refuse`."))),
        ComputingFaults,
    ))]
pub async fn make(State(app): State<App>, request: Request) -> Response {
    let mut response = answer(app, request).await.unwrap_or_else(IntoResponse::into_response);
    response.headers_mut().insert(header::VARY, HeaderValue::from_static("Accept"));
    response
}

async fn answer(app: App, request: Request) -> Result<Response, Problem> {
    let (head, body) = request.into_parts();
    let representation = wanted(&head.headers).ok_or_else(|| not_acceptable(&Representation::ALL))?;
    let spec: PrototypeSpec = body::json(&head.headers, body, &app.settings).await?;
    let limits = app.settings.limits;
    let work = move |stop: &dyn Fn() -> bool| {
        let name = format!("{} prototype", spec.design.name);
        outcome(prototype(&spec, &limits, stop), name.trim(), representation)
    };
    Ok(app.jobs.run(work).await?.into_response())
}
