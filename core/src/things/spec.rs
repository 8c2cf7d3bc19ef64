//! Things as received: what a caller writes about a thing. The only file of this room with serde.

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

params! {
    /// A bottle: a round body, and on it a neck or nozzle that ends in a tip.
    pub struct BottleSpec {
        numbers {
            /// Across the body: one reading, or several at three heights in two directions. The largest rules.
            diameter_mm: many(4.0, 400.0, "mm"),
            /// Smallest and largest diameter of all brands that the place must take.
            diameter_range_mm: optmany(4.0, 400.0, "mm"),
            /// Tape around the body, as a cross-check of the diameter.
            circumference_mm: opt(12.0, 1300.0, "mm"),
            /// From the base to where the body ends (where it begins to narrow).
            body_mm: req(3.0, 1000.0, "mm"),
            /// From the base to the tip, with the cap on if it stands capped.
            overall_mm: req(3.0, 1500.0, "mm"),
            /// Across the very tip (of the nozzle, neck or cap).
            tip_diameter_mm: req(0.5, 400.0, "mm"),
            /// Across the hole in the tip. Left out: 2 for a tip up to 12 across, the whole tip above that.
            bore_mm: opt(0.1, 400.0, "mm"),
            /// Across the widest place above the body: cap, collar or foot of the nozzle.
            cap_diameter_mm: opt(1.0, 450.0, "mm"),
            /// Length of the shoulder, along the axis; needs `neck_diameter_mm`.
            shoulder_mm: opt(0.1, 500.0, "mm"),
            /// Across the neck at the shoulder's upper end; needs `shoulder_mm`.
            neck_diameter_mm: opt(1.0, 400.0, "mm"),
            /// Thickness of the wall. Common practice for squeeze bottles: 1.0 to 1.5.
            wall_mm: def(0.1, 20.0, "mm", 1.2),
            /// Printed content, as a cross-check of diameter and body.
            content_ml: opt(0.5, 100000.0, "ml"),
            /// Density of what is in it.
            density_g_cm3: def(0.5, 3.0, "g/cm3", 1.0),
        }
        fields {
            /// Whether the tip is closed by a cap whenever it is put away.
            #[serde(default)]
            pub capped: bool,
        }
    }
}

params! {
    /// A tube: a round body with a long nozzle.
    pub struct TubeSpec {
        numbers {
            /// Across the body: one reading or several. The largest rules.
            diameter_mm: many(4.0, 400.0, "mm"),
            /// Smallest and largest diameter of all brands that the place must take.
            diameter_range_mm: optmany(4.0, 400.0, "mm"),
            /// Tape around the body, as a cross-check of the diameter.
            circumference_mm: opt(12.0, 1300.0, "mm"),
            /// From the base to where the nozzle begins.
            body_mm: req(3.0, 1000.0, "mm"),
            /// From the base to the tip.
            overall_mm: req(3.0, 1500.0, "mm"),
            /// Across the tip of the nozzle.
            tip_diameter_mm: req(0.5, 400.0, "mm"),
            /// Across the hole in the tip. Left out: 2 for a tip up to 12 across, the whole tip above that.
            bore_mm: opt(0.1, 400.0, "mm"),
            /// Across the foot of the nozzle or its collar.
            cap_diameter_mm: opt(1.0, 450.0, "mm"),
            /// Thickness of the wall. Common practice for squeeze tubes: 1.0 to 1.5.
            wall_mm: def(0.1, 20.0, "mm", 1.2),
            /// Printed content, as a cross-check of diameter and body.
            content_ml: opt(0.5, 100000.0, "ml"),
            /// Density of what is in it.
            density_g_cm3: def(0.5, 3.0, "g/cm3", 1.0),
        }
        fields {
            /// Whether the tip is closed by a cap whenever it is put away.
            #[serde(default)]
            pub capped: bool,
        }
    }
}

params! {
    /// A can: a closed round thing. Nothing can run out of it while its cap is on.
    pub struct CanSpec {
        numbers {
            /// Across the widest place (the seam): one reading or several. The largest rules.
            diameter_mm: many(2.0, 400.0, "mm"),
            /// Smallest and largest diameter of all brands that the place must take.
            diameter_range_mm: optmany(2.0, 400.0, "mm"),
            /// Tape around it, as a cross-check of the diameter.
            circumference_mm: opt(6.0, 1300.0, "mm"),
            /// From the base to the top, cap on.
            overall_mm: req(1.0, 1000.0, "mm"),
            /// Across the cap; needs `cap_height_mm`. Left out, as wide as the can.
            cap_diameter_mm: opt(1.0, 400.0, "mm"),
            /// Height of the cap, down from the top; needs `cap_diameter_mm`.
            cap_height_mm: opt(0.5, 500.0, "mm"),
            /// Density of the whole, to estimate its mass.
            density_g_cm3: opt(0.05, 20.0, "g/cm3"),
        }
        fields {
            /// Whether it stands under pressure (an aerosol).
            #[serde(default)]
            pub pressurised: bool,
        }
    }
}

