//! Which old part each new part is: by holder and name first, then by outline alone.

use super::same::{Laid, SAME_MM, laid};
use crate::made::{Made, Part};

/// What becomes of a new part.
#[derive(Clone, Debug, PartialEq)]
pub struct Matched {
    /// The old part that has its place and name, if there is one.
    pub was: Option<usize>,
    /// The old part that does for it, and how it is laid.
    pub stays: Option<(usize, Laid)>,
    /// Why the old one of its name does not do.
    pub why: Vec<String>,
}

/// Thicknesses closer than this are the same sheet, mm: what meets by more is a collision.
const SAME_SHEET_MM: f64 = 0.02;

/// Every part of the new job, in its order. `None` when stopped.
#[must_use]
pub fn matched(old: &Made, new: &Made, stop: &dyn Fn() -> bool) -> Option<Vec<Matched>> {
    let holders = holders(old, new);
    let mut used = vec![false; old.parts.len()];
    let mut all: Vec<Matched> = vec![];
    for part in &new.parts {
        if stop() {
            return None;
        }
        let twin = |o: &Part| holders.get(part.holder) == Some(&Some(o.holder)) && o.name == part.name;
        let was = old.parts.iter().position(twin);
        let (stays, why) = was.map_or((None, vec![]), |w| compare(old, w, new, part));
        if let Some((w, _)) = stays {
            used[w] = true;
        }
        all.push(Matched { was, stays, why });
    }
    // what is left over may do for another part: a divider that moved, a wall of another letter
    for (m, part) in all.iter_mut().zip(&new.parts).filter(|(m, _)| m.stays.is_none()) {
        if stop() {
            return None;
        }
        let found = (0..old.parts.len())
            .filter(|w| !used[*w] && role(old, &old.parts[*w]) == role(new, part))
            .find_map(|w| compare(old, w, new, part).0);
        if let Some((w, _)) = found {
            used[w] = true;
            m.stays = found;
        }
    }
    Some(all)
}

/// For each new holder the old one that it is: of the same family, with the most things in common, and of
/// equals the nearest in the list.
fn holders(old: &Made, new: &Made) -> Vec<Option<usize>> {
    let mut free: Vec<usize> = (0..old.holders.len()).collect();
    let things = |m: &Made, h: usize| -> Vec<String> {
        let ids = m.job.holders.iter().find(|j| j.at == m.holders[h].at).map_or(&[][..], |j| &j.things);
        ids.iter().filter_map(|t| m.job.things.get(*t)).map(|t| t.id().to_owned()).collect()
    };
    (0..new.holders.len())
        .map(|n| {
            let mine = things(new, n);
            let shared = |o: usize| things(old, o).iter().filter(|t| mine.contains(t)).count();
            let best = free
                .iter()
                .copied()
                .filter(|o| old.holders[*o].family == new.holders[n].family)
                .max_by_key(|o| (shared(*o), std::cmp::Reverse(o.abs_diff(n)), std::cmp::Reverse(*o)))?;
            free.retain(|o| *o != best);
            Some(best)
        })
        .collect()
}

fn role(m: &Made, part: &Part) -> Option<crate::assembly::Role> {
    Some(m.holders.get(part.holder)?.assembly.panels.get(part.panel)?.role)
}

/// Whether an old part does for a new one; if not, why.
fn compare(old: &Made, w: usize, new: &Made, part: &Part) -> (Option<(usize, Laid)>, Vec<String>) {
    let o = &old.parts[w];
    let mut why = vec![];
    let material = |m: &Made, p: &Part| m.job.stocks.get(p.stock).map_or(String::new(), |s| s.material.clone());
    let (was, is) = (material(old, o), material(new, part));
    if was != is {
        why.push(format!("material: {was} became {is}"));
    }
    let thicker = part.thickness_mm - o.thickness_mm;
    if thicker.abs() > SAME_SHEET_MM {
        why.push(format!("thickness: {:.2} mm became {:.2}", o.thickness_mm, part.thickness_mm));
    }
    let lie = laid(&o.finished, &part.finished);
    if lie.off_mm > SAME_MM {
        why.push(outline(o, part, &lie));
    }
    (why.is_empty().then_some((w, lie)), why)
}

fn outline(o: &Part, part: &Part, lie: &Laid) -> String {
    let (a, b) = (o.finished.holes.len(), part.finished.holes.len());
    let size = |p: &Part| p.finished.bounds().1 - p.finished.bounds().0;
    let grown = size(part) - size(o);
    if grown.abs().max_element() > SAME_MM {
        return format!("outline: larger by {:+.2} × {:+.2} mm", grown.x, grown.y);
    }
    if a != b {
        return format!("outline: {a} openings and slots became {b}");
    }
    format!("outline: it differs by up to {:.2} mm", lie.off_mm)
}
