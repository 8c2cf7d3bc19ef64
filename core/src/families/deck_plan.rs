//! Where upright things stand under a deck: filled row by row, from the front left.

/// One thing to be placed: the size of its opening and of its body, seen from above.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Foot {
    /// Which of the job's things.
    pub thing: usize,
    /// Opening along x and y, mm.
    pub hole: (f64, f64),
    /// Body along x and y, mm.
    pub body: (f64, f64),
    /// Air to leave between this body and its neighbours, mm.
    pub gap: f64,
}

/// Where a thing stands: the middle of its opening, from the inner left front corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Which of the job's things.
    pub thing: usize,
    /// Along x.
    pub x: f64,
    /// Along y.
    pub y: f64,
}

/// A filled plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Filled {
    /// Every thing's spot, in the order given.
    pub spots: Vec<Spot>,
    /// What it takes along x and y, webs to the walls included.
    pub size: (f64, f64),
}

/// Fills rows of at most `width`: between openings stays `web`, between bodies their gap, and `rim`
/// between an opening and the walls. `None` when one thing alone is wider.
#[must_use]
pub fn fill(feet: &[Foot], width: f64, web: f64, rim: f64) -> Option<Filled> {
    let mut all = Filled::default();
    let (mut y_front, mut row): (f64, Vec<(Foot, f64)>) = (rim, vec![]);
    let mut widest: f64 = 0.0;
    let close = |row: &mut Vec<(Foot, f64)>, y_front: f64, all: &mut Filled| -> (f64, f64) {
        let deep = row.iter().map(|(f, _)| f.hole.1).fold(0.0, f64::max);
        let bodies = row.iter().map(|(f, _)| f.body.1).fold(0.0, f64::max);
        let gap = row.iter().map(|(f, _)| f.gap).fold(0.0, f64::max);
        for (f, x) in row.drain(..) {
            all.spots.push(Spot { thing: f.thing, x, y: y_front + deep / 2.0 });
        }
        (y_front + deep, (gap - (deep - bodies)).max(0.0))
    };
    for foot in feet {
        let x = match row.last() {
            None => rim + foot.hole.0 / 2.0,
            Some((before, at)) => {
                let holes = (before.hole.0 + foot.hole.0) / 2.0 + web;
                let bodies = (before.body.0 + foot.body.0) / 2.0 + before.gap.max(foot.gap);
                at + holes.max(bodies)
            }
        };
        let right = x + foot.hole.0 / 2.0 + rim;
        if right <= width + FITS_MM {
            widest = widest.max(right);
            row.push((*foot, x));
            continue;
        }
        if row.is_empty() {
            return None;
        }
        let (back, gap) = close(&mut row, y_front, &mut all);
        y_front = back + web.max(gap);
        let x = rim + foot.hole.0 / 2.0;
        if x + foot.hole.0 / 2.0 + rim > width + FITS_MM {
            return None;
        }
        widest = widest.max(x + foot.hole.0 / 2.0 + rim);
        row.push((*foot, x));
    }
    let (back, _) = close(&mut row, y_front, &mut all);
    all.size = (widest, back + rim);
    Some(all)
}

/// Rounding when a plan is made exactly as wide as its things need.
const FITS_MM: f64 = 1e-9;

/// The narrowest plan that stays within `depth`; else the one for the whole `width` (which is then too
/// deep, and the caller says by how much). `None` when one thing alone is wider than `width`.
#[must_use]
pub fn narrowest(feet: &[Foot], width: f64, depth: f64, web: f64, rim: f64) -> Option<Filled> {
    let whole = fill(feet, width, web, rim)?;
    if whole.size.1 > depth {
        return Some(whole);
    }
    // only the widths of whole rows matter: try each prefix's
    let mut best = whole;
    for n in 1..=feet.len() {
        let Some(row) = fill(&feet[..n], width, web, rim).filter(|f| f.spots.iter().all(|s| s.y == f.spots[0].y))
        else {
            break;
        };
        if let Some(plan) = fill(feet, row.size.0, web, rim)
            && plan.size.1 <= depth
            && plan.size.0 < best.size.0
        {
            best = plan;
            break;
        }
    }
    Some(best)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cans(n: usize, d: f64, gap: f64) -> Vec<Foot> {
        vec![Foot { thing: 0, hole: (d + 1.0, d + 1.0), body: (d, d), gap }; n]
    }

    // Cans of 52 side by side in 300 (calculated): 18 between bodies is a pitch of 70, so 4 go in.
    #[test]
    fn finger_gaps_set_the_pitch() {
        let f = fill(&cans(8, 52.0, 18.0), 300.0, 6.2, 6.2).unwrap();
        let first_row = f.spots.iter().filter(|s| s.y == f.spots[0].y).count();
        assert_eq!(first_row, 4);
        assert!((f.spots[1].x - f.spots[0].x - 70.0).abs() < 1e-9);
        let row_pitch = f.spots[4].y - f.spots[0].y;
        assert!((row_pitch - 70.0).abs() < 1e-9, "{row_pitch}");
    }

    #[test]
    fn what_stands_proud_needs_only_the_web() {
        let f = fill(&cans(6, 52.0, 0.0), 400.0, 6.2, 6.2).unwrap();
        assert!((f.spots[1].x - f.spots[0].x - 59.2).abs() < 1e-9);
        assert_eq!(f.spots.len(), 6);
    }

    #[test]
    fn a_thing_wider_than_the_room_has_no_plan() {
        assert_eq!(fill(&cans(1, 52.0, 0.0), 60.0, 6.2, 6.2), None);
        assert_eq!(narrowest(&cans(3, 52.0, 0.0), 60.0, 500.0, 6.2, 6.2), None);
    }

    #[test]
    fn the_narrowest_plan_uses_the_depth() {
        let f = narrowest(&cans(6, 52.0, 0.0), 400.0, 200.0, 6.2, 6.2).unwrap();
        let rows = f.spots.iter().filter(|s| s.x == f.spots[0].x).count();
        assert_eq!(rows, 3);
        assert!(f.size.1 <= 200.0);
    }
}
