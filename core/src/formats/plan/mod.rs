//! `plan.svg`: plan and two sections to scale on one page, things in place, with dimensions.

pub(super) mod canvas;
mod dimensions;
mod notes;
mod page;
mod scene;
mod section;
#[cfg(test)]
mod tests;
mod view;

use super::{File, PackageFault, spec};
use crate::finding::{Finding, Verdict};
use crate::finish::Built;
use crate::job::Job;
use crate::made::Made;
use notes::Title;
use scene::Scene;

/// One file.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    Ok(vec![("plan.svg".to_owned(), svg(made)?.into_bytes())])
}

/// The plan of what was made.
pub fn svg(made: &Made) -> Result<String, PackageFault> {
    let hash = spec::hash(made)?;
    let title = Title {
        name: &made.request.name,
        lines: vec![format!("job {}", hash.get(..16).unwrap_or(&hash)), format!("made by berth {}", spec::VERSION)],
        verdict: made.verdict,
    };
    let scene = Scene { job: &made.job, holders: &made.holders, findings: &made.findings };
    Ok(page::draw(&scene, &title))
}

/// The plan of a refused request as far as its holders could be derived, offenders in red; `None`
/// when there is nothing to draw.
pub fn refused(job: Option<&Job>, holders: &[Built], findings: &[Finding]) -> Option<String> {
    let job = job.filter(|_| !holders.is_empty())?;
    let title = Title {
        name: &job.name,
        lines: vec!["refused: nothing to be cut from".to_owned(), format!("made by berth {}", spec::VERSION)],
        verdict: Verdict::Refuse,
    };
    Some(page::draw(&Scene { job, holders, findings }, &title))
}
