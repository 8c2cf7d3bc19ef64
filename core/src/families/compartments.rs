//! Compartments: a walled tray with a grid of cross-lapped dividers, for loose parts.

use super::boxes::{FloorKind, RANK_INNER, Shell, ShellPlan, raise_mm, shell, upright_slab};
use super::{About, Context, Family, HolderSpec, Room, Thicker};
use crate::assembly::{Assembly, Bay, Grain, Joint, Panel, PanelId, Reach, Role};
use crate::finding::{Finding, PatchOp, Verdict};
use crate::geom::{DVec3, Frame, HalfSpace, Slab};
use crate::material::Role as Use;
use crate::units::Readings;

/// How dividers are held at the walls.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize, utoipa::ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum Held {
    /// Tabs through walls and floor: they stay.
    #[default]
    Fixed,
    /// Hooks in slots that are open to the top: they lift out.
    Removable,
}

crate::holder! {
    /// A tray with a grid of dividers. Sizes are given from outside (the outer size and how many
    /// columns and rows) or from inside (the clear size of each column and row).
    pub struct Compartments {
        numbers {
            /// How many columns, side by side along the width; taken from `column_widths_mm` where given.
            columns: def(1.0, 40.0, "1", 3.0),
            /// How many rows, one behind the other; taken from `row_depths_mm` where given.
            rows: def(1.0, 40.0, "1", 2.0),
            /// Clear width of each column, from the left.
            column_widths_mm: optmany(8.0, 1500.0, "mm"),
            /// Clear depth of each row, from the front.
            row_depths_mm: optmany(8.0, 1500.0, "mm"),
            /// How far the dividers stay below the walls' upper edge.
            divider_drop_mm: def(0.0, 200.0, "mm", 3.0),
            /// How far a captured or loose floor is raised off the walls' lower edge; as far as its slots (or its ledges') need when left out.
            floor_raise_mm: opt(0.0, 60.0, "mm"),
            /// Angle above the horizontal of a leaning plate at the front of each compartment, up which small parts are raked out; none when left out.
            rake_deg: opt(25.0, 60.0, "deg"),
        }
        fields {
            /// How the floor is held.
            #[serde(default)]
            pub floor: FloorKind,
            /// How the dividers are held.
            #[serde(default)]
            pub dividers: Held,
        }
    }
}

/// What this family tells about itself.
pub const ABOUT: About = About {
    tag: "compartments",
    title: "Compartments for loose parts",
    what: "Four walls, a floor and a grid of cross-lapped dividers; dividers fixed or to be lifted out, fronts raked if asked.",
    example,
    rows: Compartments::ROWS,
};

fn example() -> serde_json::Value {
    serde_json::json!({
        "name": "Bench drawer 2, small parts",
        "space": { "kind": "drawer", "width_mm": [328.4, 327.9], "depth_mm": [262.2, 262.6], "clear_height_mm": 62 },
        "cutter": "co2-600x400",
        "stocks": [ { "id": "A", "material": "birch-ply-3", "readings_mm": [3.08, 3.12, 3.05, 3.10], "kerf_mm": 0.18 } ],
        "things": [
            { "id": "spoke nipples", "count": 200, "shape": { "kind": "loose", "piece_mm": [12, 4, 4] } },
            { "id": "valve caps", "count": 60, "shape": { "kind": "loose", "piece_mm": [12, 8, 8] } }
        ],
        "holders": [ { "family": "compartments", "things": ["spoke nipples", "valve caps"], "stock": "A", "columns": 3, "rows": 2, "height_mm": 48 } ]
    })
}

/// Walls this high when the caller says nothing: fingers reach the bottom (common practice, no source).
const WALL_HEIGHT_MM: f64 = 45.0;

/// One direction of the grid: the clear stretches between walls and dividers.
struct Axis {
    outer: f64,
    cells: Vec<(f64, f64)>,
}

impl Compartments {
    /// The stretches along one axis: given from inside, or the outer size divided evenly:
    /// cell = (outside − 2·wall − (n − 1)·divider)/n.
    fn axis(given: Option<&Readings>, n: f64, outer: f64, wall: f64, divider: f64) -> Axis {
        let clear: Vec<f64> = match given {
            Some(sizes) => sizes.all().to_vec(),
            None => {
                let n = n.round().max(1.0);
                vec![(outer - 2.0 * wall - (n - 1.0) * divider) / n; n as usize]
            }
        };
        let mut at = wall;
        let mut cells = vec![];
        for c in &clear {
            cells.push((at, at + c));
            at += c + divider;
        }
        Axis { outer: at - divider + wall, cells }
    }

