//! The shell that several families share: four walls, upright or leaning out, and a floor.

use super::Context;
use crate::assembly::{Assembly, Grain, Joint, Panel, PanelId, Reach, Role};
use crate::geom::{DVec3, Frame, HalfSpace, Slab};
use crate::material::Role as Use;

/// How the floor is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, serde::Serialize, serde::Deserialize, utoipa::ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum FloorKind {
    /// Fingered to all four walls, flush with their lower edges.
    #[default]
    Fingers,
    /// Tabs through closed slots in the walls, raised off their lower edges.
    Captured,
    /// Loose on ledges along the front and back walls, to be taken out for cleaning; on the space's own
    /// floor where it is not raised high enough for ledges.
    Loose,
    /// No floor: a frame.
    None,
}

/// What a shell is to be.
#[derive(Clone, Copy, Debug)]
pub struct ShellPlan {
    /// Outer size at the lower edge: width and depth, and the vertical height.
    pub width: f64,
    /// Outer depth at the lower edge.
    pub depth: f64,
    /// Height of the walls.
    pub height: f64,
    /// How far the left and right walls lean out from the vertical, rad.
    pub lean_x: f64,
    /// How far the front and back walls lean out.
    pub lean_y: f64,
    /// How the floor is held.
    pub floor: FloorKind,
    /// How far the floor's underside stands above the walls' lower edges (captured or loose), mm.
    pub raise: f64,
    /// Whether neighbouring walls are fingered together; else they stop short with the corner open.
    pub joined: bool,
    /// With open corners: how far each wall stops short of its neighbour's outer plane, mm.
    pub short: f64,
}

/// The panels of a shell.
#[derive(Clone, Copy, Debug)]
pub struct Shell {
    /// Wall at y = 0.
    pub front: PanelId,
    /// Wall at y = depth.
    pub back: PanelId,
    /// Wall at x = 0.
    pub left: PanelId,
    /// Wall at x = width.
    pub right: PanelId,
    /// The floor, if there is one.
    pub floor: Option<PanelId>,
    /// z of the floor's upper face (0 without a floor).
    pub floor_top: f64,
}

impl Shell {
    /// The four walls: front, back, left, right.
    #[must_use]
    pub fn walls(&self) -> [PanelId; 4] {
        [self.front, self.back, self.left, self.right]
    }
}

/// Front and back own the corner cubes, then left and right, then the floor, then what is inside.
pub const RANK_FRONT: u32 = 40;
/// Left and right walls.
pub const RANK_SIDE: u32 = 30;
/// Floors.
pub const RANK_FLOOR: u32 = 20;
/// Dividers, decks, plates.
pub const RANK_INNER: u32 = 10;

/// A wall's slab: its outer face passes through `edge` at the lower edge, leans out by `lean` away from
/// `inward`, and its own z points outward, so that marks are on the hidden side.
fn wall_slab(edge: DVec3, inward: DVec3, lean: f64, t: f64) -> Option<Slab> {
    let (sin, cos) = libm::sincos(lean);
    // outward normal of a wall that leans out: it also looks down
    let out = -inward * cos - DVec3::Z * sin;
    let along = DVec3::Z.cross(out);
    let frame = Frame::new(edge - out * t, out, along)?;
    Some(Slab { frame, thickness: t })
}

/// Level slab with its lower face at `z`; own z points down when the underside is the hidden one.
#[must_use]
pub fn level_slab(z: f64, t: f64, marks_below: bool) -> Slab {
    let frame = if marks_below {
        Frame { origin: DVec3::new(0.0, 0.0, z + t), x: DVec3::X, y: -DVec3::Y, z: -DVec3::Z }
    } else {
        Frame { origin: DVec3::new(0.0, 0.0, z), ..Frame::WORLD }
    };
    Slab { frame, thickness: t }
}

/// Upright slab whose own z points along `normal` (level), its first face at `place` along it.
#[must_use]
pub fn upright_slab(place: f64, normal: DVec3, t: f64) -> Option<Slab> {
    Some(Slab { frame: Frame::new(normal * place, normal, DVec3::Z.cross(normal))?, thickness: t })
}

