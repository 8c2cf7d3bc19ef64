//! Every error that a client can meet, in one table, as `application/problem+json` (RFC 9457).
//!
//! Which to use where: a handler returns `Err(Problem::new(Kind::…, detail))`; faults of the caller carry a
//! finding with the place and the numbers; faults of ours carry nothing but the request's id, and the log says more.

use crate::jobs::JobFault;
use crate::openapi::{FindingDocument, VerdictDocument};
use axum::http::{HeaderName, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use berth_core::finding::{Finding, Verdict};
use serde::Serialize;
use utoipa::ToSchema;

/// The media type of all problems.
pub const MEDIA_TYPE: &str = "application/problem+json";

/// Where problem types are described; the type of a problem is this and its name.
pub const TYPES_AT: &str = "/problems";

macro_rules! kinds {
    ($( $(#[$doc:meta])* $kind:ident = $status:literal, $name:literal, $title:literal, $what:literal; )*) => {
        /// What can go wrong.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Kind { $( #[doc = $what] $kind ),* }

        impl Kind {
            /// All kinds, in the order in which they are described.
            pub const ALL: &'static [Self] = &[$(Self::$kind),*];
            /// Last part of the problem's type.
            #[must_use]
            pub fn name(self) -> &'static str { match self { $(Self::$kind => $name),* } }
            /// A few words for people.
            #[must_use]
            pub fn title(self) -> &'static str { match self { $(Self::$kind => $title),* } }
            /// What it means and what to do.
            #[must_use]
            pub fn what(self) -> &'static str { match self { $(Self::$kind => $what),* } }
            /// Its HTTP status.
            #[must_use]
            pub fn status(self) -> StatusCode {
                StatusCode::from_u16(match self { $(Self::$kind => $status),* }).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR)
            }
        }
    };
}

kinds! {
    NotJson = 400, "not-json", "The body is not JSON",
        "The body could not be read as one JSON value. The finding gives line and column.";
    WrongShape = 400, "wrong-shape", "The body is not a request",
        "The body is JSON, but not of the shape that /openapi.json describes. The finding gives the JSON Pointer of the field.";
    BodyBroken = 400, "body-broken", "The body did not arrive",
        "The connection failed while the body was being sent.";
    NotFound = 404, "not-found", "There is nothing here",
        "No resource has this address. GET / lists them.";
    MethodNotAllowed = 405, "method-not-allowed", "Not with this method",
        "The resource exists, but not for this method; the header Allow lists those it has.";
    NotAcceptable = 406, "not-acceptable", "No such representation",
        "None of the media types in the header Accept can be sent.";
    BodyTooSlow = 408, "body-too-slow", "The body took too long",
        "The body did not arrive within the time allowed for it.";
    BodyTooLarge = 413, "body-too-large", "The body is too large",
        "The body has more bytes than the service reads. Divide the job.";
    WrongType = 415, "wrong-content-type", "Not of this type by its header",
        "A request is sent as JSON, or where /openapi.json says so as a package or a form, with that Content-Type and without a content coding.";
    Refused = 422, "refused", "Nothing is cut until this is cured",
        "The request was understood, but what it asks for would not fit, hold or be safe. The findings say what, where, by how much, why, and the nearest cure.";
    Broken = 500, "broken", "A fault of ours",
        "Something went wrong within the service. Nothing half-made was sent. Report the request id.";
    Busy = 503, "busy", "Too much at once",
        "All places are taken and the queue is full. Come back after the seconds in Retry-After.";
    OutOfTime = 504, "out-of-time", "Not done in time",
        "Computing did not end within the deadline. Ask for less at once, or for less effort.";
}

/// Seconds after which a busy service is worth asking again: most jobs take less than one.
const RETRY_AFTER_S: u16 = 1;

/// A problem, ready to be sent.
#[derive(Debug)]
pub struct Problem {
    kind: Kind,
    detail: String,
    /// Why, for people and machines.
    pub findings: Vec<Finding>,
    plan: Option<String>,
}

/// The document as it is sent: RFC 9457's members, then ours.
#[derive(Serialize, ToSchema)]
pub struct ProblemDocument<'a> {
    /// A reference to what the problem is.
    #[schema(format = "uri-reference")]
    r#type: String,
    /// The problem in a few words.
    title: &'a str,
    /// The HTTP status.
    #[schema(minimum = 400, maximum = 599)]
    status: u16,
    /// About this one occurrence.
    detail: &'a str,
    /// `refuse` where the request is at fault.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(value_type = Option<VerdictDocument>, nullable = false)]
    verdict: Option<Verdict>,
    /// Why: all faults, worst first.
    #[serde(skip_serializing_if = "<[Finding]>::is_empty")]
    #[schema(value_type = Vec<FindingDocument>, required = false)]
    findings: &'a [Finding],
    /// The plan as SVG, as far as it could be drawn, with the offenders marked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(nullable = false, content_media_type = "image/svg+xml")]
    plan: Option<&'a str>,
}

impl Problem {
    /// A problem of a kind; `detail` is about this one occurrence and goes to the client.
    #[must_use]
    pub fn new(kind: Kind, detail: impl Into<String>) -> Self {
        Self { kind, detail: detail.into(), findings: vec![], plan: None }
    }
    /// A fault of ours: `why` goes to the log, not to the client.
    #[must_use]
    pub fn broken(why: impl std::fmt::Display) -> Self {
        tracing::error!(fault = %why, "broken");
        Self::new(Kind::Broken, Kind::Broken.what())
    }
    /// Adds a finding.
    #[must_use]
    pub fn finding(mut self, finding: Finding) -> Self {
        self.findings.push(finding);
        self
    }
    /// A refusal with everything there is to say about it.
    #[must_use]
    pub fn refused(findings: Vec<Finding>, plan: Option<String>) -> Self {
        let refusals = findings.iter().filter(|f| f.verdict == Verdict::Refuse).count();
        let first = findings.first().map(|f| f.why.as_str()).unwrap_or_default();
        let more = match refusals.saturating_sub(1) {
            0 => String::new(),
            1 => " (and one more)".to_owned(),
            n => format!(" (and {n} more)"),
        };
        Self { kind: Kind::Refused, detail: format!("{first}{more}"), findings, plan }
    }
    /// What kind it is.
    #[must_use]
    pub fn kind(&self) -> Kind {
        self.kind
    }
}

impl From<JobFault> for Problem {
    fn from(fault: JobFault) -> Self {
        match fault {
            JobFault::Busy => Self::new(Kind::Busy, Kind::Busy.what()),
            JobFault::OutOfTime => Self::new(Kind::OutOfTime, Kind::OutOfTime.what()),
            JobFault::Broken => Self::broken("a job panicked"),
        }
    }
}

impl IntoResponse for Problem {
    fn into_response(self) -> Response {
        let status = self.kind.status();
        let refused = !self.findings.is_empty();
        let document = ProblemDocument {
            r#type: format!("{TYPES_AT}/{}", self.kind.name()),
            title: self.kind.title(),
            status: status.as_u16(),
            detail: &self.detail,
            verdict: refused.then_some(Verdict::Refuse),
            findings: &self.findings,
            plan: self.plan.as_deref(),
        };
        let body = serde_json::to_vec(&document).unwrap_or_default();
        let mut response = (status, body).into_response();
        let headers = response.headers_mut();
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(MEDIA_TYPE));
        if refused {
            headers.insert(VERDICT, HeaderValue::from_static("refuse"));
        }
        if self.kind == Kind::Busy {
            headers.insert(header::RETRY_AFTER, RETRY_AFTER_S.into());
        }
        if matches!(self.kind, Kind::BodyTooLarge | Kind::BodyTooSlow | Kind::BodyBroken) {
            // the rest of the body is not read
            headers.insert(header::CONNECTION, HeaderValue::from_static("close"));
        }
        response.extensions_mut().insert(std::sync::Arc::new(self.findings));
        response
    }
}

/// Carries the verdict of every package and of every refusal.
pub const VERDICT: HeaderName = HeaderName::from_static("berth-verdict");
