//! Volumes and levels against published values; the source stands beside each.
//!
//! Units are the source's own (inches, mm): the formulas do not care. MH31 is Oberg, Jones, Horton, Ryffel,
//! Machinery's Handbook, 31st ed., 2020.

use super::near;
use crate::things::segment::area_below;
use crate::things::{Inside, Revolution, Vessel};
use std::f64::consts::PI;

/// A plain closed cylinder as a vessel.
pub(super) fn cylinder(radius: f64, length: f64) -> Vessel {
    let inside = Inside { radius_mm: radius, body_mm: length, shoulder: None, tip_mm: length, bore_mm: 1e-3 };
    Vessel::new(inside, 1.0, false).unwrap()
}

/// Depth of the liquid in a lying cylinder, from its lowest line.
fn depth_lying(radius: f64, length: f64, volume: f64) -> f64 {
    let v = cylinder(radius, length);
    radius + v.level_mm(0.0, volume / v.body_volume_mm3())
}

// MH31 p. 74: a horizontal tank 20 ft long, 6 ft across; 231 in³ a US gallon
#[test]
fn horizontal_tank_is_gauged() {
    near(depth_lying(36.0, 240.0, 1000.0 * 231.0), 20.61, 0.01);
    // "rounded" in the source
    near(cylinder(36.0, 240.0).body_volume_mm3() / 231.0, 4230.0, 1.5);
    // same method, 3000 gal (derived, no printed value; 48.0593 by an independent halving of the segment formula)
    near(depth_lying(36.0, 240.0, 3000.0 * 231.0), 48.0593, 1e-4);
}

// "How to gauge a horizontal cylindrical tank", rules of thumb, civilengineeringhandbook.tk
#[test]
fn share_of_depth_gives_share_of_volume() {
    for (depth, percent) in [(0.16, 10.3), (0.44, 42.4)] {
        let v = cylinder(50.0, 100.0);
        near(100.0 * v.volume_below(0.0, 100.0 * depth - 50.0) / v.body_volume_mm3(), percent, 0.05);
    }
}

// MH31 p. 50, example 4: circle of radius 12, segment 2 deep
#[test]
fn circular_segment() {
    near(area_below(12.0, 2.0 - 12.0), 18.01, 0.005);
    near(area_below(12.0, 12.0 - 2.0) + area_below(12.0, 2.0 - 12.0), PI * 144.0, 1e-9);
}

// MH31 p. 89, cylinder portion: d 125, heights 100 and 150 on the two sides
#[test]
fn obliquely_cut_cylinder() {
    let lean = (125.0_f64 / 50.0).atan();
    let v = cylinder(62.5, 200.0);
    let volume = v.volume_below(lean.to_degrees(), 125.0 * lean.sin());
    // the printed 0.3927·15 625·250, 0.3927 standing for π/8
    near(volume, 1_533_984.4, 5.0);
    near(volume, PI / 8.0 * 15_625.0 * 250.0, 1e-6);
}

// MH31 p. 90, segment of a cylinder: d 5, h 2, plane through the base's centre: 8.33 = ⅔·R²·h
#[test]
fn cylindrical_wedge_through_the_centre() {
    let lean = (2.5_f64 / 2.0).atan().to_degrees();
    near(cylinder(2.5, 10.0).volume_below(lean, 0.0), 8.33, 0.005);
    near(cylinder(2.5, 10.0).volume_below(lean, 0.0), 2.0 / 3.0 * 6.25 * 2.0, 1e-12);
}

// MathWorld "Cylindrical Wedge", eq. 8 (after Harris & Stocker 1998, p. 104): h/(3b)·[a(3R²−a²) + 3R²(b−R)φ];
// the values are that formula's
#[test]
fn cylindrical_wedge_in_general() {
    for (r, b, h, volume) in
        [(1.0, 0.5, 1.0, 0.251_840_554), (1.0, 1.5, 1.0, 1.131_144_403), (30.0, 20.0, 50.0, 17_086.842_585)]
    {
        // the plane meets the base b above its lowest point and the lowest wall line h from the base
        let lean = f64::atan2(b, h);
        let have = cylinder(r, 2.0 * h).volume_below(lean.to_degrees(), (b - r) * lean.cos());
        near(have, volume, 1e-9 * volume.max(1.0) + 5e-7 * f64::from(r > 1.0));
    }
}

