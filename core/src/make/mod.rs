//! Calls the stages in order, on one page: request → job → arrangement → assemblies → finished
//! outlines → checks → order of assembly → drawn outlines → sheets → routes.
//!
//! May import: every room above.

mod cures;
mod holders;
mod lay;
mod marriage;
mod orders;
mod parts;
mod prototype;
mod sheets;
mod shortage;

use crate::chance;
use crate::checks::{About, Outcome, Subject, run_all};
use crate::coupon;
use crate::coupon::Coupon;
use crate::finding::{Finding, Verdict, worst};
use crate::finish::Built;
use crate::job::{EffortSpec, Job, Limits, Request};
use crate::made::Made;
use crate::order::{Pull, Step, things_out};
use crate::units::DefaultUsed;
use holders::Site;
use marriage::Learnt;
use shortage::Shortage;

pub use prototype::prototype;

/// What came of a request.
#[derive(Debug)]
pub enum Answer {
    /// Everything is ready to be written.
    Made(Box<Made>),
    /// Something has to be cured first.
    Refused(Box<Refused>),
    /// The caller's `stop` said so.
    Stopped,
}

/// A refusal: why, and what there is to look at.
#[derive(Debug)]
pub struct Refused {
    /// All findings, worst first.
    pub findings: Vec<Finding>,
    /// Defaults that stood in for what was left out.
    pub defaults: Vec<DefaultUsed>,
    /// The checked request, when it could be checked.
    pub job: Option<Job>,
    /// The holders as far as they could be derived.
    pub holders: Vec<Built>,
}

/// Makes what a request asks for. `stop` is asked between stages and within long ones.
#[must_use]
pub fn make(request: &Request, limits: &Limits, stop: &dyn Fn() -> bool) -> Answer {
    let mut learnt = Learnt::default();
    let mut proof = prove(request, limits, stop);
    proof.put_in_order(stop);
    if stop() {
        return Answer::Stopped;
    }
    while proof.verdict() < Verdict::Refuse {
        match cut(request, limits, &mut proof, stop) {
            Ok(made) => return made.map_or(Answer::Stopped, |m| Answer::Made(Box::new(m))),
            // sheets of one thickness ran out: their last parts are derived anew for others
            Err(short) if !stop() && learnt.learn(&short.left) => {
                proof = prove_as(request, limits, stop, &mut |_| {}, &learnt);
                proof.put_in_order(stop);
            }
            Err(short) => {
                proof.findings.extend(short.findings);
                break;
            }
        }
    }
    let size = proof.size();
    cures::keep_tried(request, limits, size, &mut proof.findings, stop);
    if stop() {
        return Answer::Stopped;
    }
    Answer::Refused(Box::new(Refused {
        findings: proof.findings,
        defaults: proof.defaults,
        job: proof.job,
        holders: proof.holders,
    }))
}

/// The coupons of a request: what to cut and try before anything else. Findings that are about the holders
/// alone do not stand in the way of measuring.
///
/// # Errors
/// All findings, where a stock was refused or a holder could not be derived.
pub fn coupons(
    request: &Request,
    limits: &Limits,
    stop: &dyn Fn() -> bool,
) -> Result<Option<(Job, Vec<Coupon>)>, Vec<Finding>> {
    let mut proof = prove(request, limits, stop);
    if stop() {
        return Ok(None);
    }
    match proof.job.take() {
        Some(job) if proof.holders.len() == job.holders.len() => {
            let all = coupon::of(request, &job, &proof.holders, stop);
            Ok((!stop()).then_some((job, all)))
        }
        _ => {
            let size = proof.size();
            cures::keep_tried(request, limits, size, &mut proof.findings, stop);
            Err(proof.findings)
        }
    }
}

/// What is known before anything is drawn for the cutter.
struct Proof {
    job: Option<Job>,
    holders: Vec<Built>,
    checks: Vec<(About, Outcome)>,
    /// How each holder goes together.
    orders: Vec<Vec<Step>>,
    /// How each thing of each holder comes out, berth by berth.
    ways: Vec<Vec<Vec<Pull>>>,
    findings: Vec<Finding>,
    defaults: Vec<DefaultUsed>,
}

impl Proof {
    fn verdict(&self) -> Verdict {
        worst(&self.findings)
    }

