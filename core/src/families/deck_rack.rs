//! Deck rack: upright things in the openings of one or two decks.

use super::boxes::{FloorKind, RANK_INNER, Shell, ShellPlan, level_slab, raise_mm, shell};
use super::deck_plan::{Filled, Foot, narrowest};
use super::{About, Context, Family, HolderSpec, Room, Thicker, Wanted};
use crate::assembly::{Assembly, Berth, Grain, Joint, Opening, Panel, PanelId, Reach, Role};
use crate::finding::{Finding, Verdict};
use crate::geom::{DVec3, Frame};
use crate::material::Role as Use;
use crate::things::Thing;

crate::holder! {
    /// Things that stand upright in the openings of a deck above a floor; a second deck low down where
    /// one alone would not hold them.
    pub struct DeckRack {
        numbers {
            /// Height of the deck's upper face above the underside; about 0.45 of the shortest thing when left out.
            deck_height_mm: opt(12.0, 600.0, "mm"),
            /// Clearance round each thing, on its diameter; 1.0 for what is rigid, 1.5 for a bottle, a tube or a spread of brands when left out.
            clearance_mm: opt(0.3, 10.0, "mm"),
            /// Air between bodies of things that do not stand 20 proud of the deck.
            finger_gap_mm: def(0.0, 80.0, "mm", 18.0),
            /// How far a captured or loose floor is raised off the walls' lower edge; as far as its slots (or its ledges') need when left out.
            floor_raise_mm: opt(0.0, 60.0, "mm"),
        }
        fields {
            /// Whether there is a second deck low down; left out, there is one where the upper deck alone would not hold a thing in a slam.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub lower_deck: Option<bool>,
            /// How the floor is held.
            #[serde(default)]
            pub floor: FloorKind,
        }
    }
}

/// What this family tells about itself.
pub const ABOUT: About = About {
    tag: "deck-rack",
    title: "Upright things in the openings of a deck",
    what: "Four walls, a floor, and one or two level decks with an opening for each thing: sized by the thing, or by the largest of a spread of brands.",
    example,
    rows: DeckRack::ROWS,
};

fn example() -> serde_json::Value {
    serde_json::json!({
        "name": "Bench drawer 4, cans and keys",
        "space": { "kind": "drawer", "width_mm": [420.2, 419.8], "depth_mm": [300.4, 300.9], "clear_height_mm": 152 },
        "cutter": "co2-600x400",
        "stocks": [ { "id": "A", "material": "birch-ply-3", "readings_mm": [3.08, 3.12, 3.05, 3.10], "kerf_mm": 0.18 } ],
        "things": [
            { "id": "grease can", "count": 4, "shape": { "kind": "can", "diameter_mm": 52, "overall_mm": 118 } },
            { "id": "light cell", "count": 8, "shape": { "kind": "can", "diameter_mm": 14.5, "overall_mm": 50.5 } },
            { "id": "hex bit 6", "count": 6, "shape": { "kind": "bar", "across_flats_mm": 6, "length_mm": 60 } }
        ],
        "holders": [ { "family": "deck-rack", "things": ["grease can", "light cell", "hex bit 6"], "stock": "A" } ]
    })
}

/// A deck stands at this share of the shortest thing's height (common practice: 1/3 to 2/3).
const DECK_SHARE: f64 = 0.45;
/// … and not below this one.
const LOWEST_SHARE: f64 = 1.0 / 3.0;
/// What stands this far proud of the deck is taken by its top (common practice: warn below 20).
const PROUD_MM: f64 = 20.0;
/// The lower deck's upper face above the floor, mm (common practice: 8 to 12).
const LOWER_DECK_MM: f64 = 10.0;
/// No deck is lower than this above the floor, mm.
const LOWEST_DECK_MM: f64 = 12.0;
/// Clearance on the diameter of a rigid thing, mm (common practice).
const RIGID_MM: f64 = 1.0;
/// The same of what can be squeezed or changes brand, mm (common practice).
const SOFT_MM: f64 = 1.5;
/// Between openings, in thicknesses of the deck (common practice: warn below 2), with a little for readings.
const WEB_PER_THICKNESS: f64 = 2.05;
/// … and never less than this, mm (common practice in 3 mm ply).
const WEB_MM: f64 = 5.0;
/// Between an opening and the walls: room for the tabs' shoulders and a web, in thicknesses.
const RIM_PER_THICKNESS: f64 = 3.2;
/// Wall above the deck's slots, in wall thicknesses (common practice: slot to edge default 3).
const EDGE_PER_THICKNESS: f64 = 3.0;
/// Sheets are up to a tenth thicker than their label says; what a label reckons has room for that.
const THICKER: f64 = 1.1;
/// Stand-in for a wall's height while none is known, mm.
const LOWEST_WALL_MM: f64 = 20.0;

/// Everything that is decided before a panel is placed.
struct Plan {
    filled: Option<Filled>,
    outer: (f64, f64),
    deck_top: f64,
    height: f64,
    lower: bool,
    floor_top: f64,
}