params! {
    /// A roll or reel. Measure the flange and the widest winding, not the wound body.
    pub struct RollSpec {
        numbers {
            /// Across the flange or the widest winding: one reading or several. The largest rules.
            diameter_mm: many(2.0, 600.0, "mm"),
            /// Smallest and largest diameter that the place must take.
            diameter_range_mm: optmany(2.0, 600.0, "mm"),
            /// Tape around it, as a cross-check of the diameter.
            circumference_mm: opt(6.0, 1900.0, "mm"),
            /// Width over the flanges, along the axis.
            width_mm: req(1.0, 1000.0, "mm"),
            /// Across the hole through the middle.
            bore_mm: opt(0.5, 500.0, "mm"),
            /// Density of the whole, to estimate its mass.
            density_g_cm3: opt(0.05, 20.0, "g/cm3"),
        }
        fields {}
    }
}

params! {
    /// A flat round thing: a rotor, a chainring, a cutting wheel.
    pub struct DiscSpec {
        numbers {
            /// Across it: one reading or several. The largest rules.
            diameter_mm: many(2.0, 600.0, "mm"),
            /// Smallest and largest diameter that the place must take.
            diameter_range_mm: optmany(2.0, 600.0, "mm"),
            /// Tape around it, as a cross-check of the diameter.
            circumference_mm: opt(6.0, 1900.0, "mm"),
            /// Thickness at its thickest place.
            thickness_mm: req(0.1, 200.0, "mm"),
            /// Across the hole through the middle.
            bore_mm: opt(0.5, 500.0, "mm"),
            /// Density, to estimate its mass.
            density_g_cm3: opt(0.05, 20.0, "g/cm3"),
        }
        fields {}
    }
}

params! {
    /// A straight bar: round (`diameter_mm`) or hexagonal (`across_flats_mm`), one of the two.
    pub struct BarSpec {
        numbers {
            /// Round bar: across it, one reading or several. The largest rules.
            diameter_mm: optmany(0.5, 300.0, "mm"),
            /// Smallest and largest diameter that the place must take.
            diameter_range_mm: optmany(0.5, 300.0, "mm"),
            /// Round bar: tape around it, as a cross-check of the diameter.
            circumference_mm: opt(1.5, 950.0, "mm"),
            /// Hexagonal bar: from flat to flat, one reading or several. The largest rules.
            across_flats_mm: optmany(0.5, 200.0, "mm"),
            /// Length.
            length_mm: req(1.0, 2000.0, "mm"),
            /// Density, to estimate its mass.
            density_g_cm3: opt(0.05, 20.0, "g/cm3"),
        }
        fields {}
    }
}

params! {
    /// A block, as it is to lie or stand: width along x, depth along y, height up.
    pub struct BlockSpec {
        numbers {
            /// Along x: one reading or several. The largest rules.
            width_mm: many(0.5, 2000.0, "mm"),
            /// Along y: one reading or several. The largest rules.
            depth_mm: many(0.5, 2000.0, "mm"),
            /// Upwards: one reading or several. The largest rules.
            height_mm: many(0.5, 2000.0, "mm"),
            /// Density of the whole, to estimate its mass.
            density_g_cm3: opt(0.05, 20.0, "g/cm3"),
        }
        fields {}
    }
}

params! {
    /// A flat tool that stands on edge: a cone spanner, a file, a tyre lever.
    pub struct BladeSpec {
        numbers {
            /// Thickness at its thickest place that enters the slot: one reading or several. The largest rules.
            thickness_mm: many(0.2, 60.0, "mm"),
            /// Height of the blade as it stands on edge.
            width_mm: req(1.0, 400.0, "mm"),
            /// Length.
            length_mm: req(5.0, 2000.0, "mm"),
            /// Density, to estimate its mass.
            density_g_cm3: opt(0.05, 20.0, "g/cm3"),
        }
        fields {}
    }
}

params! {
    /// Loose small parts: `count` is the number of pieces. Give a piece's size, its volume, or both.
    pub struct LooseSpec {
        numbers {
            /// Sides of the box round one piece: one number for a cube, or three.
            piece_mm: many(0.2, 300.0, "mm"),
            /// Volume that one piece takes up. Left out, that of the box round it.
            piece_volume_mm3: opt(0.005, 30000000.0, "mm3"),
            /// Density of the pieces, to estimate their mass.
            density_g_cm3: opt(0.05, 20.0, "g/cm3"),
        }
        fields {}
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
            let value = super::bottle::bore_or_default_mm(tip, None);
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
