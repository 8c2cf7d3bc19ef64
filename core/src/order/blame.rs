//! Which joints lock a set of parts: an irreducible set, found by leaving out one after another.

use super::bars::Bars;
use super::parting::take_apart;
use crate::assembly::Assembly;

/// Joints of a locked set of parts: with the tabs and fingers of all other joints of the set cut off
/// there is still no order, and with those of any one of these cut off as well there is one. `None` when
/// it was stopped. Empty when the set is locked even with every joint cut off.
///
/// Deletion: each joint in turn is thought away; if the set stays locked it is left away for good, else
/// it is kept. What is cut off only ever makes way, so one pass is enough.
pub fn irreducible(
    assembly: &Assembly,
    bars: &mut Bars,
    parts: &[usize],
    stop: &dyn Fn() -> bool,
) -> Option<Vec<usize>> {
    let within = |m: &usize| {
        let m = &assembly.meetings[*m];
        m.joint != crate::assembly::Joint::Rest && parts.contains(&m.a.0) && parts.contains(&m.b.0)
    };
    let joints: Vec<usize> = (0..assembly.meetings.len()).filter(within).collect();
    let mut blame = vec![];
    let mut stopped = false;
    for joint in &joints {
        bars.set_loose(*joint, true);
        let found = take_apart(assembly, bars, parts.to_vec(), stop);
        stopped |= found.stopped;
        if found.stuck.is_empty() {
            bars.set_loose(*joint, false);
            blame.push(*joint);
        }
    }
    for joint in &joints {
        bars.set_loose(*joint, false);
    }
    (!stopped).then_some(blame)
}
