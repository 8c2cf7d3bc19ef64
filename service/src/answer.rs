//! What came of a request, as a response: the representation asked for, or the refusal.

use crate::accept::Representation;
use crate::filename::disposition;
use crate::problem::{Problem, VERDICT};
use axum::body::Body;
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};
use berth_core::finding::{Finding, Verdict};
use berth_core::formats;
use berth_core::job::{Limits, Request};
use berth_core::made::Made;
use berth_core::make::{Answer, make};
use std::sync::Arc;

/// What was made, written and in short.
#[derive(Debug)]
pub struct Written {
    bytes: Vec<u8>,
    representation: Representation,
    job_name: String,
    short: Short,
}

/// What people want to know first. It travels beside a response within this process, never on the wire.
#[derive(Clone, Debug)]
pub struct Short {
    /// The worst finding's.
    pub verdict: Verdict,
    /// All of them, worst first.
    pub findings: Arc<Vec<Finding>>,
    /// How many parts.
    pub parts: usize,
    /// How many sheets.
    pub sheets: usize,
    /// Cutting time, all sheets.
    pub minutes: f64,
}

/// What came of a request.
#[derive(Debug)]
pub enum Outcome {
    /// Something to send.
    Written(Box<Written>),
    /// Findings, and the plan as far as it could be drawn.
    Refused(Vec<Finding>, Option<String>),
    /// The deadline or the client's leaving ended it.
    Stopped,
    /// A writer failed on what was made: a fault of ours.
    Broken(String),
}

/// Makes and writes: everything that takes time, on the computing thread.
#[must_use]
pub fn compute(request: &Request, limits: &Limits, r: Representation, stop: &dyn Fn() -> bool) -> Outcome {
    outcome(make(request, limits, stop), &request.name, r)
}

/// Writes what was made.
#[must_use]
pub fn outcome(answer: Answer, job_name: &str, r: Representation) -> Outcome {
    match answer {
        Answer::Stopped => Outcome::Stopped,
        Answer::Refused(refused) => {
            let plan = formats::plan_refused(refused.job.as_ref(), &refused.holders, &refused.findings);
            Outcome::Refused(refused.findings, plan)
        }
        Answer::Made(made) => match written(&made, r) {
            Ok(bytes) => Outcome::Written(Box::new(Written {
                bytes,
                representation: r,
                job_name: job_name.to_owned(),
                short: Short {
                    verdict: made.verdict,
                    parts: made.parts.len(),
                    sheets: made.sheets.len(),
                    minutes: made.sheets.iter().map(|s| s.route.minutes).sum(),
                    findings: Arc::new(made.findings),
                },
            })),
            Err(why) => Outcome::Broken(why),
        },
    }
}

fn written(made: &Made, r: Representation) -> Result<Vec<u8>, String> {
    match r {
        Representation::Package => formats::package(made).map_err(|e| e.to_string()),
        Representation::Report => formats::report(made).map_err(|e| e.to_string()),
        Representation::Model => formats::glb(made).map_err(|e| e.to_string()),
        Representation::Plan => formats::plan(made).map(String::into_bytes).map_err(|e| e.to_string()),
    }
}

/// A verdict as it stands in the header.
#[must_use]
pub fn verdict_header(verdict: Verdict) -> HeaderValue {
    HeaderValue::from_static(match verdict {
        Verdict::Ok => "ok",
        Verdict::Warn => "warn",
        Verdict::Refuse => "refuse",
    })
}

impl IntoResponse for Written {
    fn into_response(self) -> Response {
        let mut response = Body::from(self.bytes).into_response();
        let headers = response.headers_mut();
        headers.insert(header::CONTENT_TYPE, HeaderValue::from_static(self.representation.media_type()));
        headers.insert(header::CONTENT_DISPOSITION, disposition(&self.job_name, self.representation));
        headers.insert(VERDICT, verdict_header(self.short.verdict));
        response.extensions_mut().insert(self.short);
        response
    }
}

impl IntoResponse for Outcome {
    fn into_response(self) -> Response {
        match self {
            Self::Written(written) => written.into_response(),
            Self::Refused(findings, plan) => Problem::refused(findings, plan).into_response(),
            Self::Stopped => Problem::from(crate::jobs::JobFault::OutOfTime).into_response(),
            Self::Broken(why) => Problem::broken(why).into_response(),
        }
    }
}
