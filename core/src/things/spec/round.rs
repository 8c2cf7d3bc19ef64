//! Cans, rolls and discs as received.

use crate::params;

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