/// Places walls and floor, with their meetings.
#[must_use]
pub fn shell(cx: &Context, assembly: &mut Assembly, plan: &ShellPlan) -> Option<Shell> {
    let (w, d, h) = (plan.width, plan.depth, plan.height);
    let t = cx.t(cx.panels);
    let level = [HalfSpace::beyond(DVec3::new(0.0, 0.0, h), DVec3::Z), HalfSpace::beyond(DVec3::ZERO, -DVec3::Z)];
    let mut wall = |name: &str, edge: DVec3, inward: DVec3, lean: f64, rank: u32| {
        let slab = wall_slab(edge, inward, lean, t)?;
        let middle = DVec3::new(w / 2.0, d / 2.0, 0.0);
        let up = slab.frame.y * if slab.frame.y.z >= 0.0 { 1.0 } else { -1.0 };
        let foot = edge + (middle - edge).reject_from(inward);
        let long = if inward.x == 0.0 { w } else { d };
        Some(assembly.add(Panel {
            name: name.to_owned(),
            role: Role::Wall,
            stock: cx.panels,
            slab,
            seed: foot + up * (h / libm::cos(lean) / 2.0) - slab.frame.z * (t / 2.0),
            bounds: level.to_vec(),
            rank,
            tools: vec![],
            grain: Grain::along_longer(long, h),
        }))
    };
    let front = wall("front", DVec3::ZERO, DVec3::Y, plan.lean_y, RANK_FRONT)?;
    let back = wall("back", DVec3::new(0.0, d, 0.0), -DVec3::Y, plan.lean_y, RANK_FRONT)?;
    let left = wall("left", DVec3::ZERO, DVec3::X, plan.lean_x, RANK_SIDE)?;
    let right = wall("right", DVec3::new(w, 0.0, 0.0), -DVec3::X, plan.lean_x, RANK_SIDE)?;
    let square = plan.lean_x == 0.0 && plan.lean_y == 0.0;
    let corner = cx.fit(cx.panels, Use::Corner);
    if plan.joined {
        for a in [front, back] {
            for b in [left, right] {
                assembly.meet(a, b, Joint::Corner, corner);
            }
        }
    } else {
        stop_short(assembly, &[front, back], [left, right], plan.short);
        stop_short(assembly, &[left, right], [front, back], plan.short);
    }
    let mut made = Shell { front, back, left, right, floor: None, floor_top: 0.0 };
    if plan.floor != FloorKind::None {
        add_floor(cx, assembly, plan, &mut made, square);
    }
    Some(made)
}

/// Limits each wall so that it stays `short` inside its neighbours' outer planes.
fn stop_short(assembly: &mut Assembly, walls: &[PanelId], neighbours: [PanelId; 2], short: f64) {
    for w in walls.iter().copied() {
        let seed = assembly.panel(w).seed;
        for n in neighbours {
            let mut h = assembly.panel(n).slab.far_face(seed);
            h.limit -= short;
            assembly.panels[w.0].bounds.push(h);
        }
    }
}

fn add_floor(cx: &Context, assembly: &mut Assembly, plan: &ShellPlan, made: &mut Shell, square: bool) {
    let t = cx.t(cx.floor);
    let z = if plan.floor == FloorKind::Fingers { 0.0 } else { plan.raise };
    let floor = assembly.add(Panel {
        name: "floor".to_owned(),
        role: Role::Floor,
        stock: cx.floor,
        slab: level_slab(z, t, true),
        seed: DVec3::new(plan.width / 2.0, plan.depth / 2.0, z + t / 2.0),
        bounds: vec![],
        rank: RANK_FLOOR,
        tools: vec![],
        grain: Grain::along_shorter(plan.width, plan.depth),
    });
    made.floor = Some(floor);
    made.floor_top = z + t;
    for wall in made.walls() {
        match plan.floor {
            FloorKind::Fingers => {
                assembly.meet(
                    floor,
                    wall,
                    Joint::Corner,
                    cx.fit(cx.panels, if square { Use::Floor } else { Use::Oblique }),
                );
            }
            FloorKind::Captured => assembly.meet(
                floor,
                wall,
                Joint::Tab { reach: Reach::Flush },
                cx.fit(cx.panels, if square { Use::Floor } else { Use::Oblique }),
            ),
            FloorKind::Loose => assembly.meet(floor, wall, Joint::Rest, cx.fit(cx.panels, Use::Ledge)),
            FloorKind::None => {}
        }
    }
    if plan.floor == FloorKind::Loose && plan.raise >= LEDGE_EDGE_PER_T * cx.t(cx.panels) + cx.t(cx.panels) {
        add_ledges(cx, assembly, plan, made, square);
    }
}

