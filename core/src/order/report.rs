//! The finding about a holder that cannot be put together.

use super::{Change, Lock, Order, remedy, words};
use crate::finding::{Finding, Verdict};
use crate::finish::Built;

/// The code of the finding about a holder that has no order.
pub const NO_ORDER: &str = "no-order";

/// A refusal for each locked set of a holder's parts. What would open them is tried first: `nominal_mm`
/// is what the label of each stock says, as for `finish`.
#[must_use]
pub fn judge(built: &Built, order: &Order, nominal_mm: &[f64], stop: &dyn Fn() -> bool) -> Vec<Finding> {
    let Order::Locked(locks) = order else { return vec![] };
    let remedy = remedy::tried(&built.assembly, nominal_mm, locks, stop);
    locks.iter().map(|lock| finding(built, lock, remedy.as_ref())).collect()
}

fn finding(built: &Built, lock: &Lock, remedy: Option<&(Change, Vec<usize>, usize)>) -> Finding {
    let parts = words::list(&lock.parts.iter().map(|p| words::part(built, *p)).collect::<Vec<_>>());
    let letters = |of: &[usize]| words::list(&of.iter().map(|m| joint(built, *m)).collect::<Vec<_>>());
    let blame = match lock.blame.as_slice() {
        [] => "They lock one another even without a joint.".to_owned(),
        [one] => format!("Joint {} alone locks them.", joint(built, *one)),
        many => format!("Together joints {} lock them; without any one of these the rest would open.", letters(many)),
    };
    let tried = match remedy {
        Some((change, joints, steps)) => {
            format!("{} Tried: then it goes together in {steps} pushes.", cure(*change, &letters(joints)))
        }
        None => "Neither flush tabs, open slots nor leaving tabs off opens it.".to_owned(),
    };
    let codes = |of: &[usize]| of.iter().map(|p| built.part_code(*p)).collect::<Vec<_>>().join(" ");
    let blamed: Vec<String> = lock.blame.iter().map(|m| Built::joint_letters(*m)).collect();
    Finding::new(NO_ORDER, Verdict::Refuse, built.at.clone())
        .have("orders", 0.0)
        .have("locked_parts", codes(&lock.parts))
        .have("joints_to_blame", blamed.join(" "))
        .have("lines_tried", lock.lines)
        .need("orders", "1 or more")
        .why(format!(
            "No order of straight pushes puts {parts} together: each bars another along all {} lines, alone and in groups. {blame} {tried}",
            lock.lines
        ))
}

fn cure(change: Change, joints: &str) -> String {
    match change {
        Change::Flush => format!("Make the tabs of {joints} flush."),
        Change::OpenSlot => format!("Open the slots of {joints} to the top."),
        Change::NoTabs => format!("Leave off the tabs of {joints}."),
    }
}

/// A joint's letters and its partners.
fn joint(built: &Built, meeting: usize) -> String {
    let m = &built.assembly.meetings[meeting];
    format!("{} ({} in {})", Built::joint_letters(meeting), built.part_code(m.a.0), built.part_code(m.b.0))
}
