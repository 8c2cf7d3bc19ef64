//! Things as received: what a caller writes about a thing. Serde lives here and nowhere else in this room.

mod nozzled;
mod round;
mod straight;

pub use nozzled::{BottleSpec, TubeSpec};
pub use round::{CanSpec, DiscSpec, RollSpec};
pub use straight::{BarSpec, BladeSpec, BlockSpec, LooseSpec};

use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

use crate::units::DefaultUsed;
use crate::{params, tagged};

params! {
    /// A thing to be held, and how many of it there are.
    pub struct ThingSpec {
        numbers {
            /// How many of this thing there are: a whole number.
            count: def(1.0, 100000.0, "1", 1.0),
            /// Bottles and tubes: how full, as a share of the body's inner volume. Give the fullest it will be.
            fill: def(0.0, 1.0, "1", 0.95),
            /// Mass of one, full. For loose parts of one piece.
            mass_g: opt(0.01, 50000.0, "g"),
            /// Where the hand takes it, along its axis from the base; left out, the cap or the upper end.
            grip_height_mm: opt(0.0, 2000.0, "mm"),
        }
        fields {
            /// The thing's name in this request: 1 to 60 characters.
            pub id: String,
            /// Its shape and measures.
            pub shape: ShapeSpec,
        }
    }
}

tagged! {
    /// The shape of a thing.
    "kind": pub enum ShapeSpec {
        /// A bottle with a nozzle or neck.
        "bottle" => Bottle(BottleSpec),
        /// A tube with a long nozzle.
        "tube" => Tube(TubeSpec),
        /// A can, canister, cartridge or cell.
        "can" => Can(CanSpec),
        /// A roll or reel.
        "roll" => Roll(RollSpec),
        /// A flat round thing.
        "disc" => Disc(DiscSpec),
        /// A round or hexagonal bar.
        "bar" => Bar(BarSpec),
        /// A block.
        "block" => Block(BlockSpec),
        /// A flat tool.
        "blade" => Blade(BladeSpec),
        /// Loose small parts.
        "loose" => Loose(LooseSpec),
    }
}

/// An attitude in which a holder must keep its things without harm: which side of it is up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Attitude {
    /// As it is used, lying flat.
    Flat,
    /// Turned until its front side is up: carried by a handle on the front.
    FrontUp,
    /// Turned until its back side is up.
    BackUp,
    /// Turned until its left side is up.
    LeftUp,
    /// Turned until its right side is up.
    RightUp,
    /// Turned over.
    UpsideDown,
}

impl ThingSpec {
    /// Adds a line for each default that stands in for a field left out, of the thing and of its shape;
    /// `at` is the thing's JSON Pointer. A fill that has no meaning for the shape is not listed.
    pub fn note_all_defaults(&self, at: &str, out: &mut Vec<DefaultUsed>) {
        let before = out.len();
        self.note_defaults(at, out);
        if !matches!(self.shape, ShapeSpec::Bottle(_) | ShapeSpec::Tube(_)) {
            let fill = format!("{at}/fill");
            let kept: Vec<DefaultUsed> = out.drain(before..).filter(|d| d.at != fill).collect();
            out.extend(kept);
        }
        self.shape.note_defaults(&format!("{at}/shape"), out);
        if let Some((tip, None)) = self.shape.tip_and_bore_mm() {
            let value = crate::things::bottle::bore_or_default_mm(tip, None);
            out.push(DefaultUsed { at: format!("{at}/shape/bore_mm"), value, unit: "mm" });
        }
    }
}

impl ShapeSpec {
    /// Tip diameter and, if given, bore of what has a tip.
    fn tip_and_bore_mm(&self) -> Option<(f64, Option<f64>)> {
        match self {
            Self::Bottle(b) => Some((b.tip_diameter_mm, b.bore_mm)),
            Self::Tube(t) => Some((t.tip_diameter_mm, t.bore_mm)),
            _ => None,
        }
    }
}
