//! Lean rack: rows of bottles or tubes that lean nose up, bases to the back.

use super::boxes::{FloorKind, RANK_INNER, Shell, ShellPlan, shell};
use super::lean_boards::{Build, Held, boards, slot_web_mm};
use super::lean_choice::{Bounds, leans};
use super::lean_rows::{Board, Part, Row, Slope, front_wall_mm, half_hole_mm, place};
use super::rows::{
    Item, Rule, centres_mm, clearances_mm, only_single_things, pack, side_by_side, too_wide, usual_web_mm,
    widest_part_mm, width_mm,
};
use super::{About, Context, Family, Room};
use crate::assembly::{Assembly, Berth, Grain, Joint, Opening, Panel, PanelId, Reach, Role};
use crate::finding::{Finding, Verdict};
use crate::geom::{DVec2, DVec3, Frame, HalfSpace, Slab};
use crate::material::Role as Use;

/// What holds the things of a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize, utoipa::ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum LeanStyle {
    /// A foot plate and a deck, both square to the axes: round holes, exact rotated slots in the sides.
    #[default]
    SquarePlates,
    /// An upright cross panel with long openings, and an upright stop.
    CrossPanels,
}

crate::holder! {
    /// Rows of bottles or tubes that lean nose up, noses to the front.
    pub struct LeanRack {
        numbers {
            /// Angle of the axes above the horizontal; from liquid and height when left out.
            lean_deg: opt(10.0, 80.0, "deg"),
            /// No more than this many side by side; as many as the width takes when left out.
            columns: opt(1.0, 200.0, "1"),
            /// Clear gap between the bodies of neighbouring rows, square to the axes.
            gap_mm: def(2.0, 150.0, "mm", 10.0),
            /// Material between openings; two thicknesses and at least 5 when left out.
            web_mm: opt(1.0, 100.0, "mm"),
            /// Clearance on the diameter: one for all, or one for each thing. Left out: 1.5 for bottles, tubes and several brands, 1.0 for what is rigid.
            clearance_mm: optmany(0.2, 12.0, "mm"),
            /// Gap that fingers need where a thing is taken.
            finger_gap_mm: def(0.0, 60.0, "mm", 18.0),
            /// Where the deck or cross panel holds the bodies, as a share of their length.
            deck_share: def(0.4, 0.85, "1", 0.65),
            /// Decks a row, with square plates: a second one steadies the bases.
            decks: def(1.0, 2.0, "1", 1.0),
            /// How far the tip has to stay above the liquid.
            tip_margin_mm: def(0.0, 60.0, "mm", 5.0),
        }
        fields {
            /// What holds the things of a row.
            #[serde(default)]
            pub style: LeanStyle,
            /// Cross panels: openings that reach the upper edge, so that things are lifted out instead of pulled.
            #[serde(default)]
            pub open: bool,
            /// How the floor is held; with `none` the rack stands on the bottom of the space.
            #[serde(default)]
            pub floor: FloorKind,
            /// Whether different things may share a row.
            #[serde(default)]
            pub mixed_rows: bool,
            /// Whether each thing's rows lean as suits it best; then no row is mixed, and the flattest stand in front.
            #[serde(default)]
            pub lean_per_row: bool,
        }
    }
}

/// What this family tells about itself.
pub const ABOUT: About = About {
    tag: "lean-rack",
    title: "Lean rack for bottles and tubes",
    what: "Rows of bottles or tubes leaning nose up between two sides, so that no liquid stands at the tip; the lean follows from liquid and height.",
    example,
    rows: LeanRack::ROWS,
};

fn example() -> serde_json::Value {
    serde_json::json!({
        "name": "Bench drawer 5, chain care",
        "space": { "kind": "drawer", "width_mm": [518.4, 517.6, 517.9], "depth_mm": [441.0, 440.2], "clear_height_mm": 104 },
        "cutter": "co2-600x400",
        "stocks": [ { "id": "A", "material": "birch-ply-3", "readings_mm": [3.08, 3.12, 3.05, 3.10], "kerf_mm": 0.18 } ],
        "things": [
            { "id": "wet lube", "count": 8, "fill": 0.95, "shape": { "kind": "bottle", "diameter_mm": 38, "body_mm": 92, "overall_mm": 138, "tip_diameter_mm": 6, "bore_mm": 2, "cap_diameter_mm": 14, "wall_mm": 1.1 } },
            { "id": "assembly paste", "count": 4, "shape": { "kind": "tube", "diameter_mm": 30, "body_mm": 84, "overall_mm": 120, "tip_diameter_mm": 7, "capped": true } }
        ],
        "holders": [ { "family": "lean-rack", "things": ["wet lube", "assembly paste"], "stock": "A", "columns": 6 } ]
    })
}

