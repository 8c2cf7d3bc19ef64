//! Circular segments, and the closed form of a cylinder that a plane cuts at a slant.

use std::f64::consts::PI;

/// Part of a disc of radius `r` that lies below the chord at height `c` over the centre, mm².
///
/// r²·acos(−c/r) + c·√(r² − c²), which is r²·acos((r−h)/r) − (r−h)·√(2rh − h²) with the depth h = r + c
/// (Machinery's Handbook, 31st ed., p. 79).
pub(crate) fn area_below(r: f64, c: f64) -> f64 {
    if c <= -r {
        0.0
    } else if c >= r {
        PI * r * r
    } else {
        r * r * libm::acos(-c / r) + c * ((r - c) * (r + c)).max(0.0).sqrt()
    }
}

/// First moment of that part about the level line through the centre, mm³: −⅔·(r² − c²)^{3/2}.
/// Negative, as the part hangs below.
pub(crate) fn moment_below(r: f64, c: f64) -> f64 {
    let half_chord_2 = (r - c) * (r + c);
    if half_chord_2 <= 0.0 { 0.0 } else { -2.0 / 3.0 * half_chord_2 * half_chord_2.sqrt() }
}

/// ∫ from −1 to u of the unit disc's area below v, dv: u·acos(−u) + √(1−u²) − (1−u²)^{3/2}/3, continued by
/// 0 below −1 and by π·u above 1.
fn area_summed(u: f64) -> f64 {
    if u <= -1.0 {
        0.0
    } else if u >= 1.0 {
        PI * u
    } else {
        let q = ((1.0 - u) * (1.0 + u)).max(0.0);
        u * libm::acos(-u) + q.sqrt() * (1.0 - q / 3.0)
    }
}

/// Below this difference of u between the ends the closed form would lose more digits than the mean of
/// three slices does.
const NEARLY_LEVEL: f64 = 1e-5;

/// Volume below the plane in a cylinder, mm³. `u0` and `u1` are the plane's height over the axis, square to
/// the axis and in radii, at the two ends; `length` is between the ends.
///
/// −(R³/tan α)·[u·acos u − √(1−u²) + (1−u²)^{3/2}/3] between the ends plus πR² times the fully wetted length
/// (references: planetcalc.com/1442), written here with the continuation above instead of the second term.
pub(crate) fn cylinder_below(r: f64, length: f64, u0: f64, u1: f64) -> f64 {
    if (u0 - u1).abs() < NEARLY_LEVEL {
        let mid = area_below(r, r * (u0 + u1) / 2.0);
        // Simpson's rule
        return length * (area_below(r, r * u0) + 4.0 * mid + area_below(r, r * u1)) / 6.0;
    }
    length * r * r * (area_summed(u0) - area_summed(u1)) / (u0 - u1)
}
