//! Bottles and tubes as received.

use crate::params;

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
