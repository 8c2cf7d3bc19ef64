//! Case liner: a tray whose walls lean with the walls of the case, with decks and dividers in it.

use super::boxes::{FloorKind, RANK_INNER, Shell, ShellPlan, level_slab, raise_mm, shell, upright_slab};
use super::{About, Context, Family, HolderSpec, Room, Thicker};
use crate::assembly::{Assembly, Bay, Grain, Joint, Panel, PanelId, Reach, Role};
use crate::finding::{Finding, Verdict};
use crate::geom::{DVec3, HalfSpace};
use crate::material::Role as Use;
use crate::spaces::Entry;

crate::holder! {
    /// A tray that follows the walls of its case. Its outer size and the lean of its walls come from
    /// the space; `width_mm` and `depth_mm`, where given, are those of its underside.
    pub struct CaseLiner {
        numbers {
            /// How many columns, side by side along the width.
            columns: def(1.0, 20.0, "1", 1.0),
            /// How many rows, one behind the other.
            rows: def(1.0, 20.0, "1", 1.0),
            /// Height of the upper face of each deck above the underside; no decks when left out.
            deck_heights_mm: optmany(10.0, 900.0, "mm"),
            /// How far the dividers stay below the walls' upper edge.
            divider_drop_mm: def(0.0, 200.0, "mm", 3.0),
            /// How far a captured or loose floor is raised off the walls' lower edge; as far as its slots (or its ledges') need when left out.
            floor_raise_mm: opt(0.0, 60.0, "mm"),
        }
        fields {
            /// How the floor is held.
            #[serde(default)]
            pub floor: FloorKind,
        }
    }
}

/// What this family tells about itself.
pub const ABOUT: About = About {
    tag: "case-liner",
    title: "Liner that follows a case's sloping walls",
    what: "Four trapezoid walls that lean with the case, fingered together with square edges, a floor, and decks and dividers cut for the height at which they lie.",
    example,
    rows: CaseLiner::ROWS,
};

fn example() -> serde_json::Value {
    serde_json::json!({
        "name": "Road-call case, liner",
        "space": { "kind": "case", "floor_mm": [372, 262], "slope_deg": 5, "height_mm": 98 },
        "cutter": "co2-600x400",
        "stocks": [ { "id": "A", "material": "birch-ply-3", "readings_mm": [3.08, 3.12, 3.05, 3.10], "kerf_mm": 0.18 } ],
        "things": [
            { "id": "tyre levers", "count": 4, "shape": { "kind": "loose", "piece_mm": [115, 18, 9] } },
            { "id": "patches", "count": 30, "shape": { "kind": "loose", "piece_mm": [25, 25, 1] } }
        ],
        "holders": [ { "family": "case-liner", "things": ["tyre levers", "patches"], "stock": "A", "height_mm": 70, "columns": 2 } ]
    })
}

/// How a liner's corners deal with a case that is rounded in plan.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Corners {
    /// Kept off each side so that square corners clear the rounding, mm.
    inset: f64,
    /// Whether the walls are fingered together.
    joined: bool,
    /// With open corners, how far each wall stops short of its neighbour's outer plane, mm.
    short: f64,
}

/// A square corner stands clear of a rounding of radius R when each side keeps (1 − 1/√2)·R off.
const SQUARE_IN_ROUND: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;

impl Corners {
    /// Keeps the corners 0.293·R inside, or lets the walls stop short: whichever leaves more room.
    fn choose(width: f64, depth: f64, radius: f64, t: f64) -> Self {
        let inset = SQUARE_IN_ROUND * radius;
        let joined = Self { inset, joined: true, short: 0.0 };
        if radius < CORNER_COUNTS_MM {
            return Self { inset: 0.0, ..joined };
        }
        // the chamfer is a chord of the rounding: its legs are R long at the outer corner
        let chamfer = (radius - 2.0 * t).max(0.0);
        let room = |off: f64| (width - 2.0 * (off + t)).max(0.0) * (depth - 2.0 * (off + t)).max(0.0);
        if room(inset) >= room(0.0) - 2.0 * chamfer * chamfer {
            joined
        } else {
            // walls that are not joined must not stand in one another either
            Self { inset: 0.0, joined: false, short: radius.max(t + APART_MM) }
        }
    }
}

/// Unjoined walls keep this much air, mm: a loose fit (common practice).
const APART_MM: f64 = 0.15;

/// A rounding smaller than this is a square corner, mm: less than the finest fit keeps off.
const CORNER_COUNTS_MM: f64 = 0.05;

impl CaseLiner {
    fn height(&self, cx: &Context) -> f64 {
        self.height_mm.unwrap_or(cx.room.height_mm)
    }

