//! Sheets of one stock that differ in thickness: which parts are cut together, and which joints lie between.

use super::numbers::mm;
use crate::made::{JointLine, Made};
use serde::Serialize;
use std::collections::BTreeSet;

/// Parts that come from sheets of one thickness, and from no others.
#[derive(Serialize)]
pub struct Together<'a> {
    /// The caller's name of the stock.
    stock: &'a str,
    /// Thickness of their sheets.
    thickness_mm: f64,
    /// Numbers of the sheets.
    sheets: Vec<usize>,
    /// What is written on them, where the request says so.
    written: Vec<&'a str>,
    /// Codes of the parts.
    parts: Vec<&'a str>,
    /// Joints in which one of them meets a part of another thickness.
    joints_across: Vec<Across<'a>>,
    /// Why, for people.
    why: String,
}

/// A joint between sheets of different thickness.
#[derive(Serialize)]
struct Across<'a> {
    joint: &'a str,
    /// The part of these sheets.
    part: &'a str,
    /// The part that it meets.
    meets: &'a str,
    /// That part's thickness.
    meets_thickness_mm: f64,
}

/// A row for each thickness of each stock of which more than one is used.
pub fn rows(made: &Made) -> Vec<Together<'_>> {
    let mut all = vec![];
    for (s, stock) in made.job.stocks.iter().enumerate() {
        let used: BTreeSet<usize> =
            made.parts.iter().filter(|p| p.stock == s).map(|p| stock.batch_of(p.thickness_mm)).collect();
        if used.len() > 1 {
            all.extend(used.into_iter().map(|batch| row(made, s, batch)));
        }
    }
    all
}

fn row(made: &Made, s: usize, batch: usize) -> Together<'_> {
    let stock = &made.job.stocks[s];
    let of = &stock.batches[batch];
    let mine = |i: usize| made.parts.get(i).is_some_and(|p| p.stock == s && stock.batch_of(p.thickness_mm) == batch);
    let sheets: Vec<_> = made.sheets.iter().filter(|k| k.stock == s && of.supplies.contains(&k.supply)).collect();
    let written: BTreeSet<&str> = sheets.iter().filter_map(|k| stock.supplies[k.supply].id.as_deref()).collect();
    let joints_across: Vec<Across> = made.joints.iter().filter_map(|j| across(made, j, s, &mine)).collect();
    let thickness_mm = mm(of.thickness_mm);
    Together {
        stock: &stock.id,
        thickness_mm,
        sheets: sheets.iter().map(|k| k.number).collect(),
        written: written.into_iter().collect(),
        parts: (0..made.parts.len()).filter(|i| mine(*i)).map(|i| made.parts[i].code.as_str()).collect(),
        why: format!(
            "Slots that these parts enter were derived for {thickness_mm} mm, so they are cut from sheets of that thickness; {} of their joints meet parts of another.",
            joints_across.len()
        ),
        joints_across,
    }
}

fn across<'a>(made: &'a Made, j: &'a JointLine, s: usize, mine: &dyn Fn(usize) -> bool) -> Option<Across<'a>> {
    let (part, other) = if mine(j.a) { (j.a, j.b) } else { (j.b, j.a) };
    let (part_of, other_of) = (made.parts.get(part)?, made.parts.get(other)?);
    (mine(part) && !mine(other) && other_of.stock == s).then(|| Across {
        joint: &j.id,
        part: &part_of.code,
        meets: &other_of.code,
        meets_thickness_mm: mm(other_of.thickness_mm),
    })
}
