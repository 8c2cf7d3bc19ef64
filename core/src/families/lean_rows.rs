//! One row of a lean rack, seen from the side: its things, the boards that hold them, and how far
//! each row stands behind the one in front.
//!
//! Places are in a row's own side view: zero is the line on the floor on which the lowest rims of
//! its things rest; `s` runs along the axes to the noses, `p` square to them, upward.

use super::rows::{CLEAR_MM, Item, half_below_mm};
use super::side_view::{Outline, clear, extent, moved, of_thing, push_mm};
use crate::geom::{DVec2, DVec3, Frame};
use crate::things::{Solid, Thing};

/// The lean of a row.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Slope {
    /// Angle of the axes above the horizontal.
    pub deg: f64,
    /// Its sine.
    pub sin: f64,
    /// Its cosine.
    pub cos: f64,
}

impl Slope {
    /// The slope of an angle.
    #[must_use]
    pub fn of_deg(deg: f64) -> Self {
        let (sin, cos) = libm::sincos(deg.to_radians());
        Self { deg, sin, cos }
    }
    /// Along the axes, to the noses: forward and up.
    #[must_use]
    pub fn axis(&self) -> DVec2 {
        DVec2::new(-self.cos, self.sin)
    }
    /// Square to the axes: back and up.
    #[must_use]
    pub fn up(&self) -> DVec2 {
        DVec2::new(self.sin, self.cos)
    }
    /// Where the centre of a thing's base is, `p` over the row's zero, so that its lowest point is on the floor.
    #[must_use]
    pub fn base_over_mm(&self, solid: &Solid) -> f64 {
        solid.base_above_lowest(self.deg) / self.cos
    }
    /// The pose of a thing at `x` along the width, the row's zero being at `zero` (y, z).
    #[must_use]
    pub fn pose(&self, solid: &Solid, x: f64, zero: DVec2) -> Frame {
        let base = zero + self.up() * self.base_over_mm(solid);
        let (a, u) = (self.axis(), self.up());
        Frame {
            origin: DVec3::new(x, base.x, base.y),
            x: DVec3::X,
            y: DVec3::new(0.0, u.x, u.y),
            z: DVec3::new(0.0, a.x, a.y),
        }
    }
}

/// What a board does in its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    /// Square to the axes, behind the bases.
    Foot,
    /// Square to the axes, the things pass through it.
    Deck,
    /// Upright, the things pass through it.
    Cross,
    /// Upright, behind the bases.
    Stop,
}

/// A board from side to side of the rack, seen from its end.
#[derive(Clone, Copy, Debug)]
pub struct Board {
    /// What it does.
    pub part: Part,
    /// A point of the face at its own z = 0.
    pub origin: DVec2,
    /// Its own z: away from the face that is seen.
    pub normal: DVec2,
    /// In its plane, upward.
    pub across: DVec2,
    /// From and to along `across`, measured from the row's zero.
    pub reach: (f64, f64),
    /// Its thickness.
    pub t: f64,
    /// Whether tabs hold it in the sides.
    pub tabbed: bool,
    /// Whether it stands on the floor, with tabs in it where there is a floor.
    pub stands: bool,
}

impl Board {
    /// Its outline.
    #[must_use]
    pub fn outline(&self) -> Outline {
        let at = |w: f64, z: f64| self.origin + self.across * (w - self.across.dot(self.origin)) + self.normal * z;
        vec![at(self.reach.0, 0.0), at(self.reach.1, 0.0), at(self.reach.1, self.t), at(self.reach.0, self.t)]
    }
    /// Whether things pass through it.
    #[must_use]
    pub fn opens(&self) -> bool {
        matches!(self.part, Part::Deck | Part::Cross)
    }
}

/// One row.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its things, from the left.
    pub items: Vec<Item>,
    /// How they lean.
    pub slope: Slope,
    /// What holds them.
    pub boards: Vec<Board>,
    /// y of the row's zero.
    pub y: f64,
    bodies: Vec<Outline>,
    ways: Vec<Outline>,
}

/// A thing on its way out is followed this far, mm: farther than any rack is deep.
const WAY_MM: f64 = 3000.0;

impl Row {
    /// A row that stands nowhere yet. `way` is the direction in which its things are taken out.
    #[must_use]
    pub fn new(items: Vec<Item>, slope: Slope, boards: Vec<Board>, way: DVec2, thing: &dyn Fn(&Item) -> Solid) -> Self {
        let mut kinds: Vec<Item> = vec![];
        for i in &items {
            if kinds.iter().all(|k| k.which != i.which) {
                kinds.push(*i);
            }
        }
        let seen = |by: DVec2| {
            kinds
                .iter()
                .map(|i| {
                    let solid = thing(i);
                    of_thing(&solid, &slope.pose(&solid, 0.0, DVec2::ZERO), by)
                })
                .collect()
        };
        Self { bodies: seen(DVec2::ZERO), ways: seen(way * WAY_MM), items, slope, boards, y: 0.0 }
    }

