//! Bars, blocks, blades and loose parts as received.

use crate::params;

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