    fn axes(&self, cx: &Context) -> (Axis, Axis) {
        let (t, inner) = (cx.t(cx.panels), cx.t(cx.inner));
        let width = self.width_mm.unwrap_or(cx.room.width_mm);
        let depth = self.depth_mm.unwrap_or(cx.room.depth_mm);
        (
            Self::axis(self.column_widths_mm.as_ref(), self.columns(), width, t, inner),
            Self::axis(self.row_depths_mm.as_ref(), self.rows(), depth, t, inner),
        )
    }

    fn height(&self, cx: &Context) -> f64 {
        self.height_mm.unwrap_or(WALL_HEIGHT_MM.min(cx.room.height_mm))
    }

    /// Sizes given from inside and from outside must agree, and leave a compartment.
    fn check_axis(cx: &Context, axis: &Axis, fixed: Option<f64>, fields: [&str; 2], out: &mut Vec<Finding>) -> bool {
        if let Some(outer) = fixed
            && (outer - axis.outer).abs() > AGREE_MM
        {
            out.push(
                Finding::new("sizes-contradict", Verdict::Refuse, format!("{}/{}", cx.at, fields[0]))
                    .have("outer_mm", outer)
                    .need("outer_mm", axis.outer)
                    .why(format!(
                        "The clear sizes in {} add up to {:.2} mm outside, but {} says {outer:.2}: {:.2} mm apart.",
                        fields[1],
                        axis.outer,
                        fields[0],
                        (outer - axis.outer).abs()
                    ))
                    .cure(format!("Make it {:.2} mm.", axis.outer), format!("{}/{}", cx.at, fields[0]), axis.outer),
            );
            return false;
        }
        let smallest = axis.cells.iter().map(|c| c.1 - c.0).fold(f64::INFINITY, f64::min);
        if smallest < SMALLEST_CELL_MM {
            out.push(
                Finding::new("compartment-too-small", Verdict::Refuse, format!("{}/{}", cx.at, fields[1]))
                    .have("clear_mm", smallest)
                    .need("clear_mm", SMALLEST_CELL_MM)
                    .why(format!(
                        "A compartment would be {smallest:.1} mm clear, {:.1} mm less than a finger needs.",
                        SMALLEST_CELL_MM - smallest
                    )),
            );
            return false;
        }
        true
    }
}

/// Sizes written with two decimals agree within this, mm.
const AGREE_MM: f64 = 0.01;

/// Nothing is taken out of a compartment narrower than this, mm; the check of reach says more.
const SMALLEST_CELL_MM: f64 = 8.0;

impl Family for Compartments {
    fn size(&self, cx: &Context) -> Room {
        let (x, y) = self.axes(cx);
        Room { width_mm: x.outer, depth_mm: y.outer, height_mm: self.height(cx) }
    }

    fn in_board(&self, cx: &Context, by: Thicker) -> HolderSpec {
        let (x, y) = self.axes(cx);
        // n cells lose what two walls and n − 1 dividers gain: evenly, as sizes given from outside do
        let shrunk = |given: &Option<Readings>| {
            let all = given.as_ref()?.all();
            let n = all.len() as f64;
            let less = (2.0 * by.panels_mm + (n - 1.0) * by.inner_mm) / n;
            Readings::new(all.iter().map(|c| c - less).collect())
        };
        HolderSpec::Compartments(Self {
            width_mm: Some(x.outer),
            depth_mm: Some(y.outer),
            height_mm: Some(self.height(cx)),
            column_widths_mm: shrunk(&self.column_widths_mm),
            row_depths_mm: shrunk(&self.row_depths_mm),
            ..self.clone()
        })
    }

    fn sample(&self, cx: &Context, thing: Option<&str>) -> Option<HolderSpec> {
        let (x, y) = self.axes(cx);
        let clear = |axis: &Axis, n: usize| Readings::new(axis.cells.iter().take(n).map(|c| c.1 - c.0).collect());
        // two side by side; in a single column one behind the other
        let (columns, rows) = if x.cells.len() > 1 { (2, 1) } else { (1, 2) };
        Some(HolderSpec::Compartments(Self {
            width_mm: None,
            depth_mm: None,
            height_mm: Some(self.height(cx)),
            column_widths_mm: clear(&x, columns),
            row_depths_mm: clear(&y, rows),
            things: thing.map(str::to_owned).into_iter().collect(),
            ..self.clone()
        }))
    }

