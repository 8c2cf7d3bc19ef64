//! Rows: which things stand side by side between two walls, and how far apart.

use super::Context;
use crate::finding::{Finding, Verdict};
use crate::things::{Solid, Thing};
use crate::units::Readings;

/// A thing that wants a place in a row; widths are measured along the row, in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Item {
    /// Which of the context's things.
    pub which: usize,
    /// Across the opening that it stands in.
    pub opening_mm: f64,
    /// Across the thing where it is widest.
    pub widest_mm: f64,
    /// Across the thing where the hand takes it.
    pub grip_mm: f64,
    /// Gap that fingers need beside the grip; 0 where they reach it from elsewhere.
    pub finger_mm: f64,
}

/// What holds for every row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rule {
    /// Clear width between the walls.
    pub inside_mm: f64,
    /// Least material between two openings, and between an opening and a wall.
    pub web_mm: f64,
    /// No more than this many side by side, whatever the room.
    pub columns: Option<usize>,
    /// Whether different things may share a row.
    pub mixed: bool,
}

/// Two things, or a thing and a wall, that stand nearer than this rub when one is lifted, mm (the
/// usual side clearance of a drawer; common practice, no source).
pub const CLEAR_MM: f64 = 1.0;

/// From centre to centre of neighbours: webs, bodies and fingers each ask for their own.
#[must_use]
pub fn pitch_mm(a: &Item, b: &Item, web_mm: f64) -> f64 {
    let half = |p: f64, q: f64| (p + q) / 2.0;
    (half(a.opening_mm, b.opening_mm) + web_mm)
        .max(half(a.widest_mm, b.widest_mm) + CLEAR_MM)
        .max(half(a.grip_mm, b.grip_mm) + a.finger_mm.max(b.finger_mm))
}

/// From a wall to the centre of the nearest thing.
#[must_use]
pub fn end_mm(item: &Item, web_mm: f64) -> f64 {
    (item.opening_mm / 2.0 + web_mm).max(item.widest_mm / 2.0 + CLEAR_MM)
}

/// Clear width that a row needs between its walls.
#[must_use]
pub fn width_mm(row: &[Item], web_mm: f64) -> f64 {
    let ends = row.first().map_or(0.0, |i| end_mm(i, web_mm)) + row.last().map_or(0.0, |i| end_mm(i, web_mm));
    ends + row.windows(2).map(|w| pitch_mm(&w[0], &w[1], web_mm)).sum::<f64>()
}

/// Centres from the left wall: what is left over is shared by all gaps.
#[must_use]
pub fn centres_mm(row: &[Item], rule: &Rule) -> Vec<f64> {
    let Some(first) = row.first() else { return vec![] };
    let more = (rule.inside_mm - width_mm(row, rule.web_mm)).max(0.0) / (row.len() + 1) as f64;
    let mut at = end_mm(first, rule.web_mm) + more;
    let mut all = vec![at];
    for w in row.windows(2) {
        at += pitch_mm(&w[0], &w[1], rule.web_mm) + more;
        all.push(at);
    }
    all
}

/// How many of one kind stand side by side: floor((inside − web)/(opening + web)) where the webs
/// rule, and 1 + floor((inside − 2·end)/pitch) in general.
#[must_use]
pub fn side_by_side(item: &Item, rule: &Rule) -> usize {
    let rest = rule.inside_mm - 2.0 * end_mm(item, rule.web_mm);
    if rest < -ROUNDING_MM {
        return 0;
    }
    let most = 1 + ((rest + ROUNDING_MM) / pitch_mm(item, item, rule.web_mm)).floor() as usize;
    most.min(rule.columns.unwrap_or(usize::MAX))
}

/// Sums of many pitches are off by less than this, mm; it decides nothing on the bench.
const ROUNDING_MM: f64 = 1e-6;

/// Divides things into rows, in the order given: as few rows as possible, equal things in rows of
/// equal length. The error is the first thing that is wider than a row.
///
/// # Errors
/// Which of `wants` is too wide for a row of its own.
pub fn pack(wants: &[(Item, usize)], rule: &Rule) -> Result<Vec<Vec<Item>>, usize> {
    if let Some(wide) = wants.iter().position(|(item, _)| side_by_side(item, rule) == 0) {
        return Err(wide);
    }
    if rule.mixed {
        return Ok(packed_mixed(wants, rule));
    }
    let mut rows = vec![];
    for (item, count) in wants {
        let n = count.div_ceil(side_by_side(item, rule)).max(1);
        // the first rows take what does not divide evenly
        rows.extend((0..n).map(|r| vec![*item; count / n + usize::from(r < count % n)]));
    }
    rows.retain(|r| !r.is_empty());
    Ok(rows)
}

