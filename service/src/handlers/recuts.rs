//! `POST /v1/recuts`: an old package and part codes in, single cut files that fit the old neighbours out.

use super::holders::{Package, not_acceptable};
use crate::accept::{Representation, wanted_of};
use crate::answer::verdict_header;
use crate::app::App;
use crate::body::json_bytes;
use crate::filename::disposition;
use crate::form;
use crate::jobs::JobFault;
use crate::openapi::{ComputingFaults, FindingDocument, VerdictDocument};
use crate::problem::{Problem, ProblemDocument, VERDICT};
use axum::body::Body;
use axum::extract::{Request, State};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use berth_core::readback::ReadLimits;
use berth_core::recut::{Answer, RecutSpec, recut};
use utoipa::ToSchema;

/// What is sent: the package as it came, and what is wanted of it.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct RecutForm {
    /// The package, a ZIP archive: its assembly.json and parts/ are read, nothing is made anew.
    #[schema(value_type = String, format = Binary, content_media_type = "application/zip")]
    package: Vec<u8>,
    /// Which parts, and today's sheet; JSON.
    recut: RecutSpec,
}

/// What `recut.json` says.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct RecutDocument {
    /// `berth-recut/1`.
    format: String,
    /// `ok` or `warn`.
    verdict: VerdictDocument,
    /// Today's sheet as it was reckoned with; null when the first files are sent.
    #[schema(value_type = Option<Object>)]
    sheet: Option<serde_json::Value>,
    /// Each part: its file, whether that is the first one byte for byte, both thicknesses, how far a face moves.
    #[schema(value_type = Vec<Object>)]
    parts: Vec<serde_json::Value>,
    /// Each joint with an old neighbour: what the fit asks, what the first part measures, and the new one.
    #[schema(value_type = Vec<Object>)]
    joints: Vec<serde_json::Value>,
    /// What is to be minded.
    findings: Vec<FindingDocument>,
}

/// A package and part codes in, single cut files out that fit the old neighbours, or a reasoned no.
///
/// Without a sheet, or with one like the first, the files are the first ones byte for byte. With another sheet the
/// finished outline stays, the kerf is the new one's, and the part is put between its old neighbours and measured.
/// A sheet that is too thin is refused with the shim that would help, one that is too thick with the thickness that goes in.
#[utoipa::path(post, path = "/v1/recuts", tag = "proving", operation_id = "recutParts",
    request_body(content = RecutForm, content_type = "multipart/form-data", description = "Two fields: `package` and `recut`."),
    responses(
        (status = 200, description = "Cut files and recut.json.", content(
            (Package = "application/zip"),
            (RecutDocument = "application/json"),
        ), headers(
            ("Berth-Verdict" = String, description = "`ok` or `warn`."),
            ("Content-Disposition" = String, description = "A name for the download."),
        )),
        (status = 400, description = "Not such a form.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 406, description = "None of the accepted media types can be sent.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 415, description = "Not a form by its header.", body = ProblemDocument, content_type = "application/problem+json"),
        (status = 422, description = "The package cannot be read, or this sheet does not do: by how much, and what would.", body = ProblemDocument, content_type = "application/problem+json"),
        ComputingFaults,
    ))]
pub async fn make(State(app): State<App>, request: Request) -> Response {
    let mut response = answer(app, request).await.unwrap_or_else(IntoResponse::into_response);
    response.headers_mut().insert(header::VARY, HeaderValue::from_static("Accept"));
    response
}

/// What can be sent.
const SENT: [Representation; 2] = [Representation::Package, Representation::Report];

async fn answer(app: App, request: Request) -> Result<Response, Problem> {
    let (head, body) = request.into_parts();
    let representation = wanted_of(&head.headers, &SENT).ok_or_else(|| not_acceptable(&SENT))?;
    let mut form = form::fields(head, body, &app.settings, &["package", "recut"]).await?;
    let package = form.remove("package").unwrap_or_default();
    let spec: RecutSpec = json_bytes(&form.remove("recut").unwrap_or_default())?;
    let limits = ReadLimits { archive_bytes: app.settings.max_package_bytes, ..ReadLimits::default() };
    match app.jobs.run(move |stop| recut(&package, &spec, &limits, stop)).await? {
        Answer::Cut(bytes, report) => {
            let name = report.parts.first().map_or("recut".to_owned(), |p| format!("recut {}", p.code));
            let bytes = match representation {
                Representation::Report => serde_json::to_vec(&report).map_err(Problem::broken)?,
                _ => bytes,
            };
            let headers = [
                (header::CONTENT_TYPE, HeaderValue::from_static(representation.media_type())),
                (header::CONTENT_DISPOSITION, disposition(&name, representation)),
                (VERDICT, verdict_header(report.verdict)),
            ];
            Ok((headers, Body::from(bytes)).into_response())
        }
        Answer::Refused(findings) => Err(Problem::refused(findings, None)),
        Answer::Stopped => Err(JobFault::OutOfTime.into()),
    }
}