// cylindervolume-calculator.com, "partially filled tilted cylinder": r 11.25 in, 20 in deep on the axis: 7952 in³,
// 34.4 gal, at any tilt that keeps the surface on the wall
#[test]
fn drum_measured_on_its_axis() {
    let v = cylinder(11.25, 40.0);
    for lean in [90.0_f64, 75.0, 60.0, 45.0] {
        let volume = v.volume_below(lean, 20.0 * lean.to_radians().sin());
        near(volume, 7952.0, 0.5);
        near(volume / 231.0, 34.4, 0.05);
        near(v.level_mm(lean, 7_952.156_4 / v.body_volume_mm3()), 20.0 * lean.to_radians().sin(), 1e-4);
    }
}

// MH31 p. 90: cone d 6, h 4: 37.7; and a frustum by the formula there
#[test]
fn cone_and_frustum() {
    near(Revolution::new(vec![(0.0, 3.0), (4.0, 0.0)]).unwrap().volume_mm3(), 37.7, 0.005);
    let frustum = Revolution::new(vec![(0.0, 3.0), (2.0, 1.5)]).unwrap();
    near(frustum.volume_mm3(), 37.699_112 - PI * 1.5 * 1.5 * 2.0 / 3.0, 1e-5);
    // centroid of a cone: a quarter of its height above the base
    near(Revolution::new(vec![(0.0, 3.0), (4.0, 0.0)]).unwrap().centroid_mm(), 1.0, 1e-12);
}

// exact values of A(h)/(πr²); the circular segment of MH31 p. 79
#[test]
fn level_and_fill_of_a_lying_cylinder() {
    let v = cylinder(0.5, 3.0);
    for (depth, fill) in [
        (0.05, 0.018_693),
        (0.10, 0.052_044),
        (0.20, 0.142_378),
        (0.25, 0.195_501),
        (0.30, 0.252_316),
        (0.40, 0.373_530),
        (0.50, 0.5),
        (0.75, 0.804_499),
        (0.90, 0.947_956),
    ] {
        near(v.volume_below(0.0, depth - 0.5) / v.body_volume_mm3(), fill, 6e-7);
    }
    for (fill, depth) in [(0.10, 0.156_476), (0.25, 0.298_014), (0.75, 0.701_986), (0.90, 0.843_524)] {
        near(v.level_mm(0.0, fill) + 0.5, depth, 6e-7);
    }
}

/// Radius, length, lean, fill; then at the low disc, at the high disc (over the axis, square to it), depth on the
/// high disc, and the bubble along the uppermost wall line. The two last rows are exact without any integral.
const TILTED: [[f64; 8]; 7] = [
    [30.0, 180.0, 10.0, 0.98, 50.185_472, 18.446_616, 48.446_616, 65.522_499],
    [30.0, 180.0, 15.0, 0.95, 58.250_577, 10.019_723, 40.019_723, 74.567_410],
    [30.0, 180.0, 15.0, 0.90, 51.550_724, 3.319_870, 33.319_870, 99.571_601],
    [30.0, 180.0, 30.0, 0.95, 106.392_470, 2.469_422, 32.469_422, 47.684_360],
    [16.5, 150.0, 60.0, 0.97, 252.989_568, -6.818_053, 9.681_947, 13.462_684],
    [30.0, 180.0, 45.0, 0.50, 90.0, -90.0, 0.0, 120.0],
    [36.0, 240.0, 5.0, 0.50, 10.498_640, -10.498_640, 25.501_360, 240.0],
];

// table of tilted closed cylinders: closed form and quadrature agreed to 1e-9 where it was made
#[test]
fn tilted_closed_cylinders() {
    for [r, l, lean, fill, low, high, depth, bubble] in TILTED {
        let v = cylinder(r, l);
        let tan = lean.to_radians().tan();
        near(v.surface_over_axis_mm(lean, fill, 0.0), low, 1e-5);
        near(v.surface_over_axis_mm(lean, fill, l), high, 1e-5);
        near((r + v.surface_over_axis_mm(lean, fill, l)).max(0.0), depth, 1e-5);
        // the surface leaves the uppermost wall line where it is r over the axis
        let leaves = ((v.surface_over_axis_mm(lean, fill, 0.0) - r) / tan).max(0.0);
        near(l - leaves, bubble, 2e-5);
    }
    // R 1, L 4, tilt 10°, 0.3 deep on the upper disc
    let (sin, cos) = 10.0_f64.to_radians().sin_cos();
    near(cylinder(1.0, 4.0).volume_below(10.0, -0.7 * cos + 4.0 * sin), 3.624_363_81, 1e-8);
}
