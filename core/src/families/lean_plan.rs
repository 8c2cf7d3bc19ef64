//! The sizes of a lean rack: leans, rows, walls; nothing is placed in space yet.

use super::boxes::FloorKind;
use super::lean_boards::{Build, Held, boards, slot_web_mm};
use super::lean_choice::{Bounds, leans};
use super::lean_rack::{LeanRack, LeanStyle};
use super::lean_rows::{Board, Row, Slope, front_wall_mm, half_hole_mm, place};
use super::rows::{
    Item, Rule, clearances_mm, only_single_things, pack, part_sides_mm, planned_t_mm, side_by_side, too_wide,
    usual_web_mm, width_mm,
};
use super::{Context, Room};
use crate::finding::{Finding, Verdict};
use crate::geom::{DVec2, DVec3};
use crate::spaces::Kind;

/// Walls are at least this many thicknesses high: three fingers at a corner (common practice).
const LEAST_WALL_PER_T: f64 = 5.0;
/// A front wall is this share of the sides' height where nothing is in its way: labels stay in sight.
const FRONT_SHARE: f64 = 0.45;
/// A captured floor is raised this many thicknesses: its slots keep that from the walls' lower edges.
const RAISE_PER_T: f64 = 2.0;
/// Sums of sizes are off by less than this, mm; it decides nothing on the bench.
const ROUNDING_MM: f64 = 1e-6;

/// A rack with all its sizes.
pub struct Plan {
    /// Its rows, from the front.
    pub rows: Vec<Row>,
    /// Clearance of each thing on the diameter.
    pub clearances: Vec<f64>,
    /// How things share a row; its width is the true one between the walls.
    pub rule: Rule,
    /// Outer size; the height is that of walls and things.
    pub size: Room,
    /// Upper face of the floor.
    pub floor_top: f64,
    /// How far the floor is raised.
    pub raise: f64,
    /// Height of sides and back.
    pub sides: f64,
    /// Height of the front.
    pub front: f64,
}

/// What is known before rows are made.
struct Basis {
    build: Build,
    clearances: Vec<f64>,
    leans: Vec<f64>,
    /// Thickness of the walls for which sizes are planned.
    wall_t: f64,
    /// Upper face of a floor of the planned thickness.
    floor_top: f64,
}

impl LeanRack {
    /// The outer size, or what it would be offered when it cannot be made.
    pub(super) fn planned_size(&self, cx: &Context) -> Room {
        self.plan(cx, &mut vec![]).map_or(
            Room {
                width_mm: self.width_mm.unwrap_or(cx.room.width_mm),
                depth_mm: self.depth_mm.unwrap_or(cx.room.depth_mm),
                height_mm: self.height(cx),
            },
            |p| p.size,
        )
    }

    /// Along the axis, or straight up out of open mouths.
    pub(super) fn way(&self, slope: Slope) -> DVec2 {
        if self.lifts() { DVec2::Y } else { slope.axis() }
    }

    /// Whether things are lifted out of open mouths.
    pub(super) fn lifts(&self) -> bool {
        self.open && self.style == LeanStyle::CrossPanels
    }

    /// All sizes; faults are added to `out`, and where one leaves nothing to place there is no plan.
    pub(super) fn plan(&self, cx: &Context, out: &mut Vec<Finding>) -> Option<Plan> {
        let basis = self.basis(cx, out)?;
        let limits = match self.width_mm {
            Some(w) => vec![w - 2.0 * cx.laid_t(cx.panels)],
            // a part of the floor's size has to go on a sheet, lengthways or across
            None => part_sides_mm(cx, cx.floor).map(|s| cx.room.width_mm.min(s) - 2.0 * basis.wall_t).to_vec(),
        };
        let mut first: Option<Result<Plan, Vec<Finding>>> = None;
        for inside in limits {
            let tried = self.within(cx, &basis, inside);
            if tried.as_ref().is_ok_and(|p| self.on_sheet(cx, p)) {
                return tried.ok();
            }
            first.get_or_insert(tried);
        }
        match first? {
            Ok(plan) => Some(plan),
            Err(faults) => {
                out.extend(faults);
                None
            }
        }
    }