/// Walls are at least this many thicknesses high: three fingers at a corner (common practice).
const LEAST_WALL_PER_T: f64 = 5.0;
/// A front wall is this share of the sides' height where nothing is in its way: labels stay in sight.
const FRONT_SHARE: f64 = 0.45;
/// A captured floor is raised this many thicknesses: its slots keep that from the walls' lower edges.
const RAISE_PER_T: f64 = 2.0;
/// Sums of sizes are off by less than this, mm; it decides nothing on the bench.
const ROUNDING_MM: f64 = 1e-6;

/// A rack with all its sizes.
struct Plan {
    rows: Vec<Row>,
    clearances: Vec<f64>,
    rule: Rule,
    width: f64,
    depth: f64,
    floor_top: f64,
    sides: f64,
    front: f64,
    top: f64,
}

impl LeanRack {
    fn build_rule(&self, cx: &Context) -> Build {
        Build {
            t: cx.t(cx.inner),
            side_t: cx.t(cx.panels),
            web_mm: self.web_mm.unwrap_or_else(|| usual_web_mm(cx.t(cx.inner))),
            gap_mm: self.gap_mm(),
            share: self.deck_share(),
            heel: self.decks().round() > 1.0,
            cross: self.style == LeanStyle::CrossPanels,
            open: self.open,
            floor: self.floor != FloorKind::None,
        }
    }

    fn raise(&self, cx: &Context) -> f64 {
        if self.floor == FloorKind::Captured { RAISE_PER_T * cx.t(cx.panels) } else { 0.0 }
    }

    fn floor_top(&self, cx: &Context) -> f64 {
        if self.floor == FloorKind::None { 0.0 } else { self.raise(cx) + cx.t(cx.floor) }
    }

    /// Height from the rack's lower edge that it may take, clearances taken off.
    fn height(&self, cx: &Context) -> f64 {
        self.height_mm.unwrap_or(cx.room.height_mm)
    }

