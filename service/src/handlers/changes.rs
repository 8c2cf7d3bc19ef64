//! `POST /v1/changes`: two specs in; what is cut anew, what stays, and whether both go together.

use super::holders::not_acceptable;
use crate::accept::{Representation, wanted_of};
use crate::answer::verdict_header;
use crate::app::App;
use crate::body;
use crate::jobs::JobFault;
use crate::openapi::{ComputingFaults, FindingDocument, VerdictDocument};
use crate::problem::{Problem, ProblemDocument, VERDICT};
use axum::Json;
use axum::extract::{Request, State};
use axum::response::{IntoResponse, Response};
use berth_core::changes::{Answer, ChangesSpec, changes};
use utoipa::ToSchema;

/// A part that is cut anew.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct CutLine {
    /// Its code in the new job.
    code: String,
    /// The code of the old part whose place it takes.
    was: Option<String>,
    /// What people call it.
    name: String,
    /// Stock that it is cut from.
    stock: String,
    /// What differs.
    why: Vec<String>,
}

/// A part that stays.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct StayLine {
    /// Its code in the new job.
    code: String,
    /// The code that is burnt into it.
    was: String,
    /// What people call it.
    name: String,
    /// Whether it goes in turned end for end.
    turned: bool,
}

/// An old part that is not used again.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct LeftLine {
    /// The code that is burnt into it.
    code: String,
    /// What people call it.
    name: String,
}

/// What changes, and the proof.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct ChangesDocument {
    /// `berth-changes/1`.
    format: String,
    /// `refuse` when old and new parts do not go together.
    verdict: VerdictDocument,
    /// Parts that are cut anew.
    cut: Vec<CutLine>,
    /// Parts that stay.
    stay: Vec<StayLine>,
    /// Old parts that are not used again.
    left_over: Vec<LeftLine>,
    /// How many parts were put together to prove it.
    parts: usize,
    /// What each joint between a part that stays and one that is cut anew measures.
    #[schema(value_type = Vec<Object>)]
    joints: Vec<serde_json::Value>,
    /// What is wrong between them, by part and joint.
    findings: Vec<FindingDocument>,
}

/// Two specs in; which parts are cut anew, which stay, and the read-back of the new ones with the old ones.
///
/// Parts are known by their outline, thickness and material, not only by their code: a divider that moved stays. The
/// old parts that stay are put between the new ones, from the cut files of both, and every joint is measured.
#[utoipa::path(post, path = "/v1/changes", tag = "proving", operation_id = "compareSpecs",
    request_body(content = ChangesSpec, content_type = "application/json", description = "What was made, and what is wanted."),
    responses(
        (status = 200, description = "Compared.", body = ChangesDocument,
            headers(("Berth-Verdict" = String, description = "`ok`, `warn`, or `refuse` when old and new do not go together."))),
        (status = 400, description = "Not JSON, or not of this shape.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 406, description = "None of the accepted media types can be sent.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 415, description = "Not JSON by its header.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 422, description = "One of the two is refused; places begin with /old or /new.", body = ProblemDocument, content_type = "application/problem+json"),
        ComputingFaults,
    ))]
pub async fn compare(State(app): State<App>, request: Request) -> Result<Response, Problem> {
    let (head, body) = request.into_parts();
    wanted_of(&head.headers, &[Representation::Report]).ok_or_else(|| not_acceptable(&[Representation::Report]))?;
    let spec: ChangesSpec = body::json(&head.headers, body, &app.settings).await?;
    let limits = app.settings.limits;
    match app.jobs.run(move |stop| changes(&spec, &limits, stop)).await? {
        Answer::Compared(c) => Ok(([(VERDICT, verdict_header(c.verdict))], Json(*c)).into_response()),
        Answer::Refused(findings) => Err(Problem::refused(findings, None)),
        Answer::Stopped => Err(JobFault::OutOfTime.into()),
        Answer::Broken(why) => Err(Problem::broken(why)),
    }
}
