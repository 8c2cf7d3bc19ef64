//! Lean rack: rows of bottles or tubes that lean nose up, bases to the back.

use super::boxes::{FloorKind, RANK_INNER, Shell, ShellPlan, shell};
use super::lean_plan::Plan;
use super::lean_rows::{Board, Part, Row};
use super::rows::centres_mm;
use super::{About, Context, Family, HolderSpec, Room, Thicker};
use crate::assembly::{Assembly, Berth, Grain, Joint, Opening, Panel, PanelId, Reach, Role};
use crate::finding::Finding;
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
        "holders": [ { "family": "lean-rack", "things": ["wet lube", "assembly paste"], "stock": "A" } ]
    })
}

impl Family for LeanRack {
    fn size(&self, cx: &Context) -> Room {
        self.planned_size(cx)
    }

    fn in_board(&self, cx: &Context, _: Thicker) -> HolderSpec {
        let size = self.planned_size(cx);
        HolderSpec::LeanRack(Self {
            width_mm: Some(size.width_mm),
            depth_mm: Some(size.depth_mm),
            lean_deg: self.one_lean(cx).or(self.lean_deg),
            ..self.clone()
        })
    }

    fn sample(&self, cx: &Context, thing: Option<&str>) -> Option<HolderSpec> {
        Some(HolderSpec::LeanRack(Self {
            width_mm: None,
            depth_mm: None,
            lean_deg: self.one_lean(cx).or(self.lean_deg),
            things: thing.map(str::to_owned).into_iter().collect(),
            ..self.clone()
        }))
    }

    fn build(&self, cx: &Context, out: &mut Vec<Finding>) -> Option<Assembly> {
        let plan = self.plan(cx, out)?;
        let mut a = Assembly::default();
        let shell = self.walls(cx, &mut a, &plan)?;
        for (n, row) in plan.rows.iter().enumerate() {
            let mut passed = vec![];
            for board in &row.boards {
                let id = add_board(cx, &mut a, &shell, &plan, row, board, (n + 1, self.lifts()))?;
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
    /// The lean of all rows, where they have the same.
    fn one_lean(&self, cx: &Context) -> Option<f64> {
        let plan = self.plan(cx, &mut vec![])?;
        let first = plan.rows.first()?.slope.deg;
        plan.rows.iter().all(|r| r.slope.deg == first).then_some(first)
    }

    /// Sides as high as the boards, a back as high, and a front that is out of the way.
    fn walls(&self, cx: &Context, a: &mut Assembly, plan: &Plan) -> Option<Shell> {
        let made = shell(
            cx,
            a,
            &ShellPlan {
                width: plan.size.width_mm,
                depth: plan.size.depth_mm,
                height: plan.sides,
                lean_x: 0.0,
                lean_y: 0.0,
                floor: self.floor,
                raise: plan.raise,
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
        let t = cx.laid_t(cx.panels);
        let way = self.way(row.slope);
        let zero = DVec2::new(row.y, plan.floor_top);
        let open = self.lifts();
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
    (number, open): (usize, bool),
) -> Option<PanelId> {
    let zero = DVec2::new(row.y, plan.floor_top);
    let out = |p: DVec2| DVec3::new(0.0, zero.x + p.x, zero.y + p.y);
    let dir = |d: DVec2| DVec3::new(0.0, d.x, d.y);
    let edge = |w: f64, sign: f64| HalfSpace::beyond(out(board.across * w), dir(board.across) * sign);
    let slab = Slab { frame: Frame::new(out(board.origin), dir(board.normal), DVec3::X)?, thickness: cx.t(cx.inner) };
    let middle = board.outline().iter().copied().sum::<DVec2>() / 4.0;
    let on_floor = board.stands && shell.floor.is_some();
    // a board of a prototype is thicker than planned for: it stops at the sides' upper edge and at the floor
    let mut bounds = vec![edge(board.reach.1, 1.0), HalfSpace::beyond(DVec3::Z * plan.sides, DVec3::Z)];
    if !on_floor {
        bounds.push(edge(board.reach.0, -1.0));
        bounds.push(HalfSpace::beyond(DVec3::Z * plan.floor_top, -DVec3::Z));
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
        seed: out(middle) + DVec3::X * (plan.size.width_mm / 2.0),
        bounds,
        rank: RANK_INNER,
        tools: vec![],
        grain: board_grain(plan, board, open),
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

/// Along the board, which is slender; but up the teeth between mouths that reach its upper edge: across the
/// grain they snap (common practice, no source).
fn board_grain(plan: &Plan, board: &Board, open: bool) -> Grain {
    if open && board.part == Part::Cross {
        return Grain::Along(DVec2::Y);
    }
    Grain::along_longer(plan.size.width_mm, board.reach.1 - board.reach.0)
}
