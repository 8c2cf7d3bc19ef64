//! What would open a locked holder: changes to its joints, each tried by deriving all outlines anew.

use super::{Lock, Order, find};
use crate::assembly::{Assembly, Joint, Reach};
use crate::finding::{Finding, Verdict};
use crate::finish::finish;

/// A change to one joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Change {
    /// Tabs end flush with the host's far face.
    Flush,
    /// The slot is open to the top, and the tab is a hook.
    OpenSlot,
    /// No tabs: the part stops at the host's face.
    NoTabs,
}

/// A hook takes half of the common height, so that both partners stay as strong as one another.
const HOOK_SHARE: f64 = 0.5;
/// Each try derives a whole holder anew; so many at most.
const MOST_TRIES: usize = 40;

impl Change {
    /// The joint that it makes of another; `None` where it does not apply.
    fn of(self, joint: Joint) -> Option<Joint> {
        match (self, joint) {
            (Self::Flush, Joint::Tab { reach: Reach::Proud(_) }) => Some(Joint::Tab { reach: Reach::Flush }),
            (Self::OpenSlot, Joint::Tab { .. }) => Some(Joint::Hook { depth_share: HOOK_SHARE }),
            (Self::NoTabs, Joint::Tab { .. } | Joint::Hook { .. }) => Some(Joint::Rest),
            _ => None,
        }
    }
}

/// The fewest joints (no one of them can be spared) at which a change makes an order, and the steps of it;
/// the mildest kind of change first. `None` when none of those that were tried does.
pub fn tried(
    assembly: &Assembly,
    nominal_mm: &[f64],
    locks: &[Lock],
    stop: &dyn Fn() -> bool,
) -> Option<(Change, Vec<usize>, usize)> {
    let mut left = MOST_TRIES;
    let within = |m: usize| {
        let m = &assembly.meetings[m];
        locks.iter().any(|l| l.parts.contains(&m.a.0) && l.parts.contains(&m.b.0))
    };
    for change in [Change::Flush, Change::OpenSlot, Change::NoTabs] {
        let fits = |m: &usize| within(*m) && change.of(assembly.meetings[*m].joint).is_some();
        let mut joints: Vec<usize> = (0..assembly.meetings.len()).filter(fits).collect();
        let mut steps_with = |joints: &[usize]| {
            left = left.saturating_sub(1);
            if left == 0 || stop() { None } else { steps_after(assembly, nominal_mm, change, joints, stop) }
        };
        if joints.is_empty() {
            continue;
        }
        let Some(mut steps) = steps_with(&joints) else { continue };
        for joint in joints.clone() {
            let fewer: Vec<usize> = joints.iter().copied().filter(|j| *j != joint).collect();
            if let Some(n) = steps_with(&fewer) {
                (joints, steps) = (fewer, n);
            }
        }
        return Some((change, joints, steps));
    }
    None
}

/// How many steps there are once a change is made at some joints; `None` when it cannot be made or
/// there is still no order.
fn steps_after(
    assembly: &Assembly,
    nominal_mm: &[f64],
    change: Change,
    joints: &[usize],
    stop: &dyn Fn() -> bool,
) -> Option<usize> {
    let mut other = assembly.clone();
    for j in joints {
        other.meetings[*j].joint = change.of(other.meetings[*j].joint)?;
    }
    let mut faults: Vec<Finding> = vec![];
    let finished = finish(&other, nominal_mm, "", &mut faults)?;
    let sound = faults.iter().all(|f| f.verdict < Verdict::Refuse);
    match find(&other, &finished, stop) {
        Order::Steps(steps) if sound => Some(steps.len()),
        _ => None,
    }
}
