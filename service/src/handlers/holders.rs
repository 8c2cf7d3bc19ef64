//! `POST /v1/holders`: measures in, cut files out.

use crate::accept::{Representation, wanted};
use crate::answer::compute;
use crate::app::App;
use crate::body;
use crate::problem::{Kind, Problem};
use axum::extract::{Request, State};
use axum::http::{HeaderValue, header};
use axum::response::{IntoResponse, Response};

/// Makes holders.
pub async fn make(State(app): State<App>, request: Request) -> Response {
    let mut response = answer(app, request).await.unwrap_or_else(IntoResponse::into_response);
    response.headers_mut().insert(header::VARY, HeaderValue::from_static("Accept"));
    response
}

async fn answer(app: App, request: Request) -> Result<Response, Problem> {
    let (head, body) = request.into_parts();
    let representation = wanted(&head.headers).ok_or_else(not_acceptable)?;
    let request = body::request(&head.headers, body, &app.settings).await?;
    let limits = app.settings.limits;
    let outcome = app.jobs.run(move |stop| compute(&request, &limits, representation, stop)).await?;
    Ok(outcome.into_response())
}

fn not_acceptable() -> Problem {
    let all: Vec<&str> = Representation::ALL.iter().map(|r| r.media_type()).collect();
    Problem::new(Kind::NotAcceptable, format!("What can be sent: {}.", all.join(", ")))
}