    fn on_sheet(&self, cx: &Context, p: &Plan) -> bool {
        let [long, short] = part_sides_mm(cx, cx.floor);
        let (w, d) = (p.size.width_mm, p.size.depth_mm);
        self.floor == FloorKind::None || (w.max(d) <= long && w.min(d) <= short)
    }

    fn basis(&self, cx: &Context, out: &mut Vec<Finding>) -> Option<Basis> {
        let fine = only_single_things(cx, out) & self.floor_goes(cx, out);
        let clearances = clearances_mm(self.clearance_mm.as_ref(), cx, out)?;
        if !fine {
            return None;
        }
        let wall_t = planned_t_mm(cx, cx.panels);
        let t = planned_t_mm(cx, cx.inner);
        let build = Build {
            t,
            side_t: wall_t,
            web_mm: self.web_mm.unwrap_or_else(|| usual_web_mm(t)),
            gap_mm: self.gap_mm(),
            share: self.deck_share(),
            heel: self.decks().round() > 1.0,
            cross: self.style == LeanStyle::CrossPanels,
            open: self.open,
            floor: self.floor != FloorKind::None,
        };
        let floor_top = self.floor_top(cx, planned_t_mm(cx, cx.floor));
        let leans = self.leans(cx, &build, floor_top, &clearances, out)?;
        Some(Basis { build, clearances, leans, wall_t, floor_top })
    }

    fn raise(&self, cx: &Context) -> f64 {
        if self.floor == FloorKind::Captured { RAISE_PER_T * planned_t_mm(cx, cx.panels) } else { 0.0 }
    }

    fn floor_top(&self, cx: &Context, floor_t: f64) -> f64 {
        if self.floor == FloorKind::None { 0.0 } else { self.raise(cx) + floor_t }
    }

    /// Height from the rack's lower edge that it may take, clearances taken off.
    fn height(&self, cx: &Context) -> f64 {
        self.height_mm.unwrap_or(cx.room.height_mm)
    }

