//! Which joints occur in a job: each kind at its own angle and fit, once.

use super::stand;
use crate::assembly::{Assembly, Joint, Meeting};
use crate::finish::{Built, finish};
use crate::geom::Region;
use crate::job::Job;
use crate::joints::{Section, Side};

/// More kinds than this no shop tries before a job.
const MOST: usize = 12;

/// One joint that occurs, as a pair of small parts.
#[derive(Clone, Debug)]
pub struct Sample {
    /// Its number with the letter of its kind, `T1`; the parts are `T1A` and `T1B`.
    pub code: String,
    /// `corner`, `tab`, `hook` or `lap`.
    pub kind: &'static str,
    /// Angle between the two, degrees.
    pub angle_deg: f64,
    /// Finished slot less what enters, mm.
    pub fit_mm: f64,
    /// Stocks of the two parts.
    pub stocks: [usize; 2],
    /// Their finished outlines; none where the pair could not be made so small.
    pub finished: Option<[Region; 2]>,
}

/// Every joint that occurs in the holders, once.
pub fn samples(job: &Job, holders: &[Built]) -> Vec<Sample> {
    let nominal: Vec<f64> = job.stocks.iter().map(|s| s.label_mm).collect();
    let mut all: Vec<Sample> = vec![];
    for built in holders {
        for m in &built.assembly.meetings {
            let Some((kind, letter)) = kind(m.joint) else { continue };
            let Some(angle_deg) = angle_deg(&built.assembly, m) else { continue };
            let stocks = [m.a, m.b].map(|p| built.assembly.panel(p).stock);
            if all.len() < MOST && !all.iter().any(|s| s.same(kind, angle_deg, m.fit_mm, stocks)) {
                let code = format!("{letter}{}", all.len() + 1);
                let finished = made(job, &nominal, m, angle_deg, stocks);
                all.push(Sample { code, kind, angle_deg, fit_mm: m.fit_mm, stocks, finished });
            }
        }
    }
    all
}

impl Sample {
    fn same(&self, kind: &str, angle_deg: f64, fit_mm: f64, stocks: [usize; 2]) -> bool {
        /// Angles nearer than this change a slot by less than a hundredth of its thickness.
        const NEAR_DEG: f64 = 0.5;
        let near = (self.angle_deg - angle_deg).abs() < NEAR_DEG && (self.fit_mm - fit_mm).abs() < 0.005;
        near && self.kind == kind && self.stocks == stocks
    }
}

/// The word and the letter of a joint that is cut.
fn kind(joint: Joint) -> Option<(&'static str, char)> {
    match joint {
        Joint::Corner => Some(("corner", 'C')),
        Joint::Tab { .. } => Some(("tab", 'T')),
        Joint::Hook { .. } => Some(("hook", 'H')),
        Joint::Lap { .. } => Some(("lap", 'L')),
        Joint::Rest => None,
    }
}

/// Angle between two panels, up to 90°; at a corner the one that they enclose, up to 180°.
fn angle_deg(assembly: &Assembly, m: &Meeting) -> Option<f64> {
    let (a, b) = (assembly.panel(m.a), assembly.panel(m.b));
    let x = Section::between(&a.slab, &b.slab)?;
    let cos = if m.joint == Joint::Corner {
        let out = |side: Side, seed| x.across(side) * -x.toward(side, seed);
        out(Side::A, a.seed).dot(out(Side::B, b.seed))
    } else {
        x.cos
    };
    Some(libm::acos(cos.clamp(-1.0, 1.0)).to_degrees())
}

/// The pair, by the holders' own code.
fn made(job: &Job, nominal: &[f64], m: &Meeting, angle_deg: f64, stocks: [usize; 2]) -> Option<[Region; 2]> {
    let of = |i: usize| job.stocks.get(stocks[i]).map(|s| s.thickness_mm);
    let label = nominal.get(stocks[0]).copied()?.max(nominal.get(stocks[1]).copied()?);
    let pair = stand::Pair { t: [of(0)?, of(1)?], stocks, angle_rad: angle_deg.to_radians(), label };
    let mut faults = vec![];
    let finished = finish(&pair.stood(m.joint, m.fit_mm)?, nominal, "", &mut faults)?;
    match finished.panels.as_slice() {
        [a, b] if faults.is_empty() => Some([a.region.clone(), b.region.clone()]),
        _ => None,
    }
}
