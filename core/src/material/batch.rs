//! Sheets of one stock that are equally thick: a batch. Parts of one batch are alike in every joint.

use super::supply::Supply;

/// Sheets of a stock that are equally thick.
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    /// Their thickness, mm.
    pub thickness_mm: f64,
    /// Which of the stock's supplies, in their order.
    pub supplies: Vec<usize>,
}

/// Sheets whose mean readings differ by no more than this are equally thick, mm: a caliper tells no less
/// apart (common practice, no source).
pub const ALIKE_MM: f64 = 0.01;

/// The batches of a stock, the thickest first. The thickness of a batch is its thickest sheet's: what enters a
/// slot is never thicker than the slot was cut for.
pub(super) fn batches(supplies: &[Supply]) -> Vec<Batch> {
    let mut order: Vec<usize> = (0..supplies.len()).collect();
    order.sort_by(|&a, &b| supplies[b].thickness_mm.total_cmp(&supplies[a].thickness_mm).then(a.cmp(&b)));
    let mut all: Vec<Batch> = vec![];
    for i in order {
        let thickness_mm = supplies[i].thickness_mm;
        match all.last_mut() {
            Some(b) if b.thickness_mm - thickness_mm <= ALIKE_MM => b.supplies.push(i),
            _ => all.push(Batch { thickness_mm, supplies: vec![i] }),
        }
    }
    all.iter_mut().for_each(|b| b.supplies.sort_unstable());
    all
}
