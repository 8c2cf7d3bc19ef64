//! The chances of every joint of a holder, and of all of them.

use super::again::{Again, again};
use super::clearance::{self, Clearance, Source};
use crate::finish::Built;
use crate::job::Job;
use crate::material::{Span, SpreadFrom};
use std::collections::BTreeSet;

/// One joint.
#[derive(Clone, Debug, PartialEq)]
pub struct JointChance {
    /// Which of the holder's meetings.
    pub meeting: usize,
    /// Finished slot less what enters, as asked, mm.
    pub fit_mm: f64,
    /// The clearances that count as closed, mm.
    pub closes_mm: Span,
    /// The fit that is likeliest to close, mm: the middle of those clearances.
    pub best_fit_mm: f64,
    /// Slot as drawn, mm; none at fingers.
    pub drawn_mm: Option<f64>,
    /// The width that is likeliest to close, mm.
    pub best_drawn_mm: Option<f64>,
    /// Chance that it closes as drawn. A lap has two slots in the same two parts: the worse one's.
    pub chance: f64,
    /// Chance at the best width.
    pub best_chance: f64,
}

/// One holder.
#[derive(Clone, Debug, PartialEq)]
pub struct HolderChance {
    /// Every joint in which something enters something.
    pub joints: Vec<JointChance>,
    /// Chance that all close if each joint scatters by itself.
    pub all_independent: f64,
    /// Chance that all close if all move together.
    pub all_together: f64,
    /// Spreads that nobody has measured here: JSON Pointers of the readings that are missing.
    pub usual: Vec<String>,
    /// The two readings that decide most.
    pub again: Vec<Again>,
}

/// A kind of clearance, how often it comes, and its chance.
pub struct Class {
    /// What it hangs on.
    pub clearance: Clearance,
    /// How many joints are decided by it.
    pub count: usize,
    /// Chance as drawn.
    pub chance: f64,
}

/// The chances of each holder. Joints that hang on the same things in the same way are computed once, so
/// cost follows the kinds of joints and not their number.
#[must_use]
pub fn of(job: &Job, holders: &[Built]) -> Vec<HolderChance> {
    holders.iter().map(|built| holder(job, built)).collect()
}

fn holder(job: &Job, built: &Built) -> HolderChance {
    let (mut classes, mut joints) = (Vec::<Class>::new(), vec![]);
    for (i, m) in built.assembly.meetings.iter().enumerate() {
        let slots: Vec<usize> =
            clearance::of(job, built, m).into_iter().map(|c| class_of(job, &mut classes, c)).collect();
        let worst = slots.into_iter().min_by(|a, b| classes[*a].chance.total_cmp(&classes[*b].chance));
        if let Some(worst) = worst {
            classes[worst].count += 1;
            joints.push(joint(job, i, &classes[worst]));
        }
    }
    let chances = joints.iter().map(|j: &JointChance| j.chance);
    HolderChance {
        all_independent: chances.clone().product(),
        all_together: chances.fold(1.0, f64::min),
        usual: usual(job, &classes),
        again: again(job, &classes),
        joints,
    }
}

fn class_of(job: &Job, classes: &mut Vec<Class>, clearance: Clearance) -> usize {
    let known = classes.iter().position(|c| same(&c.clearance, &clearance));
    known.unwrap_or_else(|| {
        let chance = clearance.chance(job, clearance.fit_mm, None);
        classes.push(Class { clearance, count: 0, chance });
        classes.len() - 1
    })
}

/// The same but for rounding of angles and widths.
fn same(a: &Clearance, b: &Clearance) -> bool {
    /// A millionth changes no digit that is printed.
    const NEAR: f64 = 1e-6;
    let near = |a: f64, b: f64| (a - b).abs() < NEAR;
    near(a.fit_mm, b.fit_mm)
        && near(a.drawn_mm.unwrap_or(-1.0), b.drawn_mm.unwrap_or(-1.0))
        && a.follows.len() == b.follows.len()
        && a.follows.iter().zip(&b.follows).all(|(x, y)| x.0 == y.0 && near(x.1, y.1))
}

fn joint(job: &Job, meeting: usize, class: &Class) -> JointChance {
    let c = &class.clearance;
    let closes_mm = c.closes();
    // both distributions fall off evenly on either side, so the middle of the band is the best
    let best_fit_mm = (closes_mm.min + closes_mm.max) / 2.0;
    let same = (best_fit_mm - c.fit_mm).abs() < 1e-9;
    JointChance {
        meeting,
        fit_mm: c.fit_mm,
        closes_mm,
        best_fit_mm,
        drawn_mm: c.drawn_mm,
        best_drawn_mm: c.drawn_mm.map(|d| d + best_fit_mm - c.fit_mm),
        chance: class.chance,
        best_chance: if same { class.chance } else { c.chance(job, best_fit_mm, None) },
    }
}

/// Every source that the classes hang on.
pub fn sources(classes: &[Class]) -> BTreeSet<Source> {
    classes.iter().filter(|c| c.count > 0).flat_map(|c| c.clearance.follows.iter().map(|f| f.0)).collect()
}

fn usual(job: &Job, classes: &[Class]) -> Vec<String> {
    sources(classes)
        .into_iter()
        .filter_map(|s| s.spread(job).filter(|p| p.from == SpreadFrom::Usual).map(|p| s.place(p)))
        .collect()
}
