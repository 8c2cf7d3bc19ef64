//! Which material is meant, and may it be cut at all. Unknown means no.

use super::data::catalogue;
use super::never::{forbidden, words};
use super::profile::{Permit, Process, Profile};
use super::received::Forbidden;
use super::spec::StockSpec;
use crate::finding::{Amount, Finding, PatchOp, Verdict};

/// Where the request names its cutter; cures that change the process put it there.
const CUTTER_AT: &str = "/cutter";

/// What is proposed in the place of something that must not be cut: the same parts in plywood.
const INSTEAD: &str = "birch-ply-3";

/// The profile that a stock is cut by, with its own numbers still to come; `None` when it may not be
/// cut. At least one finding is then in `out`.
pub(super) fn identify(
    spec: &StockSpec,
    process: Process,
    at: &str,
    out: &mut Vec<Finding>,
) -> Option<&'static Profile> {
    let listed = catalogue().profile(&spec.material);
    if listed.is_none()
        && process == Process::Co2
        && let Some(entry) = forbidden(&spec.material)
    {
        out.push(never(spec, entry, at));
        return None;
    }
    let profile = match (listed, &spec.base) {
        (Some(p), None) => p,
        (Some(p), Some(base)) if *base == p.id => p,
        (Some(p), Some(base)) => {
            out.push(two_materials(&p.id, base, at));
            return None;
        }
        (None, Some(base)) => match catalogue().profile(base) {
            Some(p) => p,
            None => {
                out.push(unknown(base, process, &format!("{at}/base")));
                return None;
            }
        },
        (None, None) => {
            out.push(unknown(&spec.material, process, &format!("{at}/material")));
            return None;
        }
    };
    permitted(profile, process, at, out).then_some(profile)
}

/// Whether a process may cut it; a caution is said, a no is refused.
fn permitted(p: &Profile, process: Process, at: &str, out: &mut Vec<Finding>) -> bool {
    let rule = p.treatment(process);
    let here = format!("{at}/material");
    match rule.permit {
        Permit::Allowed => true,
        Permit::Caution => {
            out.push(
                Finding::new("material-caution", Verdict::Warn, here)
                    .have("material", p.id.as_str())
                    .have("process", process.word())
                    .why(rule.reason.clone()),
            );
            true
        }
        Permit::Never => {
            let mut f = Finding::new("material-not-for-process", Verdict::Refuse, here.clone())
                .have("material", p.id.as_str())
                .have("process", process.word())
                .why(format!("{}: {}", p.name, rule.reason));
            let other = |c: &&super::Cutter| c.process != process && p.treatment(c.process).permit != Permit::Never;
            if let Some(c) = catalogue().cutters.iter().find(other) {
                f = f.cure(format!("Cut it on {}.", c.id), CUTTER_AT, c.id.as_str());
            }
            if process == Process::Co2 {
                f = f.cure("Cut the same parts from plywood.", here, INSTEAD);
            }
            out.push(f);
            false
        }
    }
}

fn shown(text: &str) -> String {
    text.chars().take(60).collect()
}

fn never(spec: &StockSpec, entry: &Forbidden, at: &str) -> Finding {
    let here = format!("{at}/material");
    let mut patch = vec![PatchOp { op: "add", path: here.clone(), value: Some(Amount::Text(INSTEAD.to_owned())) }];
    if spec.base.is_some() {
        patch.push(PatchOp { op: "remove", path: format!("{at}/base"), value: None });
    }
    Finding::new("material-never", Verdict::Refuse, here)
        .have("material", shown(&spec.material))
        .have("read_as", entry.what.as_str())
        .need("material", INSTEAD)
        .why(format!("{}. {} Nothing overrides this.", entry.reason.trim_end_matches('.'), entry.instead))
        .cure_with(format!("Cut the same parts from {INSTEAD}."), patch)
}

fn unknown(text: &str, process: Process, here: &str) -> Finding {
    let list: Vec<&str> = catalogue().profiles.iter().map(|p| p.id.as_str()).collect();
    let list = list.join(", ");
    let by_hand = match forbidden(text).filter(|_| process == Process::Knife) {
        Some(entry) => format!(" ({}: {})", entry.what, entry.instead),
        None => String::new(),
    };
    let mut f = Finding::new("material-unknown", Verdict::Refuse, here)
        .have("material", shown(text))
        .need("one_of", list.as_str())
        .why(format!(
            "\"{}\" is not in the list of materials{by_hand}, and unknown means no: it may be treated, filled, or give off poison. Ask the seller for the data sheet. Known: {list}.",
            shown(text)
        ));
    for id in nearest(text, process) {
        f = f.cure(format!("If the data sheet says so, use {id}."), here, id);
    }
    f
}

/// Listed materials that share words with a text, those with most first; at most three.
fn nearest(text: &str, process: Process) -> Vec<&'static str> {
    let said = words(text);
    let shared = |p: &Profile| words(&p.id).iter().filter(|w| said.contains(w)).count();
    let mut near: Vec<(usize, &'static str)> = catalogue()
        .profiles
        .iter()
        .filter(|p| p.treatment(process).permit != Permit::Never)
        .map(|p| (shared(p), p.id.as_str()))
        .filter(|(n, _)| *n > 0)
        .collect();
    near.sort_by_key(|(n, _)| std::cmp::Reverse(*n));
    near.into_iter().take(3).map(|(_, id)| id).collect()
}

fn two_materials(material: &str, base: &str, at: &str) -> Finding {
    Finding::new("material-contradicts-base", Verdict::Refuse, format!("{at}/base"))
        .have("material", material)
        .have("base", shown(base))
        .why(format!(
            "The material is the listed {material}, but the base says {}: a stock is cut by one of them. A base belongs to a material of your own name.",
            shown(base)
        ))
        .cure(format!("Cut it as {material}."), format!("{at}/base"), material)
}
