//! Takes a holder apart by straight pulls: read backwards, that is how it goes together.
//!
//! For each way a part or group may be pulled there is a graph: who is barred by whom. What is mutually
//! barred, directly or round a ring, moves as one; a group that nobody outside it bars can be pulled out
//! (Wilson and Latombe, «Geometric reasoning about mechanical assembly», Artificial Intelligence 71
//! (1994) 371; from memory). Whatever can be pulled out of a set can also be pulled out of each of its
//! subsets, so the first pull that is found never has to be taken back, and a set in which there is none
//! has no order at all.

use super::bars::Bars;
use super::rings::{components, leading_nowhere};
use crate::assembly::{Assembly, Role};
use crate::geom::DVec3;

/// One pull.
#[derive(Clone, Debug, PartialEq)]
pub struct Pull {
    /// The parts that are pulled, as one.
    pub moved: Vec<usize>,
    /// The parts that they are pulled out of.
    pub rest: Vec<usize>,
    /// Which way, as a unit vector.
    pub way: DVec3,
}

/// All pulls, first to last, and the sets in which there is none.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Parting {
    /// What could be taken apart.
    pub pulls: Vec<Pull>,
    /// Sets of two or more parts that hold one another.
    pub stuck: Vec<Vec<usize>>,
    /// The search was stopped; nothing can be said.
    pub stopped: bool,
}

/// Takes parts apart as far as that goes.
pub fn take_apart(assembly: &Assembly, bars: &mut Bars, whole: Vec<usize>, stop: &dyn Fn() -> bool) -> Parting {
    let ways = ways(&bars.lines);
    let mut seen = vec![vec![0; ways.len()]; assembly.panels.len()];
    let mut found = Parting::default();
    let mut sets = vec![whole];
    while let Some(mut set) = sets.pop() {
        let mut search = Search { assembly, ways: &ways, seen: &mut seen, within: members(assembly, &set) };
        while set.len() > 1 {
            if stop() {
                found.stopped = true;
                return found;
            }
            let single = search.single(bars, &set);
            let Some((moved, way)) = single.or_else(|| search.group(bars, &set)) else {
                found.stuck.push(std::mem::take(&mut set));
                break;
            };
            set.retain(|p| !moved.contains(p));
            for p in &moved {
                search.within[*p] = false;
            }
            let way = search.ways[way];
            found.pulls.push(Pull { moved: moved.clone(), rest: set.clone(), way: way.along(bars) });
            if moved.len() > 1 {
                sets.push(moved);
            }
        }
    }
    found
}

/// One way along a line.
#[derive(Clone, Copy, Debug)]
struct Way {
    line: usize,
    onward: bool,
}

impl Way {
    fn along(self, bars: &Bars) -> DVec3 {
        // − 0 helps nobody
        (if self.onward { bars.lines[self.line] } else { -bars.lines[self.line] }) + DVec3::ZERO
    }
}

/// Both ways along each line, the handiest first: what is lifted off is set in from above, then what
/// slides level; what would have to come from below is last.
fn ways(lines: &[DVec3]) -> Vec<Way> {
    let mut all: Vec<(usize, Way)> = vec![];
    for (line, d) in lines.iter().enumerate() {
        for onward in [true, false] {
            let z = if onward { d.z } else { -d.z };
            let square = d.abs().max_element() > 1.0 - 1e-9;
            let handy = match (square, z) {
                (true, z) if z > 0.5 => 0,
                (true, z) if z > -0.5 => 1,
                (false, z) if z > -1e-9 => 2,
                (false, _) => 3,
                (true, _) => 4,
            };
            all.push((handy, Way { line, onward }));
        }
    }
    all.sort_by_key(|(handy, _)| *handy);
    all.into_iter().map(|(_, way)| way).collect()
}

fn members(assembly: &Assembly, set: &[usize]) -> Vec<bool> {
    let mut within = vec![false; assembly.panels.len()];
    for p in set {
        within[*p] = true;
    }
    within
}

/// What stands inside comes out first, then walls; the floor stays on the bench.
fn turn(role: Role) -> usize {
    match role {
        Role::Divider => 0,
        Role::Deck => 1,
        Role::Plate => 2,
        Role::Ramp => 3,
        Role::Ledge => 4,
        Role::Wall => 5,
        Role::Floor => 6,
    }
}

struct Search<'s, 'a> {
    assembly: &'a Assembly,
    ways: &'s [Way],
    /// For each part and way: no part below this number, of the set, bars it.
    seen: &'s mut Vec<Vec<usize>>,
    within: Vec<bool>,
}

impl Search<'_, '_> {
    /// One part that can be pulled out; by choice one without which the rest still holds together.
    fn single(&mut self, bars: &mut Bars, set: &[usize]) -> Option<(Vec<usize>, usize)> {
        let mut order = set.to_vec();
        // of like parts the last named goes first, so that they go together in the order of their names
        order.sort_by_key(|p| (turn(self.assembly.panels[*p].role), std::cmp::Reverse(*p)));
        let mut loose = None;
        for part in order {
            let Some(way) = (0..self.ways.len()).find(|w| self.free(bars, part, *w)) else { continue };
            if self.holds_without(bars, set, part) {
                return Some((vec![part], way));
            }
            loose = loose.or(Some((vec![part], way)));
        }
        loose
    }

    /// Whether no part of the set bars this one's way. A set only ever shrinks, so what was passed once
    /// need not be asked again.
    fn free(&mut self, bars: &mut Bars, part: usize, way: usize) -> bool {
        let Way { line, onward } = self.ways[way];
        let n = self.within.len();
        let mut at = self.seen[part][way];
        while at < n && (at == part || !self.within[at] || !bars.bars(line, onward, part, at)) {
            at += 1;
        }
        self.seen[part][way] = at;
        at == n
    }

    /// Whether the set without a part is still in one piece, joint by joint.
    fn holds_without(&self, bars: &Bars, set: &[usize], part: usize) -> bool {
        let rest: Vec<usize> = set.iter().copied().filter(|p| *p != part).collect();
        let mut reached = vec![false; rest.len()];
        let mut todo = vec![0];
        reached[0] = true;
        while let Some(i) = todo.pop() {
            for j in 0..rest.len() {
                if !reached[j] && bars.meeting(rest[i], rest[j]).is_some() {
                    reached[j] = true;
                    todo.push(j);
                }
            }
        }
        reached.iter().all(|r| *r)
    }

    /// The smallest group that can be pulled out as one.
    fn group(&mut self, bars: &mut Bars, set: &[usize]) -> Option<(Vec<usize>, usize)> {
        let mut best: Option<(Vec<usize>, usize)> = None;
        for (w, way) in self.ways.iter().enumerate() {
            let barred =
                |bars: &mut Bars, i: usize, j: usize| i != j && bars.bars(way.line, way.onward, set[i], set[j]);
            let graph: Vec<Vec<usize>> =
                (0..set.len()).map(|i| (0..set.len()).filter(|j| barred(bars, i, *j)).collect()).collect();
            let groups = components(&graph);
            if groups.len() < 2 {
                continue;
            }
            for group in leading_nowhere(&graph, &groups) {
                let smaller = best.as_ref().is_none_or(|(b, _)| group.len() < b.len());
                if smaller && group.len() < set.len() {
                    best = Some((group.iter().map(|i| set[*i]).collect(), w));
                }
            }
        }
        best
    }
}