    fn held<'a>(cx: &Context<'a>, clearances: &[f64], which: usize) -> Held<'a> {
        Held { thing: cx.things[which].thing, clearance_mm: clearances[which], index: cx.things[which].index }
    }

    /// The lean of each thing. Boards are planned over the thickest floor, things lie on the true one.
    fn leans(
        &self,
        cx: &Context,
        b: &Build,
        planned_floor: f64,
        clearances: &[f64],
        out: &mut Vec<Finding>,
    ) -> Option<Vec<f64>> {
        let floor = self.floor_top(cx, cx.t(cx.floor));
        let boards_top = |k: usize, lean: f64| {
            let all = boards(&[Self::held(cx, clearances, k)], Slope::of_deg(lean), b).ok()?;
            let top = all.iter().flat_map(Board::outline).map(|c| c.y).fold(0.0, f64::max);
            Some(top + planned_floor - floor)
        };
        let space = cx.space;
        let height_at = match (self.height_mm, space.kind) {
            (Some(_), _) => (format!("{}/height_mm", cx.at), floor),
            (None, Kind::Drawer | Kind::Shelf) => {
                ("/space/clear_height_mm".to_owned(), floor + space.walls.height_mm - space.usable_height_mm())
            }
            (None, Kind::Case | Kind::Free) => {
                ("/space/height_mm".to_owned(), floor + space.walls.height_mm - space.usable_height_mm())
            }
        };
        let bounds = Bounds {
            clear_mm: self.height(cx) - floor,
            tip_margin_mm: self.tip_margin_mm(),
            boards_top: &boards_top,
            height_at,
        };
        leans(cx, self.lean_deg, self.lean_per_row, &bounds, out)
    }

    /// Things as items of rows; fingers go between neighbours only where rows leave them no room.
    fn items(&self, cx: &Context, clearances: &[f64], fingers: bool) -> Vec<(Item, usize)> {
        cx.things
            .iter()
            .enumerate()
            .map(|(which, w)| {
                let solid = w.thing.solid();
                let opening = 2.0 * half_hole_mm(w.thing, clearances[which], self.deck_share() * solid.height()).0;
                let widest = 2.0 * solid.extent(DVec3::X);
                let grip_mm = w.thing.grip().diameter_mm;
                let between_rows = self.gap_mm() + (widest - grip_mm) / 2.0;
                let need = fingers && between_rows < self.finger_gap_mm();
                let finger_mm = if need { self.finger_gap_mm() } else { 0.0 };
                (Item { which, opening_mm: opening, widest_mm: widest, grip_mm, finger_mm }, w.thing.count())
            })
            .collect()
    }

    fn packed(&self, cx: &Context, rule: &Rule, clearances: &[f64]) -> Result<Vec<Vec<Item>>, Finding> {
        let wide = |items: &[(Item, usize)], k: usize| too_wide(cx, &items[k].0, rule);
        let loose = self.items(cx, clearances, false);
        let rows = pack(&loose, rule).map_err(|k| wide(&loose, k))?;
        if rows.len() < 2 {
            // a single row is free above and below
            return Ok(rows);
        }
        let items = self.items(cx, clearances, true);
        pack(&items, rule).map_err(|k| wide(&items, k))
    }

    /// A plan with at most this much clear width.
    fn within(&self, cx: &Context, basis: &Basis, inside_mm: f64) -> Result<Plan, Vec<Finding>> {
        let room = Rule {
            inside_mm,
            web_mm: basis.build.web_mm,
            columns: self.columns.map(|c| c.round() as usize),
            mixed: self.mixed_rows && !self.lean_per_row,
        };
        let packed = self.packed(cx, &room, &basis.clearances).map_err(|f| vec![f])?;
        let wanted = packed.iter().map(|r| width_mm(r, room.web_mm)).fold(0.0, f64::max);
        let width = self.width_mm.unwrap_or(wanted + 2.0 * basis.wall_t);
        let rule = Rule { inside_mm: width - 2.0 * cx.laid_t(cx.panels), ..room };
        let (mut rows, mut faults) = (vec![], vec![]);
        for items in packed {
            match self.row(cx, items, basis) {
                Ok(row) => rows.push(row),
                Err(f) => faults.push(f),
            }
        }
        if !faults.is_empty() {
            faults.dedup();
            return Err(faults);
        }
        // flat rows in front pass under steep ones, never over them
        rows.sort_by(|p, q| p.slope.deg.total_cmp(&q.slope.deg));
        self.placed(cx, rows, basis, (rule, room), width).map_err(|f| vec![f])
    }

    fn row(&self, cx: &Context, items: Vec<Item>, basis: &Basis) -> Result<Row, Finding> {
        let slope = Slope::of_deg(items.first().map_or(0.0, |i| basis.leans[i.which]));
        let mut kinds: Vec<usize> = items.iter().map(|i| i.which).collect();
        kinds.dedup();
        let held: Vec<Held> = kinds.iter().map(|k| Self::held(cx, &basis.clearances, *k)).collect();
        let boards = boards(&held, slope, &basis.build)?;
        Ok(Row::new(items, slope, boards, self.way(slope), &|i| cx.things[i.which].thing.solid().clone()))
    }

    fn placed(
        &self,
        cx: &Context,
        mut rows: Vec<Row>,
        basis: &Basis,
        (rule, room): (Rule, Rule),
        width: f64,
    ) -> Result<Plan, Finding> {
        let t = basis.wall_t;
        let least = (LEAST_WALL_PER_T * t).max(basis.floor_top + 2.0 * t);
        let (web, wall) = (slot_web_mm(t), (0.0, t));
        place(&mut rows, wall, least - basis.floor_top, web, self.gap_mm());
        let natural = rows.iter().map(|r| r.wall_behind(web)).fold(0.0, f64::max) + t;
        let depth = self.depth_mm.unwrap_or(natural);
        if natural > self.depth_mm.unwrap_or(cx.room.depth_mm) + ROUNDING_MM {
            return Err(self.too_deep(cx, &rows, &room, (natural, t)));
        }
        for row in &mut rows {
            // bases to the back: what is left over is room for the hand in front
            row.y += depth - natural;
        }
        let sides = (rows.iter().map(Row::boards_top).fold(0.0, f64::max) + basis.floor_top).max(least);
        let most = (FRONT_SHARE * sides).max(least) - basis.floor_top;
        let front = front_wall_mm(&rows, wall, least - basis.floor_top, most) + basis.floor_top;
        let floor_top = self.floor_top(cx, cx.t(cx.floor));
        let top = sides.max(rows.iter().map(Row::things_top).fold(0.0, f64::max) + floor_top);
        let height = self.height(cx);
        if top > height + ROUNDING_MM {
            return Err(self.too_high(cx, top, height));
        }
        Ok(Plan {
            rows,
            clearances: basis.clearances.clone(),
            rule,
            size: Room { width_mm: width, depth_mm: depth, height_mm: top },
            floor_top,
            raise: self.raise(cx),
            sides,
            front,
        })
    }

    fn floor_goes(&self, cx: &Context, out: &mut Vec<Finding>) -> bool {
        let loose = self.floor == FloorKind::Loose;
        if loose {
            let at = format!("{}/floor", cx.at);
            out.push(
                Finding::new("floor-not-here", Verdict::Refuse, &at)
                    .have("floor", "loose")
                    .need("floor", "fingers, captured or none")
                    .why("The boards of a lean rack stand over its floor: a loose one could not be taken out.")
                    .cure("Finger the floor to the walls.", at, "fingers"),
            );
        }
        !loose
    }

    fn too_deep(&self, cx: &Context, rows: &[Row], rule: &Rule, (natural, t): (f64, f64)) -> Finding {
        let room = self.depth_mm.unwrap_or(cx.room.depth_mm);
        let whole = rows.iter().filter(|r| r.wall_behind(slot_web_mm(t)) + t <= room + ROUNDING_MM);
        // the rows that fit could be filled up to the walls
        let filled = |r: &Row| if rule.mixed { r.items.len() } else { side_by_side(&r.items[0], rule) };
        let all: usize = rows.iter().map(|r| r.items.len()).sum();
        let fit = (0..cx.things.len())
            .map(|k| {
                let places = whole.clone().filter(|r| r.items[0].which == k).map(filled).sum::<usize>();
                if rule.mixed { places } else { places.min(cx.things[k].thing.count()) }
            })
            .sum::<usize>();
        let at = if self.depth_mm.is_some() { format!("{}/depth_mm", cx.at) } else { cx.at.to_owned() };
        let f = Finding::new("does-not-fit", Verdict::Refuse, &at)
            .have("depth_mm", room)
            .have("things_that_fit", fit)
            .need("depth_mm", natural)
            .need("things", all)
            .why(format!(
                "{} rows need {natural:.1} mm of depth, {:.1} mm more than there is; {fit} of {all} things fit.",
                rows.len(),
                natural - room
            ));
        let f = match (self.depth_mm, natural <= cx.room.depth_mm) {
            (Some(_), true) => f.cure(format!("Make it {:.1} mm deep.", up(natural)), at, up(natural)),
            _ => f,
        };
        match (cx.things.as_slice(), fit) {
            ([one], 1..) => f.cure(format!("Keep {fit} of them here."), format!("/things/{}/count", one.index), fit),
            _ => f,
        }
    }

    fn too_high(&self, cx: &Context, top: f64, height: f64) -> Finding {
        let at = if self.height_mm.is_some() { format!("{}/height_mm", cx.at) } else { cx.at.to_owned() };
        Finding::new("does-not-fit", Verdict::Refuse, at).have("height_mm", height).need("height_mm", top).why(format!(
            "Its highest point is {top:.1} mm over its lower edge, {:.1} mm more than there is.",
            top - height
        ))
    }
}

/// The next tenth of a millimetre upward.
fn up(mm: f64) -> f64 {
    (mm * 10.0).ceil() / 10.0
}
