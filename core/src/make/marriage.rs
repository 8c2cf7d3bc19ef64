//! Sheet marriage: which part is cut from which of several sheets that differ in thickness.
//!
//! A slot is as wide as what enters it, so every fit holds as long as each part is cut from the sheets that it
//! was derived for. Each part therefore gets its batch of equally thick sheets before outlines are derived:
//! whole holders first, so that walls end flush and any part can be recut alone; what a batch cannot take is
//! divided part by part. What the nest then cannot lay goes to another batch.

use super::shortage::Left;
use crate::checks;
use crate::finish::Built;
use crate::job::Job;
use crate::material::{Batch, Stock};
use std::collections::BTreeSet;

/// Share of a sheet's usable area that parts fill at the least: below it, a nest succeeds (common practice, no
/// source: 85 % by area promises nothing).
const FILL: f64 = 0.80;

/// A panel of a holder that is not cut from a batch of its stock, since that ran out before it.
type Banned = (usize, usize, usize);

/// What earlier nests have shown not to go.
#[derive(Clone, Debug, Default)]
pub struct Learnt {
    banned: BTreeSet<Banned>,
    rounds: usize,
}

/// A batch that runs out sends its last parts on; after this many rounds the sheets do not do.
const MOST_ROUNDS: usize = 8;

impl Learnt {
    /// Learns which parts a batch has no room for; false when that leads nowhere.
    pub fn learn(&mut self, left: &[Left]) -> bool {
        self.rounds += 1;
        let mut news = false;
        for l in left {
            let open = (0..l.batches).any(|b| b != l.batch && !self.banned.contains(&(l.holder, l.panel, b)));
            news |= open && self.banned.insert((l.holder, l.panel, l.batch));
        }
        news && self.rounds <= MOST_ROUNDS
    }
}

/// A part that looks for its batch.
struct Bride {
    holder: usize,
    panel: usize,
    area_mm2: f64,
    /// The batches with a sheet large enough that has not run out before.
    may: Vec<usize>,
}

/// Gives each panel of a stock with several batches the thickness of the batch that it is cut from. Returns the
/// holders of which a thickness changed.
pub fn marry(job: &Job, holders: &mut [&mut Built], learnt: &Learnt) -> BTreeSet<usize> {
    let mut changed = BTreeSet::new();
    for (s, stock) in job.stocks.iter().enumerate().filter(|(_, s)| s.batches.len() > 1) {
        let brides = brides(stock, s, holders, learnt);
        for (bride, batch) in brides.iter().zip(matched(stock, &brides)) {
            let slab = &mut holders[bride.holder].assembly.panels[bride.panel].slab;
            let thickness = stock.batches[batch].thickness_mm;
            // the face at z = 0 is the one that is seen and stood on: it stays where the family put it
            if slab.thickness != thickness {
                slab.thickness = thickness;
                changed.insert(bride.holder);
            }
        }
    }
    changed
}

fn brides(stock: &Stock, s: usize, holders: &[&mut Built], learnt: &Learnt) -> Vec<Bride> {
    let mut all = vec![];
    for (holder, built) in holders.iter().enumerate() {
        for (panel, p) in built.assembly.panels.iter().enumerate().filter(|(_, p)| p.stock == s) {
            let outline = &built.finished.panels[panel].region;
            let takes = |b: &usize| {
                let large = checks::batch_takes(stock, &stock.batches[*b], p, outline);
                large && !learnt.banned.contains(&(holder, panel, *b))
            };
            // half a gap on every side is the part's own
            let area_mm2 = outline.area() + outline.outer.length() * stock.gap_mm / 2.0;
            all.push(Bride { holder, panel, area_mm2, may: (0..stock.batches.len()).filter(takes).collect() });
        }
    }
    all
}

/// What a batch can take, mm²; without end where there are as many sheets as it takes.
fn capacity(stock: &Stock, batch: &Batch) -> f64 {
    let of = |i: &usize| {
        let supply = &stock.supplies[*i];
        supply.count.map_or(f64::INFINITY, |n| f64::from(n) * supply.usable_area_mm2(stock.margin_mm) * FILL)
    };
    batch.supplies.iter().map(of).sum()
}

/// The batch of each bride.
fn matched(stock: &Stock, brides: &[Bride]) -> Vec<usize> {
    let mut left: Vec<f64> = stock.batches.iter().map(|b| capacity(stock, b)).collect();
    let mut batch_of = vec![0; brides.len()];
    let all: Vec<usize> = (0..brides.len()).collect();
    // one batch for everything, else one for each holder, else each part for itself
    if settle(brides, &all, &mut left, &mut batch_of) {
        return batch_of;
    }
    let holders: BTreeSet<usize> = brides.iter().map(|b| b.holder).collect();
    let mut families: Vec<Vec<usize>> =
        holders.iter().map(|h| all.iter().copied().filter(|&i| brides[i].holder == *h).collect()).collect();
    let area = |family: &[usize]| family.iter().map(|&i| brides[i].area_mm2).sum::<f64>();
    families.sort_by(|a, b| area(b).total_cmp(&area(a)));
    for family in families {
        if !settle(brides, &family, &mut left, &mut batch_of) {
            divide(brides, &family, &mut left, &mut batch_of);
        }
    }
    batch_of
}

/// Puts all of a family into the one batch that it fills best; false when none takes it.
fn settle(brides: &[Bride], family: &[usize], left: &mut [f64], batch_of: &mut [usize]) -> bool {
    let need: f64 = family.iter().map(|&i| brides[i].area_mm2).sum();
    let takes = |b: &usize| left[*b] >= need && family.iter().all(|&i| brides[i].may.contains(b));
    let best = (0..left.len()).filter(takes).min_by(|&a, &b| left[a].total_cmp(&left[b]));
    let Some(b) = best else { return false };
    left[b] -= need;
    family.iter().for_each(|&i| batch_of[i] = b);
    true
}

/// Fills the roomiest batch with a family's panels in the order in which they are built, walls first, then the
/// next: so those that corner together are most likely alike.
fn divide(brides: &[Bride], family: &[usize], left: &mut [f64], batch_of: &mut [usize]) {
    let mut order: Vec<usize> = (0..left.len()).collect();
    order.sort_by(|&a, &b| left[b].total_cmp(&left[a]).then(a.cmp(&b)));
    for &i in family {
        let bride = &brides[i];
        let roomy = |b: &&usize| bride.may.contains(b) && left[**b] >= bride.area_mm2;
        let most = || bride.may.iter().max_by(|&&a, &&b| left[a].total_cmp(&left[b]).then(b.cmp(&a)));
        // where no estimate allows it, the nest will tell
        let b = order.iter().find(roomy).or_else(most).copied().unwrap_or(0);
        left[b] -= bride.area_mm2;
        batch_of[i] = b;
    }
}