fn packed_mixed(wants: &[(Item, usize)], rule: &Rule) -> Vec<Vec<Item>> {
    let mut rows: Vec<Vec<Item>> = vec![];
    let mut row: Vec<Item> = vec![];
    for item in wants.iter().flat_map(|(item, count)| std::iter::repeat_n(*item, *count)) {
        row.push(item);
        let full = rule.columns.is_some_and(|c| row.len() > c);
        if full || width_mm(&row, rule.web_mm) > rule.inside_mm + ROUNDING_MM {
            row.pop();
            rows.push(std::mem::replace(&mut row, vec![item]));
        }
    }
    rows.push(row);
    rows.retain(|r| !r.is_empty());
    rows
}

/// Web between openings in a sheet: 2 t and at least 5 (common practice, no source).
#[must_use]
pub fn usual_web_mm(t: f64) -> f64 {
    (WEB_PER_THICKNESS * t).max(LEAST_WEB_MM)
}

/// See [`usual_web_mm`].
pub const WEB_PER_THICKNESS: f64 = 2.0;
/// See [`usual_web_mm`].
const LEAST_WEB_MM: f64 = 5.0;

/// The thickness for which sizes are planned: the thickest that sheets of this label usually are, so
/// that another reading changes no outer size, and every web is wide enough for the true sheet.
#[must_use]
pub fn planned_t_mm(cx: &Context, stock: usize) -> f64 {
    cx.stocks[stock].planned_mm
}

/// The longer and the shorter side of the largest part that a sheet of a stock holds.
#[must_use]
pub fn part_sides_mm(cx: &Context, stock: usize) -> [f64; 2] {
    let s = &cx.stocks[stock];
    let [w, h] = s.usable_mm().map(|side| side - s.drawn_kerf_mm);
    [w.max(h), w.min(h)]
}

/// Clearance on the diameter of a rigid thing that is always the same (common practice, no source).
const RIGID_CLEARANCE_MM: f64 = 1.0;
/// The same for a squeezable body, or one of several brands (common practice, no source).
const SOFT_CLEARANCE_MM: f64 = 1.5;
/// Diameters that spread by more than this are those of several brands, mm.
const BRANDS_MM: f64 = 0.5;

/// The usual clearance of a thing.
#[must_use]
pub fn usual_clearance_mm(thing: &Thing) -> f64 {
    let soft = matches!(thing.kind(), "bottle" | "tube");
    let brands = thing.diameters().is_some_and(|d| d.largest_mm - d.smallest_mm > BRANDS_MM);
    if soft || brands { SOFT_CLEARANCE_MM } else { RIGID_CLEARANCE_MM }
}

/// One clearance a thing: none given, one for all, or one for each. Anything else is refused.
pub fn clearances_mm(given: Option<&Readings>, cx: &Context, out: &mut Vec<Finding>) -> Option<Vec<f64>> {
    let n = cx.things.len();
    match given.map(Readings::all) {
        None => Some(cx.things.iter().map(|w| usual_clearance_mm(w.thing)).collect()),
        Some([one]) => Some(vec![*one; n]),
        Some(each) if each.len() == n => Some(each.to_vec()),
        Some(each) => {
            out.push(
                Finding::new("list-length", Verdict::Refuse, format!("{}/clearance_mm", cx.at))
                    .have("numbers", each.len())
                    .need("numbers", n)
                    .why(format!("{} clearances for {n} things: give one for all, or one for each.", each.len())),
            );
            None
        }
    }
}

/// Half of what a thing takes across and along, up to a height over its base: a cap above may be
/// wider than what passes an opening below it. Half across the own x, half across the own y.
#[must_use]
pub fn half_below_mm(solid: &Solid, height_mm: f64) -> (f64, f64) {
    match solid {
        Solid::Revolution(r) => {
            let below = r.profile().iter().filter(|p| p.0 <= height_mm).map(|p| p.1);
            let r = below.fold(r.radius_at(height_mm), f64::max);
            (r, r)
        }
        Solid::Prism(p) => (p.extent(crate::geom::DVec3::X), p.extent(crate::geom::DVec3::Y)),
    }
}

/// Length of the body from its base: up to where it becomes narrower than its base.
#[must_use]
pub fn body_mm(solid: &Solid) -> f64 {
    match solid {
        Solid::Revolution(r) => {
            let base = r.profile().first().map_or(0.0, |p| p.1);
            r.profile().iter().take_while(|p| p.1 >= base * SAME_WIDTH).last().map_or(0.0, |p| p.0)
        }
        Solid::Prism(p) => p.height(),
    }
}

