//! A checked space: what it leaves for holders at every height, and how it is shaken.

use super::lid::Lid;
use super::plan::Plan;
use super::skew::Skew;
use super::slam::{Loads, Slam};
use super::spec::SpaceSpec;
use super::walls::Walls;
use super::{case, drawer, free, shelf};
use crate::finding::{Finding, Verdict};
use crate::things::Attitude;
use crate::units::DefaultUsed;

/// What kind of space.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// A drawer.
    Drawer,
    /// A case.
    Case,
    /// A shelf.
    Shelf,
    /// None.
    Free,
}

/// How a holder gets in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Entry {
    /// From above, through this.
    Above(Plan),
    /// From the front, through an opening of this size.
    Front {
        /// Of the opening, after clearances.
        width_mm: f64,
        /// Of the opening, after clearances.
        height_mm: f64,
    },
    /// Nothing is in the way.
    Anywhere,
}

/// By how much a holder is too large for the way in; 0 where it passes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Blocked {
    /// Too wide by.
    pub width_over_mm: f64,
    /// Too deep by.
    pub depth_over_mm: f64,
    /// Too high by.
    pub height_over_mm: f64,
}

/// A space whose measures do not contradict each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Space {
    /// What kind.
    pub kind: Kind,
    /// The bare inside, after the skew.
    pub walls: Walls,
    /// Free room at each side.
    pub clearance_mm: f64,
    pub(super) usable_height_mm: f64,
    /// The way in.
    pub entry: Entry,
    /// What the diagonals say; `None` when none were given.
    pub skew: Option<Skew>,
    /// How far from the front a hand reaches when the drawer is open; the whole depth elsewhere.
    pub reach_mm: f64,
    /// How hard it is shut.
    pub slam: Option<Slam>,
    /// How hard it is pulled.
    pub yank: Option<Slam>,
    /// What the holder must survive.
    pub loads: Loads,
    /// Every way in which it stands, is carried or laid down; flat is always the first.
    pub attitudes: Vec<Attitude>,
    /// What holders and things together may weigh, if that is known.
    pub payload_g: Option<f64>,
    /// Its lid.
    pub lid: Option<Lid>,
    /// How far a reading may be off, ±.
    pub uncertainty_mm: f64,
}

impl Space {
    /// Checks a received space; all faults go to `out`. `None` when anything was refused. `at` is its
    /// JSON Pointer.
    #[must_use]
    pub fn checked(spec: &SpaceSpec, at: &str, out: &mut Vec<Finding>) -> Option<Self> {
        let before = out.len();
        spec.check(at, out);
        let space = match spec {
            SpaceSpec::Drawer(d) => drawer::checked(d, at, out),
            SpaceSpec::Case(c) => case::checked(c, at, out),
            SpaceSpec::Shelf(s) => shelf::checked(s, at, out),
            SpaceSpec::Free(f) => free::checked(f, at, out),
        };
        space.filter(|_| out.iter().skip(before).all(|f| f.verdict != Verdict::Refuse))
    }

    /// What is left for a holder at a height above the floor, after skew and clearances. Below the floor
    /// that of the floor; above the rim that of the rim, less what the lid needs beside it.
    #[must_use]
    pub fn usable(&self, z_mm: f64) -> Plan {
        let clearance = match &self.lid {
            Some(lid) if z_mm > self.walls.height_mm => self.clearance_mm.max(lid.side_clearance_mm),
            _ => self.clearance_mm,
        };
        self.walls.at(z_mm).shrunk(clearance)
    }

    /// What is left for something straight-sided that stands between two heights. Where walls lean
    /// outwards its lowest edge rules, where they lean inwards its highest.
    #[must_use]
    pub fn usable_between(&self, low_mm: f64, high_mm: f64) -> Plan {
        self.usable(low_mm).within(&self.usable(high_mm))
    }

    /// Height that a holder with its things may have, from the floor.
    #[must_use]
    pub fn usable_height_mm(&self) -> f64 {
        self.usable_height_mm
    }

    /// How far the left and right walls lean outwards, in radians.
    #[must_use]
    pub fn slope_x_rad(&self) -> f64 {
        self.walls.slope_x_rad
    }

    /// How far the front and back walls lean outwards, in radians.
    #[must_use]
    pub fn slope_y_rad(&self) -> f64 {
        self.walls.slope_y_rad
    }

    /// How hard things are thrown towards the back when it is shut, in multiples of gravity.
    #[must_use]
    pub fn slam_g(&self) -> f64 {
        self.slam.map_or(0.0, |s| s.g())
    }

    /// By how much a square-cornered holder of this outside size is too large for the way in; `None` when
    /// it passes.
    #[must_use]
    pub fn must_pass(&self, width_mm: f64, depth_mm: f64, height_mm: f64) -> Option<Blocked> {
        let [w, d, h] = match self.entry {
            Entry::Above(plan) if plan.admits(width_mm, depth_mm, 0.0) => return None,
            Entry::Above(plan) => {
                let [w, d] = plan.square_mm();
                [w, d, f64::INFINITY]
            }
            Entry::Front { width_mm, height_mm } => [width_mm, f64::INFINITY, height_mm],
            Entry::Anywhere => return None,
        };
        let over = |have: f64, most: f64| if have > most + 1e-9 { have - most } else { 0.0 };
        let b = Blocked {
            width_over_mm: over(width_mm, w),
            depth_over_mm: over(depth_mm, d),
            height_over_mm: over(height_mm, h),
        };
        (b.width_over_mm > 0.0 || b.depth_over_mm > 0.0 || b.height_over_mm > 0.0).then_some(b)
    }

    /// How far a straight-sided tray sinks below the height for which it was made before it wedges between
    /// leaning walls: clearance/tan(slope), at the walls that lean most. `None` where no wall leans outwards.
    #[must_use]
    pub fn sinks_before_wedging_mm(&self) -> Option<f64> {
        let slope = self.walls.slope_x_rad.max(self.walls.slope_y_rad);
        (slope > 0.0).then(|| self.clearance_mm / libm::tan(slope))
    }

    /// Height at which a tray made for `made_for_mm` wedges when no ledge carries it; `None` when it
    /// reaches the floor first, or walls do not lean.
    #[must_use]
    pub fn wedges_at_mm(&self, made_for_mm: f64) -> Option<f64> {
        self.sinks_before_wedging_mm().map(|sinks| made_for_mm - sinks).filter(|z| *z > 0.0)
    }

    /// How much of something that stands `to_back_mm` deep from the inside front stays out of reach.
    #[must_use]
    pub fn out_of_reach_mm(&self, to_back_mm: f64) -> f64 {
        (to_back_mm - self.reach_mm).max(0.0)
    }
}

impl SpaceSpec {
    /// Adds a line for each default that stood in for something left out, inner objects included.
    pub fn note_all_defaults(&self, at: &str, list: &mut Vec<DefaultUsed>) {
        self.note_defaults(at, list);
        match self {
            Self::Drawer(d) => drawer::note(d, at, list),
            Self::Case(c) => case::note(c, at, list),
            Self::Shelf(s) => shelf::note(s, at, list),
            Self::Free(f) => free::note(f, at, list),
        }
    }
}
