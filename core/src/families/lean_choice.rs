//! Which lean: from the liquid below, the height above, and the middle between.

use super::rows::body_mm;
use super::{Context, Wanted};
use crate::finding::{Finding, Verdict};
use crate::things::{LeanWindow, Solid};
use crate::units::tidy;

/// What a lean must respect besides liquid and height.
pub struct Bounds<'a> {
    /// Clear height over the floor, clearances taken off.
    pub clear_mm: f64,
    /// The tip stays this far above the liquid.
    pub tip_margin_mm: f64,
    /// How high over the floor the boards of a thing reach at a lean; `None` where they have no place.
    pub boards_top: &'a dyn Fn(usize, f64) -> Option<f64>,
    /// Where a caller would change the clear height, and by how much more than the height itself.
    pub height_at: (String, f64),
}

/// Flatter than this nothing leans: it slides forward on its own (common practice, no source).
pub const FLATTEST_DEG: f64 = 10.0;
/// Steeper than this it stands: a deck with upright holes is the simpler holder.
pub const STEEPEST_DEG: f64 = 80.0;
/// A narrower window leaves no room for a wrong measure (common practice, no source).
const NARROW_DEG: f64 = 4.0;
/// A round number is taken when it is at least this far from both ends of the window …
const FROM_ENDS_DEG: f64 = 2.0;
/// … and of these the one nearest to the middle: angles that people can set out again.
const ROUND_DEG: f64 = 5.0;
/// Steps in which leans are tried for the boards.
const STEP_DEG: f64 = 0.5;

/// Stretches of leans, in order.
type Leans = Vec<(f64, f64)>;

/// One thing's window.
struct Window {
    whole: LeanWindow,
    boards_min: Option<f64>,
    usable: Leans,
}

fn window(cx: &Context, k: usize, b: &Bounds) -> Window {
    let thing = cx.things[k].thing;
    let whole = thing.solid().lean_window(thing.liquid(), b.tip_margin_mm, b.clear_mm);
    let steps = ((STEEPEST_DEG - FLATTEST_DEG) / STEP_DEG) as usize;
    let leans = || (0..=steps).map(|i| FLATTEST_DEG + i as f64 * STEP_DEG);
    let boards_min = leans().find(|lean| (b.boards_top)(k, *lean).is_some());
    let mut boards: Leans = vec![];
    for lean in leans().filter(|lean| (b.boards_top)(k, *lean).is_some_and(|top| top <= b.clear_mm)) {
        match boards.last_mut() {
            Some(run) if lean - run.1 < STEP_DEG * 1.5 => run.1 = lean,
            _ => boards.push((lean, lean)),
        }
    }
    let usable = common(&whole.open_deg, &boards);
    Window { whole, boards_min, usable }
}

/// What two lists of stretches share.
fn common(a: &[(f64, f64)], b: &[(f64, f64)]) -> Leans {
    let pairs = a.iter().flat_map(|p| b.iter().map(move |q| (p.0.max(q.0), p.1.min(q.1))));
    pairs.filter(|w| w.1 >= w.0).collect()
}

fn widest(leans: &[(f64, f64)]) -> Option<(f64, f64)> {
    // the flatter one of two that are as wide
    leans.iter().copied().reduce(|best, w| if w.1 - w.0 > best.1 - best.0 { w } else { best })
}

/// The lean of each thing: as given, or from the window; one for all unless `own`. Findings say what
/// is wrong; `None` when a thing has no lean.
pub fn leans(cx: &Context, given: Option<f64>, own: bool, b: &Bounds, out: &mut Vec<Finding>) -> Option<Vec<f64>> {
    let windows: Vec<Window> = (0..cx.things.len()).map(|k| window(cx, k, b)).collect();
    if let Some(lean) = given {
        let outside: Vec<Finding> = windows
            .iter()
            .enumerate()
            .filter(|(_, w)| !w.usable.iter().any(|u| u.0 <= lean && lean <= u.1))
            .map(|(k, w)| outside(cx, k, lean, w))
            .collect();
        let good = outside.is_empty();
        out.extend(outside);
        return good.then(|| vec![lean; windows.len()]);
    }
    let empty: Vec<Finding> =
        windows.iter().enumerate().filter(|(_, w)| w.usable.is_empty()).map(|(k, w)| is_empty(cx, k, w, b)).collect();
    if !empty.is_empty() {
        out.extend(empty);
        return None;
    }
    if own {
        return Some(windows.iter().map(|w| chosen(cx, &w.usable, &w.whole.open_deg, out)).collect());
    }
    let all = |of: &dyn Fn(&Window) -> Leans| windows.iter().map(of).reduce(|a, b| common(&a, &b)).unwrap_or_default();
    let shared = all(&|w| w.usable.clone());
    if shared.is_empty() {
        out.push(no_common(cx, &windows));
        return None;
    }
    let lean = chosen(cx, &shared, &all(&|w| w.whole.open_deg.clone()), out);
    Some(vec![lean; windows.len()])
}