    fn plan(&self, cx: &Context) -> (ShellPlan, Corners) {
        let h = self.height(cx);
        let (low, high) = (cx.space.usable(0.0), cx.space.usable(h));

        let (width, depth) = (self.width_mm.unwrap_or(low.width_mm), self.depth_mm.unwrap_or(low.depth_mm));
        // the rounding where it stands, at its upper edge, and where it is let in
        let way_in = match cx.space.entry {
            Entry::Above(plan) => plan.corner_radius_mm,
            Entry::Front { .. } | Entry::Anywhere => 0.0,
        };
        let radius = low.corner_radius_mm.max(high.corner_radius_mm).max(way_in);
        let corners = Corners::choose(width, depth, radius, cx.t(cx.panels));
        let plan = ShellPlan {
            width: width - 2.0 * corners.inset,
            depth: depth - 2.0 * corners.inset,
            height: h,
            lean_x: cx.space.slope_x_rad(),
            lean_y: cx.space.slope_y_rad(),
            floor: self.floor,
            raise: raise_mm(cx, self.floor, self.floor_raise_mm),
            joined: corners.joined,
            short: corners.short,
        };
        (plan, corners)
    }
}

impl Family for CaseLiner {
    fn size(&self, cx: &Context) -> Room {
        let (plan, _) = self.plan(cx);
        Room { width_mm: plan.width, depth_mm: plan.depth, height_mm: plan.height }
    }

    fn in_board(&self, cx: &Context, _: Thicker) -> HolderSpec {
        HolderSpec::CaseLiner(Self { height_mm: Some(self.height(cx)), ..self.clone() })
    }

    fn sample(&self, _: &Context, _: Option<&str>) -> Option<HolderSpec> {
        // what is doubtful of a liner are its four sloping corners: it is tried whole
        None
    }

    fn build(&self, cx: &Context, out: &mut Vec<Finding>) -> Option<Assembly> {
        let (plan, corners) = self.plan(cx);
        let mut a = Assembly::default();
        let shell = shell(cx, &mut a, &plan)?;
        if let (false, Some(floor)) = (corners.joined, shell.floor) {
            chamfer(&mut a, floor, &plan, corners.short);
        }
        let decks = self.decks(cx, &mut a, &shell, &plan, out)?;
        if !corners.joined {
            for (deck, _) in &decks {
                chamfer(&mut a, *deck, &plan, corners.short);
            }
        }
        let foot = decks.last().map_or(shell.floor_top, |d| d.1);
        self.dividers(cx, &mut a, &shell, &plan, foot, decks.last().map(|d| d.0), out)?;
        Some(a)
    }
}

/// Cuts the four corners of a level panel at 45°, `leg` along each side from the outer corner.
fn chamfer(a: &mut Assembly, panel: PanelId, plan: &ShellPlan, leg: f64) {
    for (x, y) in [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)] {
        let corner = DVec3::new(if x > 0.0 { plan.width } else { 0.0 }, if y > 0.0 { plan.depth } else { 0.0 }, 0.0);
        let out = DVec3::new(x, y, 0.0);
        a.panels[panel.0].bounds.push(HalfSpace::beyond(corner - DVec3::X * x * leg, out));
    }
}

impl CaseLiner {
    /// Level decks, each as large as the walls leave at its height; lowest first, with upper faces.
    fn decks(
        &self,
        cx: &Context,
        a: &mut Assembly,
        shell: &Shell,
        plan: &ShellPlan,
        out: &mut Vec<Finding>,
    ) -> Option<Vec<(PanelId, f64)>> {
        let t = cx.t(cx.inner);
        let mut heights = self.deck_heights_mm.as_ref().map_or(vec![], |h| h.all().to_vec());
        heights.sort_by(f64::total_cmp);
        let (mut made, mut below) = (vec![], shell.floor_top);
        for (i, top) in heights.iter().enumerate() {
            let most = plan.height - EDGE_PER_THICKNESS * cx.t(cx.panels);
            let least = below + LEAST_STOREY_MM + t;
            if *top > most || *top < least {
                out.push(
                    Finding::new("deck-height", Verdict::Refuse, format!("{}/deck_heights_mm", cx.at))
                        .have("deck_height_mm", *top)
                        .need("min", least)
                        .need("max", most)
                        .why(format!(
                            "A deck at {top:.1} mm is {:.1} mm outside {least:.1} to {most:.1}: it needs room below and wall above its tabs.",
                            (top - most).max(least - top)
                        )),
                );
                return None;
            }
            let deck = a.add(Panel {
                name: format!("deck {}", i + 1),
                role: Role::Deck,
                stock: cx.inner,
                slab: level_slab(top - t, t, true),
                seed: DVec3::new(plan.width / 2.0, plan.depth / 2.0, top - t / 2.0),
                bounds: vec![],
                rank: RANK_INNER,
                tools: vec![],
                grain: Grain::along_shorter(plan.width, plan.depth),
            });
            for wall in shell.walls() {
                a.meet(deck, wall, Joint::Tab { reach: Reach::Flush }, cx.fit(cx.panels, lean_fit(plan)));
            }
            made.push((deck, *top));
            below = *top;
        }
        Some(made)
    }