/// A body tapers by less than this before it counts as its shoulder.
const SAME_WIDTH: f64 = 0.98;

/// Things that stand in no row: loose parts. Each is refused.
pub fn only_single_things(cx: &Context, out: &mut Vec<Finding>) -> bool {
    let before = out.len();
    if cx.things.is_empty() {
        out.push(
            Finding::new("nothing-to-hold", Verdict::Refuse, format!("{}/things", cx.at))
                .have("things", 0.0)
                .need("things", 1.0)
                .why("This holder is made round its things: name at least one."),
        );
    }
    for (k, w) in cx.things.iter().enumerate().filter(|(_, w)| w.thing.loose().is_some()) {
        out.push(
            Finding::new("thing-not-for-this-holder", Verdict::Refuse, format!("{}/things/{k}", cx.at))
                .have("kind", w.thing.kind())
                .need("kind", "a single thing")
                .why(format!("\"{}\" are loose parts: they lie in compartments, not in openings.", w.thing.id())),
        );
    }
    out.len() == before
}

/// A row is too narrow even for one of a thing.
#[must_use]
pub fn too_wide(cx: &Context, item: &Item, rule: &Rule) -> Finding {
    let need = 2.0 * end_mm(item, rule.web_mm);
    let thing = &cx.things[item.which];
    Finding::new("does-not-fit", Verdict::Refuse, format!("/things/{}", thing.index))
        .have("inside_width_mm", rule.inside_mm)
        .need("inside_width_mm", need)
        .why(format!(
            "One \"{}\" with its webs needs {need:.1} mm between the walls; {:.1} mm are missing.",
            thing.thing.id(),
            need - rule.inside_mm
        ))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn item(opening_mm: f64, grip_mm: f64, finger_mm: f64) -> Item {
        Item { which: 0, opening_mm, widest_mm: opening_mm - 1.5, grip_mm, finger_mm }
    }
    fn rule(inside_mm: f64, web_mm: f64) -> Rule {
        Rule { inside_mm, web_mm, columns: None, mixed: false }
    }

    // Calculated: floor((506.9 − 6.5)/(39.5 + 6.5)) = 10.
    #[test]
    fn ten_lube_bottles_stand_side_by_side_in_a_wide_drawer() {
        assert_eq!(side_by_side(&item(39.5, 14.0, 0.0), &rule(506.9, 6.5)), 10);
        for inside in [40.0, 52.4, 52.5, 52.6, 98.4, 98.5, 250.0] {
            let by_formula = ((inside - 6.5_f64) / 46.0 + 1e-9).floor().max(0.0) as usize;
            assert_eq!(side_by_side(&item(39.5, 14.0, 0.0), &rule(inside, 6.5)), by_formula, "{inside}");
        }
    }

    // Calculated: gap = pitch − D. Polish cans of 52 need 70 when fingers go between them.
    #[test]
    fn cans_taken_at_their_belly_stand_a_finger_apart() {
        let can = item(53.0, 52.0, 18.0);
        assert_eq!(pitch_mm(&can, &can, 5.0), 70.0);
        assert_eq!(pitch_mm(&can, &can, 5.0) - 52.0, 18.0);
        assert_eq!(side_by_side(&can, &rule(300.0, 5.0)), 4);
        // the same cans with a cap of 40 that stands proud: the gap is measured at the grip
        let capped = item(53.0, 40.0, 18.0);
        assert_eq!(pitch_mm(&capped, &capped, 5.0), 58.0);
    }

    #[test]
    fn every_thing_gets_a_place_and_no_row_is_wider_than_the_room() {
        let wants = [(item(39.5, 14.0, 0.0), 7), (item(22.0, 14.0, 18.0), 12), (item(60.0, 60.0, 18.0), 1)];
        for mixed in [false, true] {
            for inside in [75.0, 140.0, 330.0, 900.0] {
                let rule = Rule { mixed, ..rule(inside, 6.2) };
                let rows = pack(&wants, &rule).unwrap();
                assert_eq!(rows.iter().map(Vec::len).sum::<usize>(), 20);
                for row in &rows {
                    assert!(width_mm(row, 6.2) <= inside + 1e-6, "{mixed} {inside}: {row:?}");
                    let centres = centres_mm(row, &rule);
                    assert!(
                        centres
                            .windows(2)
                            .zip(row.windows(2))
                            .all(|(c, i)| c[1] - c[0] >= pitch_mm(&i[0], &i[1], 6.2) - 1e-9)
                    );
                    assert!(*centres.last().unwrap() <= inside - end_mm(row.last().unwrap(), 6.2) + 1e-6);
                }
            }
        }
        assert_eq!(pack(&wants, &rule(70.0, 6.2)), Err(2));
    }
}
