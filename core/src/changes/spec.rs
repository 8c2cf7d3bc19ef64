//! The request of a comparison, and its answer.

use super::matching::matched;
use super::mix::{MixFault, proof};
use super::report::{Changes, report};
use crate::finding::Finding;
use crate::job::{Limits, Request};
use crate::made::Made;
use crate::make::{self, make};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Two specs: what was made, and what is wanted now.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ChangesSpec {
    /// The spec of the parts that there are: `request` in their package's spec.json.
    pub old: Request,
    /// The spec of what is wanted.
    pub new: Request,
}

/// What came of it.
#[derive(Debug)]
pub enum Answer {
    /// Compared and proven.
    Compared(Box<Changes>),
    /// One of the two specs is refused; places begin with `/old` or `/new`.
    Refused(Vec<Finding>),
    /// The caller's `stop` said so.
    Stopped,
    /// A fault of ours.
    Broken(String),
}

/// Compares two specs and proves the new parts with the old ones.
#[must_use]
pub fn changes(spec: &ChangesSpec, limits: &Limits, stop: &dyn Fn() -> bool) -> Answer {
    let (old, new) = match (made(&spec.old, "/old", limits, stop), made(&spec.new, "/new", limits, stop)) {
        (Some(Ok(old)), Some(Ok(new))) => (old, new),
        (None, _) | (_, None) => return Answer::Stopped,
        (old, new) => {
            let refused = [old, new].into_iter().flatten().filter_map(Result::err).flatten();
            return Answer::Refused(refused.collect());
        }
    };
    let Some(all) = matched(&old, &new, stop) else { return Answer::Stopped };
    match proof(&old, &new, &all, stop) {
        Ok(proof) => Answer::Compared(Box::new(report(&old, &new, &all, proof))),
        Err(MixFault::Stopped) => Answer::Stopped,
        Err(MixFault::Unwritten(e)) => Answer::Broken(e.to_string()),
        Err(MixFault::Unread(f)) => {
            Answer::Broken(f.first().map_or_else(|| "a package was not read back".to_owned(), |f| f.why.clone()))
        }
    }
}

/// What a spec makes; its findings at their place in what was received. `None` when stopped.
fn made(
    request: &Request,
    at: &str,
    limits: &Limits,
    stop: &dyn Fn() -> bool,
) -> Option<Result<Box<Made>, Vec<Finding>>> {
    match make(request, limits, stop) {
        make::Answer::Made(m) => Some(Ok(m)),
        make::Answer::Refused(r) => Some(Err(r.findings.into_iter().map(|f| placed(f, at)).collect())),
        make::Answer::Stopped => None,
    }
}

/// A finding and its cures at their place within what was received.
fn placed(mut f: Finding, at: &str) -> Finding {
    if f.place.is_empty() || f.place.starts_with('/') {
        f.place.insert_str(0, at);
    }
    f.cures.iter_mut().flat_map(|c| &mut c.patch).for_each(|op| op.path.insert_str(0, at));
    f
}