    fn build(&self, cx: &Context, out: &mut Vec<Finding>) -> Option<Assembly> {
        let (x, y) = self.axes(cx);
        let right = Self::check_axis(cx, &x, self.width_mm, ["width_mm", "column_widths_mm"], out)
            & Self::check_axis(cx, &y, self.depth_mm, ["depth_mm", "row_depths_mm"], out);
        if !right {
            return None;
        }
        let mut a = Assembly::default();
        let h = self.height(cx);
        let plan = ShellPlan {
            width: x.outer,
            depth: y.outer,
            height: h,
            lean_x: 0.0,
            lean_y: 0.0,
            floor: self.floor,
            raise: raise_mm(cx, self.floor, self.floor_raise_mm),
            joined: true,
            short: 0.0,
        };
        let shell = shell(cx, &mut a, &plan)?;
        let top = h - self.divider_drop_mm();
        if top - shell.floor_top < SMALLEST_CELL_MM {
            out.push(too_low(cx, top - shell.floor_top));
            return None;
        }
        let along = self.dividers(cx, &mut a, &shell, &x, &y, top, true)?;
        let across = self.dividers(cx, &mut a, &shell, &y, &x, top, false)?;
        for p in &along {
            for q in &across {
                a.meet(*p, *q, Joint::Lap { depth_share: 0.5 }, cx.fit(cx.inner, Use::Divider));
            }
        }
        let mut things = cx.things.iter().map(|w| w.index);
        for row in &y.cells {
            for column in &x.cells {
                a.bays.push(Bay { x: *column, y: *row, z: (shell.floor_top, top), thing: things.next() });
            }
        }
        if things.next().is_some() {
            out.push(too_few_cells(cx, x.cells.len() * y.cells.len()));
        }
        if let Some(rake) = self.rake_deg {
            self.rakes(cx, &mut a, &shell, &x, (&along, &across), rake, out)?;
        }
        Some(a)
    }
}

impl Compartments {
    /// The dividers between the cells of one axis, each ending at the two walls across the other.
    #[allow(clippy::too_many_arguments)]
    fn dividers(
        &self,
        cx: &Context,
        a: &mut Assembly,
        shell: &Shell,
        axis: &Axis,
        other: &Axis,
        top: f64,
        along: bool,
    ) -> Option<Vec<PanelId>> {
        let t = cx.t(cx.inner);
        let normal = if along { DVec3::X } else { DVec3::Y };
        let walls = if along { [shell.front, shell.back] } else { [shell.left, shell.right] };
        let mut made = vec![];
        for (i, w) in axis.cells.windows(2).enumerate() {
            let middle = normal * (w[0].1 + t / 2.0) + (DVec3::X + DVec3::Y - normal) * (other.outer / 2.0);
            let mut bounds = vec![HalfSpace::beyond(DVec3::Z * top, DVec3::Z)];
            let tabbed = self.dividers == Held::Fixed && shell.floor.is_some() && self.floor != FloorKind::Loose;
            if !tabbed {
                bounds.push(HalfSpace::beyond(DVec3::Z * shell.floor_top, -DVec3::Z));
            }
            let id = a.add(Panel {
                name: format!("divider {} {}", if along { "along" } else { "across" }, i + 1),
                role: Role::Divider,
                stock: cx.inner,
                slab: upright_slab(w[0].1, normal, t)?,
                seed: middle + DVec3::Z * ((top + shell.floor_top) / 2.0),
                bounds,
                rank: RANK_INNER,
                tools: vec![],
                grain: Grain::along_longer(other.outer, top - shell.floor_top),
            });
            for wall in walls {
                let joint = match self.dividers {
                    Held::Fixed => Joint::Tab { reach: Reach::Flush },
                    Held::Removable => Joint::Hook { depth_share: 0.5 },
                };
                a.meet(id, wall, joint, cx.fit(cx.panels, Use::Divider));
            }
            if let (true, Some(floor)) = (tabbed, shell.floor) {
                a.meet(id, floor, Joint::Tab { reach: Reach::Flush }, cx.fit(cx.floor, Use::Divider));
            }
            made.push(id);
        }
        Some(made)
    }