    /// Finds the order of assembly of each holder. Apart from the checks: most cures need not ask for it.
    fn put_in_order(&mut self, stop: &dyn Fn() -> bool) {
        if let Some(job) = &self.job {
            let (orders, findings) = orders::orders(job, &self.holders, stop);
            self.orders = orders;
            self.findings.extend(findings);
        }
    }

    /// How many panels and things there are.
    fn size(&self) -> usize {
        self.holders.iter().map(|h| h.assembly.panels.len() + h.assembly.berths.len()).sum()
    }
}

/// The first half: everything up to the checks.
fn prove(request: &Request, limits: &Limits, stop: &dyn Fn() -> bool) -> Proof {
    prove_as(request, limits, stop, &mut |_| {}, &Learnt::default())
}

/// What changes checks before they count.
type Judge<'a> = dyn FnMut(&mut [(About, Outcome)]) + 'a;

/// The same; `judge` may change what the checks say before it counts, and `learnt` is what earlier nests have
/// shown not to go.
fn prove_as(request: &Request, limits: &Limits, stop: &dyn Fn() -> bool, judge: &mut Judge, learnt: &Learnt) -> Proof {
    let mut proof = Proof {
        job: None,
        holders: vec![],
        checks: vec![],
        orders: vec![],
        ways: vec![],
        findings: vec![],
        defaults: vec![],
    };
    let Some(mut job) = Job::checked(request, limits, &mut proof.findings, &mut proof.defaults) else {
        return proof;
    };
    proof.holders = holders::built(&mut job, &Site { limits, learnt, stop }, &mut proof.findings);
    if !stop() {
        let subject = Subject { job: &job, holders: &proof.holders };
        proof.checks = run_all(&subject);
        proof.ways = things_out(&subject, &mut proof.checks, stop);
        judge(&mut proof.checks);
        proof.findings.extend(proof.checks.iter().flat_map(|(_, o)| o.findings.iter().cloned()));
    }
    proof.job = Some(job);
    proof
}

/// The second half: drawn outlines, sheets, routes. `Ok(None)` when it was stopped.
fn cut(
    request: &Request,
    limits: &Limits,
    proof: &mut Proof,
    stop: &dyn Fn() -> bool,
) -> Result<Option<Made>, Shortage> {
    let Some(job) = proof.job.clone() else { return Err(Shortage::default()) };
    let parts = parts::parts(&job, &proof.holders, limits)?;
    let joints = parts::joints(&proof.holders, &parts);
    let sheets = sheets::sheets(&job, &parts, limits, stop)?;
    if stop() {
        return Ok(None);
    }
    let (mut findings, size) = (std::mem::take(&mut proof.findings), proof.size());
    cures::keep_tried(request, limits, size, &mut findings, stop);
    Ok(Some(Made {
        request: request.clone(),
        chances: chance::of(&job, &proof.holders),
        coupons: coupon::of(request, &job, &proof.holders, stop),
        job,
        holders: std::mem::take(&mut proof.holders),
        parts,
        joints,
        sheets,
        checks: std::mem::take(&mut proof.checks),
        orders: std::mem::take(&mut proof.orders),
        ways: std::mem::take(&mut proof.ways),
        verdict: worst(&findings),
        findings,
        defaults: std::mem::take(&mut proof.defaults),
        prototype: None,
    }))
}

/// Whether the parts of a request go on its sheets, with the least effort.
fn goes_on_sheets(request: &Request, limits: &Limits, stop: &dyn Fn() -> bool) -> bool {
    let quick = Request { effort: EffortSpec::Quick, ..request.clone() };
    let mut learnt = Learnt::default();
    while !stop() {
        let proof = prove_as(&quick, limits, stop, &mut |_| {}, &learnt);
        let Some(job) = proof.job.as_ref().filter(|_| proof.verdict() < Verdict::Refuse) else { return false };
        let parts = parts::parts(job, &proof.holders, limits).map_err(Shortage::from);
        match parts.and_then(|parts| sheets::sheets(job, &parts, limits, stop)) {
            Ok(_) => return !stop(),
            Err(short) if learnt.learn(&short.left) => {}
            Err(_) => return false,
        }
    }
    false
}

#[cfg(test)]
mod lay_tests;
#[cfg(test)]
mod marriage_tests;
#[cfg(test)]
pub(crate) mod tests;