impl DeckRack {
    fn clearance(&self, thing: &Thing) -> f64 {
        let spread = thing.diameters().is_some_and(|d| d.largest_mm - d.smallest_mm > 1e-9);
        let soft = matches!(thing.kind(), "bottle" | "tube") || spread;
        self.clearance_mm.unwrap_or(if soft { SOFT_MM } else { RIGID_MM })
    }

    fn floor_top(&self, cx: &Context) -> f64 {
        self.floor_raise(cx, cx.t(cx.floor))
    }

    /// The upper face of a floor of thickness `t`.
    fn floor_raise(&self, cx: &Context, t: f64) -> f64 {
        match self.floor {
            FloorKind::None => 0.0,
            FloorKind::Fingers => t,
            FloorKind::Captured | FloorKind::Loose => raise_mm(cx, self.floor, self.floor_raise_mm) + t,
        }
    }

    /// Height of the deck over the floor: near 0.45 of the shortest thing, high enough that a slam does
    /// not lever a thing out (h_cm − D/(2a), common practice), low enough that it can be taken; and
    /// whether a second deck is needed because those two disagree.
    fn deck_over_floor(&self, cx: &Context) -> (f64, bool) {
        let shortest = cx.things.iter().map(|w| w.thing.solid().height()).fold(f64::INFINITY, f64::min);
        if !shortest.is_finite() {
            return (LOWEST_DECK_MM, false);
        }
        let slam = cx.space.slam_g();
        let levered = |w: &Wanted| {
            if slam <= 0.0 {
                return 0.0;
            }
            w.thing.centre_of_mass_mm() - w.thing.solid().max_radius() / slam
        };
        let need = cx.things.iter().map(levered).fold(LOWEST_DECK_MM, f64::max);
        // walls stand above the deck's slots, and what stands proud is taken above them
        let walls = EDGE_PER_THICKNESS * THICKER * cx.label(cx.panels);
        let most = (shortest - PROUD_MM - walls).max(shortest * LOWEST_SHARE);
        let height = match self.deck_height_mm {
            Some(h) => h - self.floor_top(cx),
            None => (shortest * DECK_SHARE).max(need).min(most).max(LOWEST_DECK_MM),
        };
        let room_for_two = height > LOWER_DECK_MM + 2.0 * cx.t(cx.inner) + LOWEST_DECK_MM;
        (height, self.lower_deck.unwrap_or(need > height && room_for_two))
    }

    fn plan(&self, cx: &Context) -> Plan {
        // outer sizes are reckoned from labels: another reading of the sheets must not change them
        let (wall, deck) = (THICKER * cx.label(cx.panels), THICKER * cx.label(cx.inner));
        let floor_top = self.floor_top(cx);
        let (over, lower) = self.deck_over_floor(cx);
        let deck_top = match self.deck_height_mm {
            Some(h) => h,
            None => self.floor_raise(cx, THICKER * cx.label(cx.floor)) + over,
        };
        let web = (WEB_PER_THICKNESS * deck).max(WEB_MM);
        let rim = RIM_PER_THICKNESS * deck;
        let feet: Vec<Foot> = cx.things.iter().flat_map(|w| self.feet(w, over)).collect();
        let room = (
            self.width_mm.unwrap_or(cx.room.width_mm) - 2.0 * wall,
            self.depth_mm.unwrap_or(cx.room.depth_mm) - 2.0 * wall,
        );
        let filled = narrowest(&feet, room.0, room.1, web, rim);
        let size = filled.as_ref().map_or((0.0, 0.0), |f| f.size);
        Plan {
            outer: (self.width_mm.unwrap_or(size.0 + 2.0 * wall), self.depth_mm.unwrap_or(size.1 + 2.0 * wall)),
            filled,
            deck_top,
            height: self.height_mm.unwrap_or(deck_top + EDGE_PER_THICKNESS * wall).max(LOWEST_WALL_MM),
            lower,
            floor_top,
        }
    }

    /// One foot for each piece of a thing. What stands 20 proud is taken by its top and needs no gap.
    fn feet(&self, w: &Wanted, deck_over_floor: f64) -> Vec<Foot> {
        let solid = w.thing.solid();
        let c = self.clearance(w.thing);
        let across = |d: DVec3| solid.extent(d) + solid.extent(-d);
        let body = (across(DVec3::X), across(DVec3::Y));
        let proud = solid.height() - deck_over_floor;
        let gap = if proud >= PROUD_MM { 0.0 } else { self.finger_gap_mm() };
        vec![Foot { thing: w.index, hole: (body.0 + c, body.1 + c), body, gap }; w.thing.count()]
    }
}

impl Family for DeckRack {
    fn size(&self, cx: &Context) -> Room {
        let plan = self.plan(cx);
        Room { width_mm: plan.outer.0, depth_mm: plan.outer.1, height_mm: plan.height }
    }

