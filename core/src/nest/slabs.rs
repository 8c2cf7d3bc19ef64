//! Horizontal slabs: a shape as a stack of levels, each with the stretches of x that it takes.

use super::block::Block;

/// A stretch of x without its ends.
pub type Span = (i32, i32);

/// One level of a stack.
#[derive(Clone, Debug, PartialEq)]
pub struct Slab {
    /// Lower edge.
    pub y0: i32,
    /// Upper edge.
    pub y1: i32,
    /// Stretches that are taken, from left to right, apart from each other or touching.
    pub spans: Vec<Span>,
    /// Area that was there before slabs were joined, square units.
    pub honest: i64,
}

impl Slab {
    /// A slab that wastes nothing yet.
    pub fn new(y0: i32, y1: i32, spans: Vec<Span>) -> Self {
        let honest = length(&spans) * i64::from(y1 - y0);
        Self { y0, y1, spans, honest }
    }
}

/// Total length of the stretches.
pub fn length(spans: &[Span]) -> i64 {
    spans.iter().map(|&(a, z)| i64::from(z - a)).sum()
}

/// Joins stretches that overlap, and those with less than `gap` between them; sorts them first.
/// With `gap` 0 stretches that merely touch stay apart: their common end is free.
pub fn join(mut spans: Vec<Span>, gap: i32) -> Vec<Span> {
    spans.sort_unstable();
    let mut out: Vec<Span> = vec![];
    for s in spans {
        match out.last_mut() {
            Some(last) if s.0 < last.1.saturating_add(gap) => last.1 = last.1.max(s.1),
            _ => out.push(s),
        }
    }
    out
}

/// What lies in both.
pub fn common(a: &[Span], b: &[Span]) -> Vec<Span> {
    let mut out = vec![];
    let (mut i, mut j) = (0, 0);
    while let (Some(&s), Some(&t)) = (a.get(i), b.get(j)) {
        let both = (s.0.max(t.0), s.1.min(t.1));
        if both.0 < both.1 {
            out.push(both);
        }
        if s.1 < t.1 {
            i += 1;
        } else {
            j += 1;
        }
    }
    out
}

/// What lies in `a` but not in `b`.
pub fn without(a: &[Span], b: &[Span]) -> Vec<Span> {
    let mut out = vec![];
    for &(mut from, to) in a {
        for &(b0, b1) in b {
            if b1 <= from || b0 >= to {
                continue;
            }
            if b0 > from {
                out.push((from, b0));
            }
            from = from.max(b1);
        }
        if from < to {
            out.push((from, to));
        }
    }
    out
}

/// Fills what is lower than `gap` between two slabs of the stack that both reach over it.
pub fn close_upwards(stack: &mut [Slab], gap: i32) {
    for a in 0..stack.len() {
        let Some(next) = stack.get(a + 1) else { break };
        let mut ends_here = without(&stack[a].spans, &next.spans);
        let mut b = a + 2;
        while b < stack.len() && !ends_here.is_empty() && stack[b].y0 - stack[a].y1 < gap {
            let bridged = common(&ends_here, &stack[b].spans);
            if !bridged.is_empty() {
                ends_here = without(&ends_here, &bridged);
                for s in &mut stack[a + 1..b] {
                    s.spans.extend(&bridged);
                    s.spans = join(std::mem::take(&mut s.spans), 1);
                }
            }
            b += 1;
        }
    }
}

/// Joins neighbouring slabs while no joined slab covers more than `waste` square units that its slabs did
/// not cover, cheapest first.
pub fn simplify(mut stack: Vec<Slab>, waste: i64) -> Vec<Slab> {
    let mut allowed = (waste >> 8).max(1);
    while allowed < waste {
        stack = pass(stack, allowed);
        allowed *= 4;
    }
    pass(stack, waste)
}

fn pass(stack: Vec<Slab>, allowed: i64) -> Vec<Slab> {
    let mut out: Vec<Slab> = Vec::with_capacity(stack.len());
    for s in stack {
        let joined = out.last().filter(|last| last.y1 == s.y0).and_then(|last| joined(last, &s, allowed));
        match (joined, out.last_mut()) {
            (Some(j), Some(last)) => *last = j,
            _ => out.push(s),
        }
    }
    out
}

fn joined(a: &Slab, b: &Slab, allowed: i64) -> Option<Slab> {
    if a.spans == b.spans {
        return Some(Slab { y0: a.y0, y1: b.y1, spans: a.spans.clone(), honest: a.honest + b.honest });
    }
    let height = i64::from(b.y1 - a.y0);
    let honest = a.honest + b.honest;
    // the union is at least as long as the longer of the two: most pairs are refused here
    if length(&a.spans).max(length(&b.spans)) * height - honest > allowed {
        return None;
    }
    let spans = join(a.spans.iter().chain(&b.spans).copied().collect(), 0);
    (length(&spans) * height - honest <= allowed).then_some(Slab { y0: a.y0, y1: b.y1, spans, honest })
}

/// The stack as boxes.
pub fn boxes(stack: &[Slab]) -> Vec<Block> {
    let of = |s: &Slab| s.spans.iter().map(|&(x0, x1)| Block { x0, x1, y0: s.y0, y1: s.y1 }).collect::<Vec<_>>();
    stack.iter().flat_map(of).collect()
}

/// The union of boxes as a stack. Levels nearer than `least` to the one below are left out where that
/// only makes slabs larger; `simplify` comes after.
pub fn stack_of(boxes: &mut [Block], least: i32) -> Vec<Slab> {
    boxes.sort_unstable();
    let mut levels: Vec<i32> = boxes.iter().flat_map(|b| [b.y0, b.y1]).collect();
    levels.sort_unstable();
    let last = levels.last().copied();
    let mut kept = i32::MIN;
    levels.retain(|&l| {
        let keep = kept == i32::MIN || l - kept >= least || Some(l) == last && l > kept;
        kept = if keep { l } else { kept };
        keep
    });
    let mut active: Vec<Block> = vec![];
    let mut next = 0;
    let mut out: Vec<Slab> = vec![];
    for pair in levels.windows(2) {
        let (y0, y1) = (pair[0], pair[1]);
        active.retain(|b| b.y1 > y0);
        while let Some(b) = boxes.get(next).filter(|b| b.y0 < y1) {
            active.push(*b);
            next += 1;
        }
        active.sort_unstable_by_key(|b| b.x0);
        let mut spans: Vec<Span> = vec![];
        for b in &active {
            match spans.last_mut() {
                Some(last) if b.x0 < last.1 => last.1 = last.1.max(b.x1),
                _ => spans.push((b.x0, b.x1)),
            }
        }
        match out.last_mut() {
            Some(last) if last.y1 == y0 && last.spans == spans => {
                last.y1 = y1;
                last.honest += length(&spans) * i64::from(y1 - y0);
            }
            _ if spans.is_empty() => {}
            _ => out.push(Slab::new(y0, y1, spans)),
        }
    }
    out
}
