//! Spaces as received: what a caller measured. The only file of this room with serde, and long because each
//! field is a line here.

use crate::things::Attitude;
use crate::{params, tagged};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What the readings were taken with.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum Instrument {
    /// A tape measure.
    Tape,
    /// A steel rule.
    Rule,
    /// A caliper.
    Caliper,
}

impl Instrument {
    /// What is taken when the caller does not say: the one that is least sure.
    pub const ASSUMED: Self = Self::Tape;

    /// How far a reading may be off, ±. Common practice, no source.
    #[must_use]
    pub fn uncertainty_mm(self) -> f64 {
        match self {
            Self::Tape | Self::Rule => 0.5,
            Self::Caliper => 0.05,
        }
    }
}

/// A side of a space.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum Side {
    /// Towards the hand.
    Front,
    /// Away from the hand.
    #[default]
    Back,
    /// At small x.
    Left,
    /// At large x.
    Right,
}

tagged! {
    /// Where holders go.
    "kind": pub enum SpaceSpec {
        /// A drawer.
        "drawer" => Drawer(DrawerSpec),
        /// A case with a lid, whose walls may slope.
        "case" => Case(CaseSpec),
        /// A shelf that is open at the front.
        "shelf" => Shelf(ShelfSpec),
        /// No space at all: the holder stands free.
        "free" => Free(FreeSpec),
    }
}

params! {
    /// How hard a drawer is shut or pulled.
    pub struct SlamSpec {
        numbers {
            /// Speed when it reaches the stop.
            speed_m_s: def(0.05, 5.0, "m/s", 1.0),
            /// Way on which it is stopped.
            stop_mm: def(0.5, 500.0, "mm", 10.0),
            /// Coin test, instead of a speed: how far a coin slides on the drawer's floor when it is shut.
            coin_slide_mm: opt(1.0, 2000.0, "mm"),
            /// Friction between coin and floor.
            coin_friction: def(0.05, 1.0, "1", 0.3),
        }
        fields {}
    }
}

params! {
    /// Accelerations on the road, besides gravity, in multiples of it.
    pub struct RideSpec {
        numbers {
            /// Downwards: the road hits from below.
            down_g: def(0.0, 20.0, "1", 3.0),
            /// To every side.
            sideways_g: def(0.0, 20.0, "1", 1.0),
            /// Upwards: things leave their seats.
            up_g: def(0.0, 20.0, "1", 1.0),
        }
        fields {}
    }
}

params! {
    /// A drawer, measured inside.
    pub struct DrawerSpec {
        numbers {
            /// Inside width, at the front, in the middle, at the back, at the top and at the bottom. The smallest rules.
            width_mm: many(20.0, 3000.0, "mm"),
            /// Inside depth, from the front to the back, left and right. The smallest rules.
            depth_mm: many(20.0, 3000.0, "mm"),
            /// From the floor to the lowest thing that the drawer passes under. The smallest rules.
            clear_height_mm: many(5.0, 1500.0, "mm"),
            /// How far it pulls out; its whole depth when left out.
            extension_mm: opt(10.0, 3000.0, "mm"),
            /// Free room at each side of the holder.
            side_clearance_mm: def(0.0, 50.0, "mm", 1.0),
            /// Free room above the holder: things ride up when the drawer jolts.
            top_clearance_mm: def(0.0, 200.0, "mm", 4.0),
            /// Outside width, as a cross-check.
            outside_width_mm: opt(20.0, 3100.0, "mm"),
            /// Outside depth, as a cross-check.
            outside_depth_mm: opt(20.0, 3100.0, "mm"),
            /// What the slides are said to carry.
            slide_capacity_kg: opt(0.5, 500.0, "kg"),
            /// Radius of the upright corners.
            corner_radius_mm: def(0.0, 500.0, "mm", 0.0),
            /// Radius between the floor and the sides.
            floor_fillet_mm: def(0.0, 100.0, "mm", 0.0),
        }
        fields {
            /// Both diagonals of the floor: they show whether the drawer is square.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(value_type = Option<f64>, format = "pair", minimum = 28, maximum = 4300)]
            pub diagonals_mm: Option<[f64; 2]>,
            /// How hard it is shut; 1.0 m/s stopped in 10 mm when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub slam: Option<SlamSpec>,
            /// How hard it is pulled against its end stop; not looked at when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub yank: Option<SlamSpec>,
            /// Whether it rides in a trailer or van, and how roughly.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub ride: Option<RideSpec>,
            /// What the readings were taken with; a tape when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub measured_with: Option<Instrument>,
        }
    }
}

