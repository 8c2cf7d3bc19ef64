//! `POST /v1/readbacks`: a package in, what its files really make out.

use crate::answer::verdict_header;
use crate::app::App;
use crate::body;
use crate::jobs::JobFault;
use crate::openapi::{ComputingFaults, FindingDocument, VerdictDocument};
use crate::problem::{Problem, ProblemDocument, VERDICT};
use axum::Json;
use axum::extract::{Request, State};
use axum::response::{IntoResponse, Response};
use berth_core::finding::Finding;
use berth_core::readback::{ReadLimits, Report, judge, read};
use utoipa::ToSchema;

/// What a read-back says.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct ReadbackDocument {
    /// `ok`, or `refuse` when anything is wrong with the files.
    verdict: VerdictDocument,
    /// Every fault, by part and joint, with how much.
    findings: Vec<FindingDocument>,
    /// Parts that were put together.
    parts: usize,
    /// Pairs of parts that were near enough to be tried for collisions.
    pairs: usize,
    /// Things that were tried in their openings.
    things: usize,
    /// What each joint measures: least and greatest gap at each kind of place.
    joints: Vec<JointDocument>,
}

/// What one joint measures.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct JointDocument {
    /// Its id.
    id: String,
    /// First partner's code.
    a: String,
    /// Second partner's code.
    b: String,
    /// What the fit asks for, mm.
    fit_mm: f64,
    /// Gaps, one entry a kind of place.
    gaps: Vec<GapsDocument>,
}

/// Gaps of one kind at one joint.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct GapsDocument {
    /// `slot`, `play`, `shoulder`, `notch`, `flank`, `seat`, `proud` or `rest`.
    place: String,
    /// How many were measured.
    count: usize,
    /// What it should be, mm.
    want_mm: f64,
    /// Least, mm.
    least_mm: f64,
    /// Greatest, mm.
    most_mm: f64,
}

/// The package: a ZIP archive with assembly.json and the parts' cut files.
#[derive(ToSchema)]
#[schema(value_type = String, format = Binary, content_media_type = "application/zip")]
#[allow(dead_code)]
pub struct ReadPackage(Vec<u8>);

/// A package in, what its files really make out.
///
/// The outlines are read from the parts' DXF or SVG files, which may have been edited by hand; the kerf is burnt,
/// and the parts are put together in space. A fault of the files is a finding of a report, not a problem.
#[utoipa::path(post, path = "/v1/readbacks", tag = "proving", operation_id = "readBack",
    request_body(content = ReadPackage, content_type = "application/zip", description = "A package, as it was sent or edited since."),
    responses(
        (status = 200, description = "Read, put together and measured.", body = ReadbackDocument, content_type = "application/json",
            headers(("Berth-Verdict" = String, description = "`ok` or `refuse`."))),
        (status = 400, description = "The body did not arrive.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 415, description = "Not a ZIP archive by its header.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 422, description = "The archive, its list or a cut file cannot be read: which, where and why.", body = ProblemDocument, content_type = "application/problem+json",
            headers(("Berth-Verdict" = String, description = "`refuse`."))),
        ComputingFaults,
    ))]
pub async fn make(State(app): State<App>, request: Request) -> Response {
    answer(app, request).await.unwrap_or_else(IntoResponse::into_response)
}

/// What came of a package.
enum Outcome {
    Report(Box<Report>),
    Unreadable(Vec<Finding>),
    Stopped,
}

async fn answer(app: App, request: Request) -> Result<Response, Problem> {
    let (head, body) = request.into_parts();
    let archive = body::package(&head.headers, body, &app.settings).await?;
    let work = move |stop: &dyn Fn() -> bool| match read(&archive, &ReadLimits::default(), stop) {
        Err(findings) => Outcome::Unreadable(findings),
        Ok(package) => judge(&package, stop).map_or(Outcome::Stopped, |r| Outcome::Report(Box::new(r))),
    };
    match app.jobs.run(work).await? {
        Outcome::Stopped => Err(JobFault::OutOfTime.into()),
        Outcome::Unreadable(findings) => Err(Problem::refused(findings, None)),
        Outcome::Report(report) => Ok(([(VERDICT, verdict_header(report.verdict))], Json(report)).into_response()),
    }
}
