//! Steps and ways in words for people.

use super::{Pull, Step};
use crate::finish::Built;
use crate::geom::DVec3;
use crate::job::Job;

/// A way that is nearer to level or plumb than this counts as such, degrees: nobody feels less.
const FEELS_SQUARE_DEG: f64 = 0.05;

/// Which way, in words: `straight down`, `to the right`, `down and to the back, 60° below level`.
#[must_use]
pub fn way(d: DVec3) -> String {
    let level = libm::hypot(d.x, d.y);
    let rise = libm::atan2(d.z, level).to_degrees();
    if rise.abs() > 90.0 - FEELS_SQUARE_DEG {
        return if rise > 0.0 { "straight up" } else { "straight down" }.to_owned();
    }
    let side = sideways(d);
    if rise.abs() < FEELS_SQUARE_DEG {
        return side;
    }
    let (word, beyond) = if rise > 0.0 { ("up", "above") } else { ("down", "below") };
    format!("{word} and {side}, {:.0}° {beyond} level", rise.abs())
}

/// The level part of a way.
fn sideways(d: DVec3) -> String {
    let across = if d.x > 0.0 { "to the right" } else { "to the left" };
    let along = if d.y > 0.0 { "to the back" } else { "to the front" };
    // seen from above, from the way across
    let off = libm::atan2(d.y.abs(), d.x.abs()).to_degrees();
    match off {
        off if off < FEELS_SQUARE_DEG => across.to_owned(),
        off if off > 90.0 - FEELS_SQUARE_DEG => along.to_owned(),
        off if off <= 45.0 => format!("{across}, {off:.0}° {along}"),
        off => format!("{along}, {:.0}° {across}", 90.0 - off),
    }
}

/// A list of words with commas and an `and`.
#[must_use]
pub fn list(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} and {last}", first.join(", ")),
    }
}

/// A part's code and name.
#[must_use]
pub fn part(built: &Built, panel: usize) -> String {
    let name = built.assembly.panels.get(panel).map_or("", |p| p.name.as_str());
    format!("{} \"{name}\"", built.part_code(panel))
}

/// One step in a sentence or two.
#[must_use]
pub fn step(built: &Built, step: &Step) -> String {
    let names = |of: &[usize]| list(&of.iter().map(|p| part(built, *p)).collect::<Vec<_>>());
    let meets = |p: &usize| {
        step.meetings.iter().any(|m| {
            let m = &built.assembly.meetings[*m];
            m.a.0 == *p || m.b.0 == *p
        })
    };
    let partners: Vec<usize> = step.onto.iter().copied().filter(meets).collect();
    let onto = if partners.is_empty() { &step.onto } else { &partners };
    let moved = match step.moved.as_slice() {
        [one] => part(built, *one),
        many => format!("{}, already joined, as one", names(many)),
    };
    let joints: Vec<String> = step.meetings.iter().map(|m| Built::joint_letters(*m)).collect();
    let closing = match joints.len() {
        0 => "It rests there without a joint.".to_owned(),
        1 => format!("Joint {} closes over the last {:.1} mm.", joints[0], step.guided_mm),
        _ => format!("Joints {} close over the last {:.1} mm.", list(&joints), step.guided_mm),
    };
    format!("Push {moved} {} onto {}. {closing}", way(step.way), names(onto))
}

/// How the things of a holder come out, like ones together: one line for each way of each thing.
#[must_use]
pub fn things_out(job: &Job, built: &Built, ways: &[Vec<Pull>]) -> Vec<String> {
    let mut lines: Vec<(usize, String, usize)> = vec![];
    for (berth, pulls) in built.assembly.berths.iter().zip(ways) {
        let text = pulls_out(pulls);
        match lines.iter_mut().find(|l| l.0 == berth.thing && l.1 == text) {
            Some(line) => line.2 += 1,
            None => lines.push((berth.thing, text, 1)),
        }
    }
    let name = |thing: usize| job.things.get(thing).map_or("", crate::things::Thing::id);
    lines.iter().map(|(thing, text, count)| format!("{count} × \"{}\": {text}", name(*thing))).collect()
}

/// One or two pulls in words.
#[must_use]
pub fn pulls_out(pulls: &[Pull]) -> String {
    match pulls {
        [] => "comes out only after another thing has been taken out of its way.".to_owned(),
        [one] => format!("comes out {}.", way(one.way)),
        [first, .., last] => {
            format!("comes out {} by {:.0} mm, then {}.", way(first.way), first.travel_mm, way(last.way))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ways_in_words() {
        let (s, c) = libm::sincos(60.0_f64.to_radians());
        for (d, want) in [
            (-DVec3::Z, "straight down"),
            (DVec3::X, "to the right"),
            (-DVec3::Y, "to the front"),
            (DVec3::new(0.0, c, -s), "down and to the back, 60° below level"),
            (DVec3::new(c, s, 0.0), "to the back, 30° to the right"),
            (DVec3::new(-s, -c, 0.0), "to the left, 30° to the front"),
        ] {
            assert_eq!(way(d), want);
        }
    }
}