    /// Upright dividers between floor (or the highest deck) and just below the rim. They stand upright
    /// between leaning walls, so their ends slope and their tabs go through oblique slots.
    #[allow(clippy::too_many_arguments)]
    fn dividers(
        &self,
        cx: &Context,
        a: &mut Assembly,
        shell: &Shell,
        plan: &ShellPlan,
        foot: f64,
        deck: Option<PanelId>,
        out: &mut Vec<Finding>,
    ) -> Option<()> {
        let (t, wall) = (cx.t(cx.inner), cx.t(cx.panels));
        let top = plan.height - self.divider_drop_mm();
        let cells = |n: f64, outer: f64| {
            let n = n.round().max(1.0);
            let clear = (outer - 2.0 * wall - (n - 1.0) * t) / n;
            (0..n as usize).map(|i| wall + i as f64 * (clear + t)).map(|at| (at, at + clear)).collect::<Vec<_>>()
        };
        let (x, y) = (cells(self.columns(), plan.width), cells(self.rows(), plan.depth));
        let smallest = x.iter().chain(&y).map(|c| c.1 - c.0).fold(top - foot, f64::min);
        if smallest < LEAST_STOREY_MM {
            out.push(
                Finding::new("compartment-too-small", Verdict::Refuse, cx.at)
                    .have("clear_mm", smallest)
                    .need("clear_mm", LEAST_STOREY_MM)
                    .why(format!(
                        "A compartment would be {smallest:.1} mm clear, {:.1} mm too little.",
                        LEAST_STOREY_MM - smallest
                    )),
            );
            return None;
        }
        let base = deck.or(shell.floor);
        let mut put = |name: String, normal: DVec3, at: f64, ends: [PanelId; 2]| {
            let middle = DVec3::new(plan.width / 2.0, plan.depth / 2.0, (foot + top) / 2.0);
            let mut bounds = vec![HalfSpace::beyond(DVec3::Z * top, DVec3::Z)];
            if base.is_none() || (deck.is_none() && self.floor == FloorKind::Loose) {
                bounds.push(HalfSpace::beyond(DVec3::Z * foot, -DVec3::Z));
            }
            let tabbed = bounds.len() == 1;
            let id = a.add(Panel {
                name,
                role: Role::Divider,
                stock: cx.inner,
                slab: upright_slab(at, normal, t)?,
                seed: middle.reject_from(normal) + normal * (at + t / 2.0),
                bounds,
                rank: RANK_INNER,
                tools: vec![],
                grain: Grain::along_longer(if normal == DVec3::X { plan.depth } else { plan.width }, top - foot),
            });
            for end in ends {
                a.meet(id, end, Joint::Tab { reach: Reach::Flush }, cx.fit(cx.panels, lean_fit(plan)));
            }
            if let (true, Some(base)) = (tabbed, base) {
                let host = a.panel(base).stock;
                a.meet(id, base, Joint::Tab { reach: Reach::Flush }, cx.fit(host, Use::Divider));
            }
            Some(id)
        };
        let along: Vec<PanelId> = x
            .windows(2)
            .enumerate()
            .map(|(i, w)| put(format!("divider along {}", i + 1), DVec3::X, w[0].1, [shell.front, shell.back]))
            .collect::<Option<_>>()?;
        let across: Vec<PanelId> = y
            .windows(2)
            .enumerate()
            .map(|(i, w)| put(format!("divider across {}", i + 1), DVec3::Y, w[0].1, [shell.left, shell.right]))
            .collect::<Option<_>>()?;
        for p in &along {
            for q in &across {
                a.meet(*p, *q, Joint::Lap { depth_share: 0.5 }, cx.fit(cx.inner, Use::Divider));
            }
        }
        let mut things = cx.things.iter().map(|w| w.index);
        for row in &y {
            for column in &x {
                a.bays.push(Bay { x: *column, y: *row, z: (foot, top), thing: things.next() });
            }
        }
        let left_over = things.count();
        if left_over > 0 {
            out.push(
                Finding::new("too-few-compartments", Verdict::Refuse, format!("{}/things", cx.at))
                    .have("compartments", x.len() * y.len())
                    .need("compartments", cx.things.len())
                    .why(format!("{left_over} of {} things have no compartment of their own.", cx.things.len())),
            );
        }
        Some(())
    }
}

/// Below a deck, and in a compartment, at least this much stays clear, mm: a finger lies flat in it.
const LEAST_STOREY_MM: f64 = 8.0;
/// Wall above a deck's slots, in wall thicknesses (common practice: slot to edge default 3).
const EDGE_PER_THICKNESS: f64 = 3.0;

/// Joints at leaning walls need the oblique fit.
fn lean_fit(plan: &ShellPlan) -> Use {
    if plan.lean_x == 0.0 && plan.lean_y == 0.0 { Use::Divider } else { Use::Oblique }
}