    fn held<'a>(cx: &Context<'a>, clearances: &[f64], which: usize) -> Held<'a> {
        Held { thing: cx.things[which].thing, clearance_mm: clearances[which], index: cx.things[which].index }
    }

    /// The lean of each thing.
    fn leans(&self, cx: &Context, b: &Build, clearances: &[f64], out: &mut Vec<Finding>) -> Option<Vec<f64>> {
        let clear_mm = self.height(cx) - self.floor_top(cx);
        let boards_top = |k: usize, lean: f64| {
            let all = boards(&[Self::held(cx, clearances, k)], Slope::of_deg(lean), b).ok()?;
            Some(all.iter().flat_map(Board::outline).map(|c| c.y).fold(0.0, f64::max))
        };
        let height_at = match self.height_mm {
            Some(_) => (format!("{}/height_mm", cx.at), self.floor_top(cx)),
            None => ("/space/clear_height_mm".to_owned(), self.floor_top(cx) + TOP_CLEARANCE_MM),
        };
        let bounds = Bounds { clear_mm, tip_margin_mm: self.tip_margin_mm(), boards_top: &boards_top, height_at };
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

    fn plan(&self, cx: &Context, out: &mut Vec<Finding>) -> Option<Plan> {
        let fine = only_single_things(cx, out) & self.floor_goes(cx, out);
        let clearances = clearances_mm(self.clearance_mm.as_ref(), cx, out)?;
        if !fine {
            return None;
        }
        let b = self.build_rule(cx);
        let leans = self.leans(cx, &b, &clearances, out)?;
        let t = cx.t(cx.panels);
        let widest = self.width_mm.unwrap_or_else(|| cx.room.width_mm.min(widest_part_mm(cx, cx.panels)));
        let mut rule = Rule {
            inside_mm: widest - 2.0 * t,
            web_mm: b.web_mm,
            columns: self.columns.map(|c| c.round() as usize),
            mixed: self.mixed_rows && !self.lean_per_row,
        };
        let packed = self.packed(cx, &rule, &clearances).map_err(|f| out.push(f)).ok()?;
        let room = rule;
        if self.width_mm.is_none() {
            rule.inside_mm = packed.iter().map(|r| width_mm(r, rule.web_mm)).fold(0.0, f64::max);
        }
        let mut rows = vec![];
        for items in packed {
            match self.row(cx, items, &leans, &clearances, &b) {
                Ok(row) => rows.push(row),
                Err(f) => out.push(f),
            }
        }
        if rows.is_empty() || out.iter().any(|f| f.code == "board-has-no-place" || f.code == "stop-too-low") {
            return None;
        }
        // flat rows in front pass under steep ones, never over them
        rows.sort_by(|p, q| p.slope.deg.total_cmp(&q.slope.deg));
        self.placed(cx, rows, clearances, (rule, room), out)
    }

    fn row(
        &self,
        cx: &Context,
        items: Vec<Item>,
        leans: &[f64],
        clearances: &[f64],
        b: &Build,
    ) -> Result<Row, Finding> {
        let slope = Slope::of_deg(items.first().map_or(0.0, |i| leans[i.which]));
        let mut kinds: Vec<usize> = items.iter().map(|i| i.which).collect();
        kinds.dedup();
        let held: Vec<Held> = kinds.iter().map(|k| Self::held(cx, clearances, *k)).collect();
        let boards = boards(&held, slope, b)?;
        Ok(Row::new(items, slope, boards, self.way(slope), &|i| cx.things[i.which].thing.solid().clone()))
    }

    /// Along the axis, or straight up out of open mouths.
    fn way(&self, slope: Slope) -> DVec2 {
        if self.open && self.style == LeanStyle::CrossPanels { DVec2::Y } else { slope.axis() }
    }

    fn placed(
        &self,
        cx: &Context,
        mut rows: Vec<Row>,
        clearances: Vec<f64>,
        (rule, room): (Rule, Rule),
        out: &mut Vec<Finding>,
    ) -> Option<Plan> {
        let t = cx.t(cx.panels);
        let floor_top = self.floor_top(cx);
        let least = (LEAST_WALL_PER_T * t).max(floor_top + 2.0 * t);
        let web = slot_web_mm(t);
        place(&mut rows, (0.0, t), least - floor_top, web, self.gap_mm());
        let natural = rows.iter().map(|r| r.wall_behind(web)).fold(0.0, f64::max) + t;
        let depth = self.depth_mm.unwrap_or(natural);
        if natural > self.depth_mm.unwrap_or(cx.room.depth_mm) + ROUNDING_MM {
            out.push(self.too_deep(cx, &rows, &room, natural));
            return None;
        }
        for row in &mut rows {
            // bases to the back: what is left over is room for the hand in front
            row.y += depth - natural;
        }
        let boards = rows.iter().map(Row::boards_top).fold(0.0, f64::max) + floor_top;
        let sides = boards.max(least);
        let most = (FRONT_SHARE * sides).max(least) - floor_top;
        let front = front_wall_mm(&rows, (0.0, t), least - floor_top, most) + floor_top;
        let things = rows.iter().map(Row::things_top).fold(0.0, f64::max) + floor_top;
        let top = sides.max(things);
        let height = self.height(cx);
        if top > height + ROUNDING_MM {
            out.push(self.too_high(cx, top, height));
            return None;
        }
        let width = rule.inside_mm + 2.0 * t;
        Some(Plan { rows, clearances, rule, width, depth, floor_top, sides, front, top })
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

    fn too_deep(&self, cx: &Context, rows: &[Row], rule: &Rule, natural: f64) -> Finding {
        let t = cx.t(cx.panels);
        let room = self.depth_mm.unwrap_or(cx.room.depth_mm);
        let whole = rows.iter().filter(|r| r.wall_behind(slot_web_mm(t)) + t <= room + ROUNDING_MM);
        // the rows that fit could be filled up to the walls
        let filled = |r: &Row| if rule.mixed { r.items.len() } else { side_by_side(&r.items[0], rule) };
        let fit = (0..cx.things.len())
            .map(|k| {
                let places = whole.clone().filter(|r| r.items[0].which == k || rule.mixed).map(filled).sum::<usize>();
                places.min(cx.things[k].thing.count())
            })
            .sum::<usize>()
            .min(rows.iter().map(|r| r.items.len()).sum());
        let all: usize = rows.iter().map(|r| r.items.len()).sum();
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

/// What a drawer keeps free under its rail when nobody says otherwise, mm (common practice, no
/// source); only used to propose a cure, which is tried before it is offered.
const TOP_CLEARANCE_MM: f64 = 4.0;

/// The next tenth of a millimetre upward.
fn up(mm: f64) -> f64 {
    (mm * 10.0).ceil() / 10.0
}

impl Family for LeanRack {
    fn size(&self, cx: &Context) -> Room {
        match self.plan(cx, &mut vec![]) {
            Some(p) => Room { width_mm: p.width, depth_mm: p.depth, height_mm: p.top },
            None => Room {
                width_mm: self.width_mm.unwrap_or(cx.room.width_mm),
                depth_mm: self.depth_mm.unwrap_or(cx.room.depth_mm),
                height_mm: self.height(cx),
            },
        }
    }

    fn build(&self, cx: &Context, out: &mut Vec<Finding>) -> Option<Assembly> {
        let plan = self.plan(cx, out)?;
        let mut a = Assembly::default();
        let shell = self.walls(cx, &mut a, &plan)?;
        for (n, row) in plan.rows.iter().enumerate() {
            let mut passed = vec![];
            for board in &row.boards {
                let id = add_board(cx, &mut a, &shell, &plan, row, board, n + 1)?;
                if board.opens() {
                    passed.push(id);
                }
            }
            self.berths(cx, &mut a, &plan, row, &passed);
        }
        Some(a)
    }
}

impl LeanRack {
    /// Sides as high as the boards, a back as high, and a front that is out of the way.
    fn walls(&self, cx: &Context, a: &mut Assembly, plan: &Plan) -> Option<Shell> {
        let made = shell(
            cx,
            a,
            &ShellPlan {
                width: plan.width,
                depth: plan.depth,
                height: plan.sides,
                lean_x: 0.0,
                lean_y: 0.0,
                floor: self.floor,
                raise: self.raise(cx),
                joined: true,
                short: 0.0,
            },
        )?;
        let front = &mut a.panels[made.front.0];
        front.bounds.push(HalfSpace::beyond(DVec3::Z * plan.front, DVec3::Z));
        front.seed.z = plan.front / 2.0;
        Some(made)
    }

    fn berths(&self, cx: &Context, a: &mut Assembly, plan: &Plan, row: &Row, passed: &[PanelId]) {
        let t = cx.t(cx.panels);
        let way = self.way(row.slope);
        let zero = DVec2::new(row.y, plan.floor_top);
        let open = self.open && self.style == LeanStyle::CrossPanels;
        for (item, x) in row.items.iter().zip(centres_mm(&row.items, &plan.rule)) {
            let w = &cx.things[item.which];
            let clearance_mm = plan.clearances[item.which];
            a.berths.push(Berth {
                thing: w.index,
                solid: w.thing.solid().clone(),
                pose: row.slope.pose(w.thing.solid(), t + x, zero),
                way_out: DVec3::new(0.0, way.x, way.y),
                openings: passed.iter().map(|panel| Opening { panel: *panel, clearance_mm, open }).collect(),
            });
        }
    }
}

/// One board between the sides. Its angle lies in the sides' planes, so its slots are exact.
fn add_board(
    cx: &Context,
    a: &mut Assembly,
    shell: &Shell,
    plan: &Plan,
    row: &Row,
    board: &Board,
    number: usize,
) -> Option<PanelId> {
    let zero = DVec2::new(row.y, plan.floor_top);
    let out = |p: DVec2| DVec3::new(0.0, zero.x + p.x, zero.y + p.y);
    let dir = |d: DVec2| DVec3::new(0.0, d.x, d.y);
    let edge = |w: f64, sign: f64| HalfSpace::beyond(out(board.across * w), dir(board.across) * sign);
    let slab = Slab { frame: Frame::new(out(board.origin), dir(board.normal), DVec3::X)?, thickness: board.t };
    let middle = board.outline().iter().copied().sum::<DVec2>() / 4.0;
    let on_floor = board.stands && shell.floor.is_some();
    let mut bounds = vec![edge(board.reach.1, 1.0)];
    if !on_floor {
        bounds.push(edge(board.reach.0, -1.0));
    }
    let (name, role) = match board.part {
        Part::Foot => ("foot", Role::Plate),
        Part::Deck => ("deck", Role::Plate),
        Part::Cross => ("cross panel", Role::Divider),
        Part::Stop => ("stop", Role::Divider),
    };
    let same = a.panels.iter().filter(|p| p.name.starts_with(&format!("{name} {number}"))).count();
    let id = a.add(Panel {
        name: if same == 0 { format!("{name} {number}") } else { format!("{name} {number} upper") },
        role,
        stock: cx.inner,
        slab,
        seed: out(middle) + DVec3::X * (plan.width / 2.0),
        bounds,
        rank: RANK_INNER,
        tools: vec![],
        grain: Grain::Along(DVec2::X),
    });
    for side in [shell.left, shell.right] {
        let joint = if board.tabbed { Joint::Tab { reach: Reach::Flush } } else { Joint::Rest };
        a.meet(id, side, joint, cx.fit(cx.panels, Use::Divider));
    }
    if let (true, Some(floor)) = (on_floor, shell.floor) {
        a.meet(id, floor, Joint::Tab { reach: Reach::Flush }, cx.fit(cx.floor, Use::Divider));
    }
    Some(id)
}