    fn in_board(&self, cx: &Context, _: Thicker) -> HolderSpec {
        let plan = self.plan(cx);
        HolderSpec::DeckRack(Self {
            width_mm: Some(plan.outer.0),
            depth_mm: Some(plan.outer.1),
            height_mm: Some(plan.height),
            deck_height_mm: Some(plan.deck_top),
            lower_deck: Some(plan.lower),
            ..self.clone()
        })
    }

    fn sample(&self, cx: &Context, thing: Option<&str>) -> Option<HolderSpec> {
        let plan = self.plan(cx);
        Some(HolderSpec::DeckRack(Self {
            width_mm: None,
            depth_mm: None,
            height_mm: Some(plan.height),
            deck_height_mm: Some(plan.deck_top),
            lower_deck: Some(plan.lower),
            things: thing.map(str::to_owned).into_iter().collect(),
            ..self.clone()
        }))
    }

    fn build(&self, cx: &Context, out: &mut Vec<Finding>) -> Option<Assembly> {
        let plan = self.plan(cx);
        let filled = fits(cx, &plan, out)?;
        let mut a = Assembly::default();
        let walls = ShellPlan {
            width: plan.outer.0,
            depth: plan.outer.1,
            height: plan.height,
            lean_x: 0.0,
            lean_y: 0.0,
            floor: self.floor,
            raise: raise_mm(cx, self.floor, self.floor_raise_mm),
            joined: true,
            short: 0.0,
        };
        let shell = shell(cx, &mut a, &walls)?;
        let mut decks = vec![deck(cx, &mut a, &shell, &walls, "deck", plan.deck_top)];
        if plan.lower {
            decks.push(deck(cx, &mut a, &shell, &walls, "lower deck", plan.floor_top + LOWER_DECK_MM));
        }
        let wall = cx.t(cx.panels);
        // what is left over lies evenly on both sides
        let side =
            ((plan.outer.0 - 2.0 * wall - filled.size.0) / 2.0, (plan.outer.1 - 2.0 * wall - filled.size.1) / 2.0);
        for spot in &filled.spots {
            let Some(w) = cx.things.iter().find(|w| w.index == spot.thing) else { continue };
            let origin = DVec3::new(wall + side.0 + spot.x, wall + side.1 + spot.y, plan.floor_top);
            let clearance_mm = self.clearance(w.thing);
            a.berths.push(Berth {
                thing: spot.thing,
                solid: w.thing.solid().clone(),
                pose: Frame { origin, ..Frame::WORLD },
                way_out: DVec3::Z,
                openings: decks.iter().map(|panel| Opening { panel: *panel, clearance_mm, open: false }).collect(),
            });
        }
        Some(a)
    }
}

/// A level deck with its upper face at `top`, tabbed through all four walls.
fn deck(cx: &Context, a: &mut Assembly, shell: &Shell, plan: &ShellPlan, name: &str, top: f64) -> PanelId {
    let t = cx.t(cx.inner);
    let id = a.add(Panel {
        name: name.to_owned(),
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
        a.meet(id, wall, Joint::Tab { reach: Reach::Flush }, cx.fit(cx.panels, Use::Floor));
    }
    id
}

/// Whether all things go in; says how much is missing.
fn fits<'p>(cx: &Context, plan: &'p Plan, out: &mut Vec<Finding>) -> Option<&'p Filled> {
    if cx.things.is_empty() {
        out.push(
            Finding::new("holder-without-things", Verdict::Refuse, format!("{}/things", cx.at))
                .have("things", 0.0)
                .need("things", 1.0)
                .why("A deck rack is cut for its things: it needs at least one."),
        );
        return None;
    }
    let wall = 2.0 * cx.laid_t(cx.panels);
    let Some(filled) = &plan.filled else {
        let widest = cx.things.iter().map(|w| 2.0 * w.thing.solid().max_radius()).fold(0.0, f64::max);
        let need = widest + wall + 2.0 * RIM_PER_THICKNESS * cx.t(cx.inner);
        out.push(
            Finding::new("does-not-fit", Verdict::Refuse, cx.at)
                .have("width_mm", cx.room.width_mm)
                .need("width_mm", need)
                .why(format!(
                    "The widest thing needs {need:.1} mm of width with its web and walls; there is {:.1}, {:.1} too little.",
                    cx.room.width_mm,
                    need - cx.room.width_mm
                )),
        );
        return None;
    };
    let (need, have) = (filled.size.1 + wall, plan.outer.1.min(cx.room.depth_mm));
    if need > have + 1e-6 {
        let fit = filled.spots.iter().filter(|s| s.y <= have - wall).count();
        out.push(
            Finding::new("does-not-fit", Verdict::Refuse, cx.at)
                .have("depth_mm", have)
                .have("things_that_fit", fit)
                .need("depth_mm", need)
                .need("things", filled.spots.len())
                .why(format!(
                    "{} things in rows need {need:.1} mm of depth; there is {have:.1}, {:.1} too little: about {fit} would go in.",
                    filled.spots.len(),
                    need - have
                )),
        );
        return None;
    }
    Some(filled)
}