    /// One leaning plate a compartment, between the upright panels beside it: its angle lies in their
    /// planes, so their rotated slots are exact. It rises from the floor to the panel at its front, as
    /// high as the depth allows.
    #[allow(clippy::too_many_arguments)]
    fn rakes(
        &self,
        cx: &Context,
        a: &mut Assembly,
        shell: &Shell,
        x: &Axis,
        (along, across): (&[PanelId], &[PanelId]),
        rake_deg: f64,
        out: &mut Vec<Finding>,
    ) -> Option<()> {
        let t = cx.t(cx.inner);
        let (sin, cos) = libm::sincos(rake_deg.to_radians());
        let bays = a.bays.clone();
        for (k, bay) in bays.iter().enumerate() {
            let (column, row) = (k % x.cells.len(), k / x.cells.len());
            let left = if column == 0 { shell.left } else { along[column - 1] };
            let right = if column + 1 == x.cells.len() { shell.right } else { along[column] };
            let front = if row == 0 { shell.front } else { across[row - 1] };
            let room = (bay.y.1 - bay.y.0 - LEVEL_BEFORE_RAKE_MM - t / sin) * sin / cos;
            let rise = room.min(bay.z.1 - bay.z.0);
            if rise < LEAST_RAKE_MM {
                out.push(too_shallow(cx, room));
                return None;
            }
            // its upper face falls from the front panel's top to the floor, toward the back
            let normal = DVec3::new(0.0, sin, cos);
            let foot = DVec3::new(0.0, bay.y.0 + rise * cos / sin, bay.z.0);
            // marks go on the underside
            let slab = Slab { frame: Frame::new(foot, -normal, DVec3::X)?, thickness: t };
            let half = foot + DVec3::new((bay.x.0 + bay.x.1) / 2.0, -rise * cos / sin / 2.0, rise / 2.0);
            let seed = half - normal * (t / 2.0);
            let id = a.add(Panel {
                name: format!("rake {}", k + 1),
                role: Role::Ramp,
                stock: cx.inner,
                slab,
                seed,
                bounds: vec![
                    HalfSpace::beyond(DVec3::Z * bay.z.0, -DVec3::Z),
                    HalfSpace::beyond(DVec3::Z * bay.z.1, DVec3::Z),
                    a.panel(front).slab.near_face(seed),
                ],
                rank: RANK_INNER,
                tools: vec![],
                grain: Grain::along_longer(bay.x.1 - bay.x.0, rise / sin),
            });
            for side in [left, right] {
                let host = a.panel(side).stock;
                a.meet(id, side, Joint::Tab { reach: Reach::Flush }, cx.fit(host, Use::Divider));
            }
        }
        Some(())
    }
}

/// Behind a rake's foot this much floor stays level, mm: a fingertip (16 to 23 wide) reaches it.
const LEVEL_BEFORE_RAKE_MM: f64 = 20.0;
/// A rake lower than this lifts nothing, mm.
const LEAST_RAKE_MM: f64 = 10.0;

fn too_shallow(cx: &Context, rise: f64) -> Finding {
    Finding::new("rake-too-low", Verdict::Refuse, format!("{}/rake_deg", cx.at))
        .have("rise_mm", rise.max(0.0))
        .need("rise_mm", LEAST_RAKE_MM)
        .why(format!(
            "In compartments this shallow a raked front would rise {:.1} mm only, {:.1} mm too little to rake anything up.",
            rise.max(0.0),
            LEAST_RAKE_MM - rise.max(0.0)
        ))
        .cure_with("Leave the raked fronts out.", vec![PatchOp { op: "remove", path: format!("{}/rake_deg", cx.at), value: None }])
}

fn too_low(cx: &Context, clear: f64) -> Finding {
    Finding::new("walls-too-low", Verdict::Refuse, format!("{}/height_mm", cx.at))
        .have("clear_height_mm", clear)
        .need("clear_height_mm", SMALLEST_CELL_MM)
        .why(format!(
            "Between floor and dividers' tops {clear:.1} mm would be left, {:.1} mm too little to hold anything.",
            SMALLEST_CELL_MM - clear
        ))
}

fn too_few_cells(cx: &Context, cells: usize) -> Finding {
    Finding::new("too-few-compartments", Verdict::Refuse, format!("{}/things", cx.at))
        .have("compartments", cells)
        .need("compartments", cx.things.len())
        .why(format!(
            "{} things were given to {cells} compartments: {} have none.",
            cx.things.len(),
            cx.things.len() - cells
        ))
}