    fn fixed(&self) -> impl Iterator<Item = Outline> + '_ {
        self.boards.iter().map(Board::outline).chain(self.bodies.iter().cloned())
    }
    /// Front and rear of everything in it.
    #[must_use]
    pub fn reach_y(&self) -> (f64, f64) {
        self.fixed().fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), o| {
            (lo.min(-extent(&o, -DVec2::X) + self.y), hi.max(extent(&o, DVec2::X) + self.y))
        })
    }
    /// Front and rear of the slots that its boards need in the sides: all but a shoulder at either edge.
    fn slots_y(&self) -> (f64, f64) {
        let slots = self.boards.iter().filter(|b| b.tabbed).map(|b| {
            let shoulder = b.t.min((b.reach.1 - b.reach.0) / 2.0);
            Board { reach: (b.reach.0 + shoulder, b.reach.1 - shoulder), ..*b }.outline()
        });
        slots.fold((f64::INFINITY, f64::NEG_INFINITY), |(lo, hi), o| {
            (lo.min(-extent(&o, -DVec2::X) + self.y), hi.max(extent(&o, DVec2::X) + self.y))
        })
    }
    /// Where the inner face of a back wall may be: clear of everything, `web` behind the slots.
    #[must_use]
    pub fn wall_behind(&self, web: f64) -> f64 {
        (self.reach_y().1 + CLEAR_MM).max(self.slots_y().1 + web)
    }
    /// Highest point of its boards over the floor.
    #[must_use]
    pub fn boards_top(&self) -> f64 {
        self.boards.iter().map(|b| extent(&b.outline(), DVec2::Y)).fold(0.0, f64::max)
    }
    /// Highest point of its things over the floor.
    #[must_use]
    pub fn things_top(&self) -> f64 {
        self.bodies.iter().map(|b| extent(b, DVec2::Y)).fold(0.0, f64::max)
    }

    /// How far its zero has to be behind the front row's: bodies keep `gap`, and so does a thing on
    /// its way out; boards are only not touched. For equal things this is (D + gap)/sinθ.
    fn behind(&self, front: &Row, gap: f64) -> f64 {
        let boards = |r: &Row| r.boards.iter().map(Board::outline).collect::<Vec<_>>();
        let (mine, theirs) = (boards(self), boards(front));
        let pairs: [(&[Outline], &[Outline], f64); 7] = [
            (&front.bodies, &self.bodies, gap),
            (&front.bodies, &self.ways, gap),
            (&front.ways, &self.bodies, gap),
            (&front.bodies, &mine, CLEAR_MM),
            (&front.ways, &mine, CLEAR_MM),
            (&theirs, &self.bodies, CLEAR_MM),
            (&theirs, &self.ways, CLEAR_MM),
        ];
        let all = pairs.into_iter().chain([(&theirs[..], &mine[..], CLEAR_MM)]);
        all.flat_map(|(f, b, gap)| f.iter().flat_map(move |f| b.iter().map(move |b| push_mm(f, b, gap))))
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// Whether an outline at its place is clear of everything in the row, things on their way out included.
    fn clears(&self, o: &[DVec2]) -> bool {
        self.fixed().chain(self.ways.iter().cloned()).all(|mine| clear(o, &moved(&mine, self.y), CLEAR_MM))
    }
}

/// A box from the floor up, as an outline.
fn upright(y: (f64, f64), z: (f64, f64)) -> Outline {
    vec![DVec2::new(y.0, z.0), DVec2::new(y.1, z.0), DVec2::new(y.1, z.1), DVec2::new(y.0, z.1)]
}

/// Places rows one behind the other, the first behind a front wall from `wall.0` to `wall.1` along y
/// that must reach at least `wall_top` over the floor; slots stay `web` behind it.
pub fn place(rows: &mut [Row], wall: (f64, f64), wall_top: f64, web: f64, gap: f64) {
    let front = upright(wall, (-wall_top, wall_top));
    for i in 0..rows.len() {
        let (before, rest) = rows.split_at_mut(i);
        let row = &mut rest[0];
        let to_wall = row.fixed().chain(row.ways.iter().cloned()).map(|o| push_mm(&front, &o, CLEAR_MM));
        // things stay wholly behind the wall, however high they are there
        let inside = (wall.1 + CLEAR_MM - row.reach_y().0).max(wall.1 + web - row.slots_y().0);
        let first = to_wall.fold(inside, f64::max);
        row.y = before.iter().map(|f| f.y + row.behind(f, gap)).fold(first, f64::max);
    }
}

/// The highest front wall, over the floor, that no thing on its way out comes near; between `least` and `most`.
#[must_use]
pub fn front_wall_mm(rows: &[Row], wall: (f64, f64), least: f64, most: f64) -> f64 {
    let mut top = most;
    while top > least && !rows.iter().all(|r| r.clears(&upright(wall, (-least, top)))) {
        top -= 1.0;
    }
    top.max(least)
}

/// Half of the hole that a thing passes at a height over its base: across and along.
#[must_use]
pub fn half_hole_mm(thing: &Thing, clearance_mm: f64, height_mm: f64) -> (f64, f64) {
    let solid = thing.solid();
    match solid {
        Solid::Revolution(_) => {
            let half = half_below_mm(solid, height_mm);
            (half.0 + clearance_mm / 2.0, half.1 + clearance_mm / 2.0)
        }
        Solid::Prism(_) => half_below_mm(&solid.grown(clearance_mm), height_mm),
    }
}
