//! `POST /v1/readings`: what calipers, strips and a hand said of a stock, in; its profile, out.

use crate::answer::verdict_header;
use crate::app::App;
use crate::body;
use crate::openapi::{ComputingFaults, FindingDocument, VerdictDocument};
use crate::problem::{Problem, ProblemDocument, VERDICT};
use axum::Json;
use axum::extract::{Request, State};
use axum::response::{IntoResponse, Response};
use berth_core::finding::{Finding, Verdict, worst};
use berth_core::readings::{ReadingsRequest, StockProfile, take as take_readings};
use serde::Serialize;
use utoipa::ToSchema;

/// The profile of a stock, and what is doubtful about it.
#[derive(Serialize, ToSchema)]
pub struct ReadingsAnswer {
    /// `ok` or `warn`.
    #[schema(value_type = VerdictDocument)]
    verdict: Verdict,
    /// What is doubtful, worst first.
    #[schema(value_type = Vec<FindingDocument>)]
    findings: Vec<Finding>,
    /// What the readings made of the stock.
    profile: StockProfile,
}

/// What calipers, strips and a hand said of a stock, in; its profile, out.
///
/// `profile.stock` goes into the next spec's `stocks` as it is, `profile.fits` into its `fits`. Readings that
/// contradict each other are refused with both numbers. Nothing is kept.
#[utoipa::path(post, path = "/v1/readings", tag = "proving", operation_id = "takeReadings",
    request_body(content = ReadingsRequest, content_type = "application/json", description = "The readings of one stock."),
    responses(
        (status = 200, description = "The profile.", body = ReadingsAnswer, content_type = "application/json", headers(
            ("Berth-Verdict" = String, description = "`ok` or `warn`."),
            ("X-Request-Id" = String, description = "The id in the log."),
        )),
        (status = 400, description = "Not JSON, or not readings.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 415, description = "Not JSON by its header.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 422, description = "Refused: the readings contradict each other or cannot be.", body = ProblemDocument, content_type = "application/problem+json",
            headers(("Berth-Verdict" = String, description = "`refuse`."))),
        ComputingFaults,
    ))]
pub async fn take(State(app): State<App>, request: Request) -> Result<Response, Problem> {
    let (head, body) = request.into_parts();
    let request: ReadingsRequest = body::json(&head.headers, body, &app.settings).await?;
    // some ten thousand steps at most: done before anybody could ask it to stop
    let (profile, findings) = app.jobs.run(move |_| take_readings(&request)).await?;
    let Some(profile) = profile else { return Err(Problem::refused(findings, None)) };
    let verdict = worst(&findings);
    let mut response = Json(ReadingsAnswer { verdict, findings, profile }).into_response();
    response.headers_mut().insert(VERDICT, verdict_header(verdict));
    Ok(response)
}