params! {
    /// The lid of a case.
    pub struct LidSpec {
        numbers {
            /// How deep the lid is inside, above the rim.
            depth_mm: def(0.0, 500.0, "mm", 0.0),
            /// Free room under the lid.
            clearance_mm: def(0.0, 100.0, "mm", 3.0),
            /// Free room beside the lid as it swings.
            side_clearance_mm: def(0.0, 50.0, "mm", 1.5),
        }
        fields {
            /// The side on which it is hinged.
            #[serde(default)]
            pub hinge: Side,
        }
    }
}

params! {
    /// A case, measured inside. Floor and height, and the rim or the slope where the walls are not upright;
    /// or floor, rim and slope.
    pub struct CaseSpec {
        numbers {
            /// From the floor to the rim. The smallest rules.
            height_mm: optmany(5.0, 1500.0, "mm"),
            /// How far all four walls lean outwards from the vertical.
            slope_deg: opt(0.0, 30.0, "deg"),
            /// Free room at each side of the holder, measured level.
            side_clearance_mm: def(0.0, 50.0, "mm", 1.5),
            /// Radius of the corners at the floor, seen from above.
            corner_radius_floor_mm: def(0.0, 500.0, "mm", 0.0),
            /// Radius of the corners at the rim; that at the floor when left out.
            corner_radius_rim_mm: opt(0.0, 500.0, "mm"),
            /// Radius between the floor and the walls.
            floor_fillet_mm: def(0.0, 200.0, "mm", 0.0),
        }
        fields {
            /// Width and depth at the floor, 20 to 3000 each.
            #[schema(value_type = f64, format = "pair", minimum = 20, maximum = 3000)]
            pub floor_mm: [f64; 2],
            /// Width and depth at the rim, 20 to 3000 each.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(value_type = Option<f64>, format = "pair", minimum = 20, maximum = 3000)]
            pub rim_mm: Option<[f64; 2]>,
            /// Width and depth of the narrowest place on the way in (a seal lip), when it is not the rim.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(value_type = Option<f64>, format = "pair", minimum = 20, maximum = 3000)]
            pub opening_mm: Option<[f64; 2]>,
            /// Its lid; flat and at the rim when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub lid: Option<LidSpec>,
            /// Whether it has no lid at all.
            #[serde(default)]
            pub open_top: bool,
            /// How it is carried and laid down; flat and front-up when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub attitudes: Option<Vec<Attitude>>,
            /// Whether it rides in a trailer or van, and how roughly.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub ride: Option<RideSpec>,
            /// What the readings were taken with; a tape when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub measured_with: Option<Instrument>,
        }
    }
}

params! {
    /// A shelf that is open at the front.
    pub struct ShelfSpec {
        numbers {
            /// Inside width. The smallest rules.
            width_mm: many(20.0, 3000.0, "mm"),
            /// Depth, from the front edge to the back. The smallest rules.
            depth_mm: many(20.0, 3000.0, "mm"),
            /// Clear height. The smallest rules.
            clear_height_mm: many(5.0, 3000.0, "mm"),
            /// Width of the opening, when a frame makes it narrower than the shelf.
            opening_width_mm: opt(20.0, 3000.0, "mm"),
            /// Height of the opening, when a frame or lip makes it lower than the shelf.
            opening_height_mm: opt(5.0, 3000.0, "mm"),
            /// Free room at each side of the holder.
            side_clearance_mm: def(0.0, 50.0, "mm", 1.0),
            /// Free room above the holder.
            top_clearance_mm: def(0.0, 200.0, "mm", 4.0),
        }
        fields {
            /// Whether it rides in a trailer or van, and how roughly.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub ride: Option<RideSpec>,
            /// What the readings were taken with; a tape when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub measured_with: Option<Instrument>,
        }
    }
}

params! {
    /// No space: the holder stands free, and may at most be this large.
    pub struct FreeSpec {
        numbers {
            /// Largest width.
            width_mm: req(20.0, 3000.0, "mm"),
            /// Largest depth.
            depth_mm: req(20.0, 3000.0, "mm"),
            /// Largest height.
            height_mm: req(5.0, 3000.0, "mm"),
        }
        fields {
            /// How it is carried and laid down, besides flat.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub attitudes: Option<Vec<Attitude>>,
            /// Whether it rides in a trailer or van, and how roughly.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub ride: Option<RideSpec>,
        }
    }
}
