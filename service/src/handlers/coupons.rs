//! `POST /v1/coupons`: a spec in, what to cut and try first out.

use crate::accept::Representation;
use crate::app::App;
use crate::body;
use crate::filename::disposition;
use crate::handlers::holders::Package;
use crate::openapi::ComputingFaults;
use crate::problem::{Problem, ProblemDocument};
use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use berth_core::formats;
use berth_core::make::coupons;

/// A spec in, what to cut and try first out.
///
/// The archive has, for each stock, cut files of a piece of some 110 × 80 mm (a strip that gives the kerf, combs of
/// slots in both grain directions, one of each joint that the job has), a page of words, and the request for
/// `POST /v1/readings` with its answers left open. The same files stand in each package under `coupon/`.
#[utoipa::path(post, path = "/v1/coupons", tag = "proving", operation_id = "makeCoupons",
    request_body(content = berth_core::job::Request, content_type = "application/json", description = "What there is and what is wanted."),
    responses(
        (status = 200, description = "The coupons.", content((Package = "application/zip")), headers(
            ("Content-Disposition" = String, description = "A name for the download, from the job's."),
            ("X-Request-Id" = String, description = "The id in the log."),
        )),
        (status = 400, description = "Not JSON, or not a request.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 415, description = "Not JSON by its header.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 422, description = "Refused: a stock must not be cut, or the holders could not be derived.", body = ProblemDocument, content_type = "application/problem+json",
            headers(("Berth-Verdict" = String, description = "`refuse`."))),
        ComputingFaults,
    ))]
pub async fn make(State(app): State<App>, request: Request) -> Result<Response, Problem> {
    let (head, body) = request.into_parts();
    let request: berth_core::job::Request = body::json(&head.headers, body, &app.settings).await?;
    let name = format!("{} coupon", request.name);
    let limits = app.settings.limits;
    let written = app.jobs.run(move |stop| {
        coupons(&request, &limits, stop).map(|made| made.map(|(job, all)| formats::coupons(&job, &all)))
    });
    let bytes = match written.await? {
        Err(findings) => return Err(Problem::refused(findings, None)),
        Ok(None) => return Err(crate::jobs::JobFault::OutOfTime.into()),
        Ok(Some(zip)) => zip.map_err(Problem::broken)?,
    };
    let mut response = Body::from(bytes).into_response();
    let headers = response.headers_mut();
    headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(Representation::Package.media_type()));
    headers.insert(header::CONTENT_DISPOSITION, disposition(&name, Representation::Package));
    Ok(response)
}
