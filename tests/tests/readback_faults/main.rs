//! Single faults planted in the cut files of random packages of every family: all are found and named, nothing
//! else is, and clean packages raise no alarm.
//!
//! `BERTH_CASES=1000 BERTH_SEED=1 cargo test --release -p berth-tests --test readback_faults -- --nocapture`

#![allow(clippy::unwrap_used, missing_docs)] // a test that cannot go on stops here

mod cutfile;
mod dice;
mod plant;
mod specs;

use berth_core::finding::{Amount, Finding};
use berth_core::formats::package;
use berth_core::job::{Limits, read};
use berth_core::made::Made;
use berth_core::make::{Answer, make};
use berth_core::readback::{self, Files, ReadLimits, Report};
use dice::Dice;
use plant::{KINDS, Planted, plant};
use std::collections::BTreeMap;

fn number(name: &str, usual: u64) -> u64 {
    std::env::var(name).ok().and_then(|v| v.parse().ok()).unwrap_or(usual)
}

/// The next random request that is made, with its family.
fn next(case: &mut usize, dice: &mut Dice) -> (&'static str, Box<Made>) {
    loop {
        let (tag, request) = specs::request(*case, dice);
        *case += 1;
        if let Answer::Made(made) = make(&read(request).unwrap(), &Limits::default(), &|| false) {
            return (tag, made);
        }
    }
}

fn judged(files: Files) -> Result<Report, Vec<Finding>> {
    readback::of_files(files, &ReadLimits::default(), &|| false).map(|p| readback::judge(&p, &|| false).unwrap())
}

/// Whether a finding names a part: by its place, or among its parts.
fn names(f: &Finding, code: &str) -> bool {
    let holds = |text: &str| text.split(", ").any(|c| c == code);
    let listed = f.have.iter().any(|(k, v)| *k == "parts" && matches!(v, Amount::Text(t) if holds(t)));
    holds(&f.place) || listed
}

/// Whether a finding names a joint: by its place, or among the joints at which a part misses.
fn names_joint(f: &Finding, id: &str) -> bool {
    let among =
        f.have.iter().any(|(k, v)| *k == "joints" && matches!(v, Amount::Text(t) if t.split(", ").any(|j| j == id)));
    f.place == id || among
}

/// What is wrong with the report of a planted fault.
fn missed(planted: &Planted, findings: &[Finding]) -> Option<String> {
    for code in &planted.parts {
        if !findings.iter().any(|f| names(f, code)) {
            return Some(format!("{code} is not named"));
        }
    }
    if let Some(id) = &planted.joint
        && !findings.iter().any(|f| names_joint(f, id))
    {
        return Some(format!("{id} is not named"));
    }
    // a joint's fault is that joint's: other joints are quiet, but a part may truly hit a third one
    let other = |f: &&Finding| {
        let mine = planted.parts.iter().any(|code| names(f, code));
        let other_joint = planted.joint.as_ref().is_some_and(|id| f.place.starts_with('J') && f.place != *id);
        !mine || other_joint
    };
    findings.iter().find(other).map(|f| format!("{} at {} is named too: {}", f.code, f.place, f.why))
}

#[test]
fn planted_faults_are_named_and_nothing_else_is() {
    let (cases, seed) = (number("BERTH_CASES", 60), number("BERTH_SEED", 4_711));
    let mut dice = Dice::new(seed);
    let (mut case, mut clean, mut alarms, mut wrong) = (0, 0, vec![], vec![]);
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    let (mut planted_count, mut kind) = (0, 0);
    while planted_count < cases || clean < cases {
        let (tag, made) = next(&mut case, &mut dice);
        let files = readback::open(&package(&made).unwrap(), &ReadLimits::default()).unwrap();
        if clean < cases {
            clean += 1;
            match judged(files.clone()) {
                Ok(r) if r.findings.is_empty() => {}
                Ok(r) => {
                    let off: Vec<_> =
                        r.joints.iter().filter(|j| r.findings.iter().any(|f| names_joint(f, &j.id))).collect();
                    alarms.push(format!("case {case} {tag}: {:#?}\n{off:?}", r.findings));
                }
                Err(f) => alarms.push(format!("case {case} {tag}: unread: {}", f[0].why)),
            }
        }
        // kinds by turns; one that has no place in this package leaves its turn to the next
        let mut changed = files.clone();
        let planted = (0..8 * KINDS.len()).find_map(|i| {
            let p = plant(&made, &mut changed, KINDS[(kind + i / 8) % KINDS.len()], &mut dice)?;
            kind += i / 8 + 1;
            Some(p)
        });
        let Some(planted) = planted.filter(|_| planted_count < cases) else { continue };
        planted_count += 1;
        *counts.entry(format!("{:?}", planted.kind)).or_default() += 1;
        *counts.entry(tag.to_owned()).or_default() += 1;
        let fault = match judged(changed) {
            Ok(r) => missed(&planted, &r.findings).map(|m| (m, r.findings)),
            Err(f) => missed(&planted, &f).map(|m| (m, f)),
        };
        if let Some((why, findings)) = fault {
            let said: Vec<String> = findings.iter().map(|f| format!("    {} {}: {}", f.code, f.place, f.why)).collect();
            wrong.push(format!(
                "case {case} {tag}: {:?} by {:.2} mm at {} {:?}: {why}\n{}",
                planted.kind,
                planted.by_mm,
                planted.parts.join(" "),
                planted.joint,
                said.join("\n")
            ));
        }
    }
    eprintln!(
        "seed {seed}: {clean} clean packages, {} alarms; {planted_count} faults, {} not as they should be; {case} requests",
        alarms.len(),
        wrong.len()
    );
    eprintln!("{counts:#?}");
    assert!(alarms.is_empty() && wrong.is_empty(), "{}\n{}", alarms.join("\n"), wrong.join("\n"));
}
