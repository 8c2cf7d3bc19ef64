//! `order.txt`: how each holder goes together, step by step for people; and the same for assembly.json.

use super::numbers::{fine, mm};
use super::{File, PackageFault};
use crate::finish::Built;
use crate::made::Made;
use crate::order::{Step, words};
use serde::Serialize;

/// One step in assembly.json.
#[derive(Serialize)]
pub struct StepEntry<'a> {
    holder: &'a str,
    /// Counted from 1 in its holder.
    number: usize,
    /// Parts that move, as one.
    moved: Vec<String>,
    /// Parts that they are pushed onto, which hold together already.
    onto: Vec<String>,
    /// The way of the push in the holder's frame.
    direction: [f64; 3],
    /// How far: from clear of one another to home.
    travel_mm: f64,
    /// Over how much of its end the joints guide it.
    guided_mm: f64,
    /// Joints that close.
    joints: Vec<String>,
    text: String,
}

/// One pull of a thing in assembly.json.
#[derive(Serialize)]
pub struct PullEntry {
    direction: [f64; 3],
    travel_mm: f64,
}

/// The pulls by which the thing of a berth comes out.
pub fn pulls(made: &Made, holder: usize, berth: usize) -> Vec<PullEntry> {
    let found = made.ways.get(holder).and_then(|h| h.get(berth)).map_or(&[][..], Vec::as_slice);
    found.iter().map(|p| PullEntry { direction: p.way.to_array().map(fine), travel_mm: mm(p.travel_mm) }).collect()
}

/// All steps of all holders.
pub fn entries(made: &Made) -> Vec<StepEntry<'_>> {
    let (mut all, mut joints_before) = (vec![], 0);
    for (built, steps) in made.holders.iter().zip(&made.orders) {
        all.extend(steps.iter().enumerate().map(|(i, s)| entry(built, i, s, joints_before)));
        joints_before += built.assembly.meetings.len();
    }
    all
}

fn entry<'a>(built: &'a Built, index: usize, step: &Step, joints_before: usize) -> StepEntry<'a> {
    let codes = |of: &[usize]| of.iter().map(|p| built.part_code(*p)).collect();
    StepEntry {
        holder: &built.letter,
        number: index + 1,
        moved: codes(&step.moved),
        onto: codes(&step.onto),
        direction: step.way.to_array().map(fine),
        travel_mm: mm(step.travel_mm),
        guided_mm: mm(step.guided_mm),
        joints: step.meetings.iter().map(|m| format!("J{}", joints_before + m + 1)).collect(),
        text: words::step(built, step),
    }
}

/// One file.
pub fn write(made: &Made) -> Result<Vec<File>, PackageFault> {
    let mut text = String::from(
        "ORDER OF ASSEMBLY\n\n\
         Each step is one straight push. Put everything together dry first, in this order; letters on the parts\n\
         name the joints. Front is toward you, left and right as you see them from there.\n",
    );
    for ((built, steps), ways) in made.holders.iter().zip(&made.orders).zip(&made.ways) {
        text.push_str(&format!("\nHolder {} ({})\n", built.letter, built.family));
        for (i, step) in steps.iter().enumerate() {
            text.push_str(&format!("{:3}. {}\n", i + 1, words::step(built, step)));
        }
        if steps.is_empty() {
            text.push_str("  One part: nothing to put together.\n");
        }
        for line in words::things_out(&made.job, built, ways) {
            text.push_str(&format!("     {line}\n"));
        }
    }
    Ok(vec![("order.txt".to_owned(), text.into_bytes())])
}
