//! What anything that reads a body and computes may answer beside its own responses.

use crate::problem::ProblemDocument;
use utoipa::IntoResponses;

/// The problems that every computing resource shares.
#[derive(IntoResponses)]
#[allow(dead_code)]
pub enum ComputingFaults<'a> {
    /// The body took too long.
    #[response(status = 408, content_type = "application/problem+json")]
    BodyTooSlow(ProblemDocument<'a>),
    /// The body is too large.
    #[response(status = 413, content_type = "application/problem+json")]
    BodyTooLarge(ProblemDocument<'a>),
    /// A fault of ours.
    #[response(status = 500, content_type = "application/problem+json")]
    Broken(ProblemDocument<'a>),
    /// Too much at once.
    #[response(status = 503, content_type = "application/problem+json",
        headers(("Retry-After" = u16, description = "Seconds.")))]
    Busy(ProblemDocument<'a>),
    /// Not done in time.
    #[response(status = 504, content_type = "application/problem+json")]
    OutOfTime(ProblemDocument<'a>),
}
