//! A prototype: the design is proved in its own sheets, then the same is made in board.

use super::marriage::Learnt;
use super::{Answer, Proof, Refused, cut, prove, prove_as};
use crate::finding::{Finding, Verdict, worst};
use crate::job::Limits;
use crate::prototype::{DESIGN_AT, PrototypeSpec, note, part_of, place_in, soften, twin};

/// Makes the prototype of a design. A design that is refused has none: what is wrong with it is said,
/// at its place within `design`. Findings about the board stand at `board`.
#[must_use]
pub fn prototype(spec: &PrototypeSpec, limits: &Limits, stop: &dyn Fn() -> bool) -> Answer {
    let mut faults = vec![];
    spec.check(&mut faults);
    let whole = prove(&spec.design, limits, stop);
    let design_at = |at: &str| format!("{DESIGN_AT}{at}");
    if stop() {
        return Answer::Stopped;
    }
    let Some(job) = whole.job.as_ref().filter(|_| faults.is_empty() && whole.verdict() < Verdict::Refuse) else {
        return refused(whole, faults, &design_at);
    };
    let (design, design_proof, words) = match part_of(spec, job, &whole.checks) {
        Some((part, words)) => {
            let proof = prove(&part, limits, stop);
            (part, proof, words)
        }
        None => (spec.design.clone(), whole, "every holder, whole".to_owned()),
    };
    let Some(job) = design_proof.job.as_ref().filter(|_| !design_proof.holders.is_empty()) else {
        return if stop() { Answer::Stopped } else { refused(design_proof, faults, &design_at) };
    };
    let Some(request) = twin(&design, job, &spec.board) else { return refused(design_proof, faults, &design_at) };
    let mut softened = vec![];
    let mut proof = prove_as(&request, limits, stop, &mut |checks| softened = soften(checks), &Learnt::default());
    proof.put_in_order(stop);
    if stop() {
        return Answer::Stopped;
    }
    if proof.verdict() == Verdict::Refuse {
        return refused(proof, faults, &place_in);
    }
    // cures are for the design, and have been tried there
    moved(&mut proof.findings, &place_in);
    match cut(&request, limits, &mut proof, stop) {
        Ok(None) => Answer::Stopped,
        Ok(Some(mut made)) => {
            softened.iter_mut().filter(|s| s.place.starts_with('/')).for_each(|s| s.place = place_in(&s.place));
            made.prototype = Some(note(&design_proof.holders, &made.holders, &made.job, words, softened));
            Answer::Made(Box::new(made))
        }
        Err(short) => {
            proof.findings.extend(short.findings);
            refused(proof, faults, &place_in)
        }
    }
}

fn refused(proof: Proof, mut faults: Vec<Finding>, place: &dyn Fn(&str) -> String) -> Answer {
    let mut findings = proof.findings;
    moved(&mut findings, place);
    faults.extend(findings);
    faults.sort_by_key(|f| std::cmp::Reverse(f.verdict));
    if worst(&faults) < Verdict::Refuse {
        faults.insert(
            0,
            Finding::new("nothing-to-make", Verdict::Refuse, DESIGN_AT)
                .have("holders", proof.holders.len())
                .need("holders", 1.0)
                .why("Nothing of the design could be made in board."),
        );
    }
    Answer::Refused(Box::new(Refused {
        findings: faults,
        defaults: proof.defaults,
        job: proof.job,
        holders: proof.holders,
    }))
}

/// Puts what a stage says about a request to its place in what was received. Its cures are left out:
/// they are patches of another document.
fn moved(findings: &mut [Finding], to: &dyn Fn(&str) -> String) {
    for f in findings {
        if f.place.is_empty() || f.place.starts_with('/') {
            f.place = to(&f.place);
        }
        f.cures.clear();
    }
}