/// The round number nearest to the middle of the window, if it is well inside; else the middle. The
/// middle is that between liquid and height; the least usable lean only bounds it.
fn chosen(cx: &Context, usable: &[(f64, f64)], whole: &[(f64, f64)], out: &mut Vec<Finding>) -> f64 {
    let Some((lo, hi)) = widest(usable) else { return FLATTEST_DEG };
    if hi - lo < NARROW_DEG {
        out.push(
            Finding::new("lean-window-narrow", Verdict::Warn, cx.at)
                .have("window_deg", hi - lo)
                .need("window_deg", NARROW_DEG)
                .why(format!(
                    "Only leans from {} to {}° do, {} less than the {NARROW_DEG}° that measures need: \
                     a deeper space is the safer place.",
                    tidy(lo),
                    tidy(hi),
                    tidy(NARROW_DEG - (hi - lo))
                )),
        );
    }
    let around = whole.iter().find(|w| w.0 <= lo && hi <= w.1).copied().unwrap_or((lo, hi));
    let middle = ((around.0 + around.1.min(STEEPEST_DEG)) / 2.0).clamp(lo, hi);
    let round = (middle / ROUND_DEG).round() * ROUND_DEG;
    if round - lo >= FROM_ENDS_DEG && hi - round >= FROM_ENDS_DEG { round } else { (lo + hi) / 2.0 }
}

fn outside(cx: &Context, k: usize, lean: f64, w: &Window) -> Finding {
    let thing = &cx.things[k];
    let at = format!("{}/lean_deg", cx.at);
    let f = Finding::new("lean-outside-window", Verdict::Refuse, &at).have("lean_deg", lean);
    match w.usable.iter().copied().min_by(|p, q| off(lean, *p).total_cmp(&off(lean, *q))) {
        None => f.need("lean_deg", "a window").why(format!(
            "\"{}\" goes at no lean at all here: leave lean_deg out to see what is missing.",
            thing.thing.id()
        )),
        Some((lo, hi)) => f
            .need("lean_min_deg", lo)
            .need("lean_max_deg", hi)
            .why(format!(
                "\"{}\" goes here at leans from {} to {}°; {}° is off by {}°.",
                thing.thing.id(),
                tidy(lo),
                tidy(hi),
                tidy(lean),
                tidy(off(lean, (lo, hi)))
            ))
            .cure(format!("Lean it {}°.", tidy((lo + hi) / 2.0)), at, (lo + hi) / 2.0),
    }
}

/// How far a lean is outside a stretch.
fn off(lean: f64, (lo, hi): (f64, f64)) -> f64 {
    (lo - lean).max(lean - hi).max(0.0)
}

/// No lean does for a thing: the liquid wants it steeper than the height allows.
fn is_empty(cx: &Context, k: usize, window: &Window, b: &Bounds) -> Finding {
    let w = &cx.things[k];
    let (solid, id): (&Solid, &str) = (w.thing.solid(), w.thing.id());
    let f = Finding::new("lean-window-empty", Verdict::Refuse, format!("/things/{}", w.index));
    let Some(boards) = window.boards_min else {
        return f
            .have("body_mm", body_mm(solid))
            .need("body_mm", solid.max_radius() * 2.0)
            .why(format!("The body of \"{id}\" is too short to lean in a board: let it stand, or lie."));
    };
    let Some(liquid) = window.whole.liquid_min_deg else {
        return f
            .have("tip_margin_mm", w.thing.liquid().map_or(0.0, |v| v.worst_margin_mm(90.0)))
            .need("tip_margin_mm", b.tip_margin_mm)
            .why(format!("The tip of \"{id}\" is not {} mm above its liquid even when it stands.", b.tip_margin_mm))
            .cure_with("Put it away capped.", capped(w));
    };
    // the flattest lean that liquid and boards allow, and what it takes there
    let least = liquid.max(boards);
    let takes = |lean: f64| solid.height_when_leaning(lean).max((b.boards_top)(k, lean).unwrap_or(0.0));
    let missing = takes(least) - b.clear_mm;
    let mut f = f.have("clear_height_mm", b.clear_mm);
    if let Some(most) = window.whole.height_max_deg {
        f = f.have("lean_max_deg", most);
    }
    let (path, more) = &b.height_at;
    // a window needs some width: room for one step more
    let deeper = (takes(least + ROUND_DEG) + more).ceil();
    let f = f.need("lean_min_deg", least).need("clear_height_mm", takes(least)).why(format!(
        "\"{id}\" must lean at least {}. There it takes {} mm with what holds it: {} mm of height are missing.",
        deg(least),
        tidy(takes(least)),
        tidy(missing)
    ));
    let f = f.cure(format!("Give it {} mm more height.", tidy(deeper - b.clear_mm - more)), path.clone(), deeper);
    if w.thing.can_drip() { f.cure_with("Put it away capped.", capped(w)) } else { f }
}

fn deg(v: f64) -> String {
    format!("{v:.1}°")
}

fn capped(w: &Wanted) -> Vec<crate::finding::PatchOp> {
    vec![crate::finding::PatchOp {
        op: "add",
        path: format!("/things/{}/shape/capped", w.index),
        value: Some(true.into()),
    }]
}

fn no_common(cx: &Context, windows: &[Window]) -> Finding {
    let lowest = windows.iter().filter_map(|w| w.usable.last()).map(|w| w.1).fold(f64::INFINITY, f64::min);
    let highest = windows.iter().filter_map(|w| w.usable.first()).map(|w| w.0).fold(0.0, f64::max);
    Finding::new("leans-differ", Verdict::Refuse, cx.at)
        .have("lean_max_deg", lowest)
        .need("lean_min_deg", highest)
        .why(format!(
            "No one lean does for all: one thing goes up to {}, another from {} on, {} apart.",
            deg(lowest),
            deg(highest),
            deg(highest - lowest)
        ))
        .cure_with(
            "Give each row its own lean.",
            vec![crate::finding::PatchOp {
                op: "add",
                path: format!("{}/lean_per_row", cx.at),
                value: Some(true.into()),
            }],
        )
}
