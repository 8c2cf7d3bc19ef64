//! Every holder built and finished; where sheets of a stock differ, each part for the sheet that it is cut from.

use super::marriage::{Learnt, marry};
use crate::arrange::{Stand, arrange, context};
use crate::finding::Finding;
use crate::finish::{Built, finish};
use crate::job::{HolderJob, Job, Limits};

/// What the holders are built from, beside the job.
pub struct Site<'a> {
    /// Limits on panels.
    pub limits: &'a Limits,
    /// What earlier nests have shown not to go.
    pub learnt: &'a Learnt,
    /// Ends the work early.
    pub stop: &'a dyn Fn() -> bool,
}

/// A holder with what its outlines gave rise to.
struct Raised {
    built: Built,
    said: Vec<Finding>,
}

/// Builds all holders; faults go to `out`. Where every part comes from thinner sheets than the stock's thickest,
/// the stock's thickness becomes theirs.
pub fn built(job: &mut Job, site: &Site, out: &mut Vec<Finding>) -> Vec<Built> {
    let mut said = vec![];
    let mut raised = raise_all(job, site, &mut said);
    let married = job.stocks.iter().any(|s| s.batches.len() > 1);
    if married {
        join(job, site, &mut raised);
        if thinner(job, &raised) && !(site.stop)() {
            said.clear();
            raised = raise_all(job, site, &mut said);
            join(job, site, &mut raised);
        }
    }
    out.extend(said);
    let mut all = vec![];
    for r in raised {
        out.extend(r.said);
        all.push(r.built);
    }
    all
}

/// Builds and finishes each holder as its family wants it.
fn raise_all(job: &Job, site: &Site, out: &mut Vec<Finding>) -> Vec<Raised> {
    let (mut all, mut panels) = (vec![], 0);
    for ((i, holder), stand) in job.holders.iter().enumerate().zip(arrange(job)) {
        if (site.stop)() {
            break;
        }
        let cx = context(job, holder, stand.room);
        let Some(assembly) = holder.spec.family().build(&cx, out) else { continue };
        panels += assembly.panels.len();
        if !Limits::check("too-many-panels", "panels", &holder.at, panels, site.limits.panels, out) {
            break;
        }
        all.extend(raise(job, (i, holder), &stand, assembly, out));
    }
    all
}

/// Finishes one holder; `None`, with its faults in `out`, where there is no outline.
fn raise(
    job: &Job,
    (i, holder): (usize, &HolderJob),
    stand: &Stand,
    assembly: crate::assembly::Assembly,
    out: &mut Vec<Finding>,
) -> Option<Raised> {
    let mut said = vec![];
    match finish(&assembly, &labels(job), &holder.at, &mut said) {
        None => {
            out.extend(said);
            None
        }
        Some(finished) => Some(Raised {
            built: Built {
                letter: Built::joint_letters(i),
                family: holder.spec.tag(),
                at: holder.at.clone(),
                assembly,
                finished,
                origin: stand.origin,
                size: stand.size,
            },
            said,
        }),
    }
}

/// What the label of each stock says.
fn labels(job: &Job) -> Vec<f64> {
    job.stocks.iter().map(|s| s.label_mm).collect()
}

/// Gives each part its sheets, and derives anew what that changes.
fn join(job: &Job, site: &Site, raised: &mut [Raised]) {
    let mut holders: Vec<&mut Built> = raised.iter_mut().map(|r| &mut r.built).collect();
    let changed = marry(job, &mut holders, site.learnt);
    for h in changed {
        let Raised { built, said } = &mut raised[h];
        said.clear();
        // a thickness a tenth of a millimetre off takes no outline away; if it does, the fault refuses
        if let Some(finished) = finish(&built.assembly, &labels(job), &built.at, said) {
            built.finished = finished;
        }
    }
}

/// Lowers the thickness of each stock to that of its thickest part; true when one was lowered.
fn thinner(job: &mut Job, raised: &[Raised]) -> bool {
    let mut lowered = false;
    for (s, stock) in job.stocks.iter_mut().enumerate().filter(|(_, s)| s.batches.len() > 1) {
        let panels = raised.iter().flat_map(|r| &r.built.assembly.panels).filter(|p| p.stock == s);
        let thickest = panels.map(|p| p.slab.thickness).fold(0.0, f64::max);
        if thickest > 0.0 && thickest < stock.thickness_mm {
            stock.thickness_mm = thickest;
            lowered = true;
        }
    }
    lowered
}