/// Two level strips under a loose floor, tabbed through the front and back walls.
fn add_ledges(cx: &Context, assembly: &mut Assembly, plan: &ShellPlan, made: &Shell, square: bool) {
    let t = cx.t(cx.panels);
    let wide = (LEDGE_PER_T * t).max(LEDGE_MM);
    let (sin, cos) = libm::sincos(plan.lean_y);
    // the walls' inner faces at the ledge's upper face, from which the ledge reaches inward
    let inner = t / cos - plan.raise * sin / cos;
    for (name, wall, inward, edge) in [
        ("ledge front", made.front, DVec3::Y, inner + wide),
        ("ledge back", made.back, -DVec3::Y, plan.depth - inner - wide),
    ] {
        let rim = DVec3::new(0.0, edge, 0.0);
        let ledge = assembly.add(Panel {
            name: name.to_owned(),
            role: Role::Ledge,
            stock: cx.panels,
            slab: level_slab(plan.raise - t, t, true),
            seed: DVec3::new(plan.width / 2.0, edge, plan.raise - t / 2.0) - inward * (wide / 2.0),
            bounds: vec![HalfSpace::beyond(rim, inward)],
            rank: RANK_INNER,
            tools: vec![],
            grain: Grain::along_longer(plan.width, wide),
        });
        let fit = if square { Use::Floor } else { Use::Oblique };
        assembly.meet(ledge, wall, Joint::Tab { reach: Reach::Flush }, cx.fit(cx.panels, fit));
        for side in [made.left, made.right] {
            assembly.meet(ledge, side, Joint::Rest, cx.fit(cx.panels, Use::Ledge));
        }
        if !plan.joined {
            // like the walls, it stays out of a rounded corner
            stop_short(assembly, &[ledge], [made.left, made.right], plan.short);
        }
    }
}

/// A ledge is this wide, in thicknesses (common practice: at least 2) …
const LEDGE_PER_T: f64 = 3.0;
/// … and at least this, mm (common practice: 6, and a little for a floor cut small).
const LEDGE_MM: f64 = 10.0;
/// Below a ledge's slots at least this much wall stays, in thicknesses (common practice: refuse below 1.5).
const LEDGE_EDGE_PER_T: f64 = 1.5;
/// Below a floor's slots this many of the label's thicknesses stay: two true ones (common practice) in a
/// sheet that is a tenth thicker than its label.
const RAISE_PER_LABEL: f64 = 2.25;
/// A ledge takes this many of the label's thicknesses of height, for the same reason.
const LEDGE_PER_LABEL: f64 = 1.1;

/// How far a floor's underside stands above the walls' lower edges: what the caller gave, or what its
/// slots (or its ledges' slots) need below them.
#[must_use]
pub fn raise_mm(cx: &Context, floor: FloorKind, given: Option<f64>) -> f64 {
    let label = cx.label(cx.panels);
    given.unwrap_or(match floor {
        FloorKind::Captured => RAISE_PER_LABEL * label,
        FloorKind::Loose => (RAISE_PER_LABEL + LEDGE_PER_LABEL) * label,
        FloorKind::Fingers | FloorKind::None => 0.0,
    })
}
