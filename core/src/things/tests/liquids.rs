//! Levels against independent quadrature and exact bodies, and what must hold for any vessel.

use super::published::cylinder;
use super::{Dice, near};
use crate::things::{Inside, Vessel};
use std::f64::consts::PI;

/// Volume below a plane in a closed cylinder by strips along the axis (not by slices across it, as the room does it):
/// over each x the chord 2√(r² − x²) times the wetted length. x = r·sin t, midpoint rule.
fn by_strips(r: f64, l: f64, lean: f64, level: f64) -> f64 {
    const N: usize = 4000;
    let (sin, cos) = lean.to_radians().sin_cos();
    let strip = |i: usize| {
        let t = ((i as f64 + 0.5) / N as f64 - 0.5) * PI;
        let x = r * t.sin();
        let to_surface = (level - x * cos) / sin;
        let wet = if sin > 0.0 { to_surface.clamp(0.0, l) } else { l - to_surface.clamp(0.0, l) };
        2.0 * r * t.cos() * wet * r * t.cos()
    };
    (0..N).map(strip).sum::<f64>() * PI / N as f64
}

/// The place where a growing function reaches a value, by plain halving.
fn halving(mut lo: f64, mut hi: f64, f: impl Fn(f64) -> f64, value: f64) -> f64 {
    for _ in 0..50 {
        let mid = (lo + hi) / 2.0;
        if f(mid) < value { lo = mid } else { hi = mid }
    }
    (lo + hi) / 2.0
}

#[test]
fn closed_form_agrees_with_strips_on_random_cylinders() {
    let mut dice = Dice::new(11);
    let mut worst = 0.0_f64;
    for _ in 0..300 {
        let (r, l) = (dice.between(3.0, 60.0), dice.between(10.0, 400.0));
        let lean = dice.between(0.5, 90.0) * if dice.between(0.0, 1.0) < 0.3 { -1.0 } else { 1.0 };
        let fill = dice.between(0.01, 0.99);
        let v = cylinder(r, l);
        let (lo, hi) = v.span(lean);
        let level = halving(lo, hi, |s| by_strips(r, l, lean, s), fill * PI * r * r * l);
        let off = (v.level_mm(lean, fill) - level).abs();
        assert!(off < 0.01, "r {r} l {l} lean {lean} fill {fill}: {off}");
        worst = worst.max(off);
    }
    // what is left is the strips' own coarseness; measured 1.7e-5
    assert!(worst < 1e-4, "worst {worst} mm");
}

fn with_shoulder(r: f64, l: f64, h: f64, r1: f64, tip: f64) -> Vessel {
    let inside = Inside { radius_mm: r, body_mm: l, shoulder: Some((h, r1)), tip_mm: tip, bore_mm: 2.0 };
    Vessel::new(inside, 0.95, false).unwrap()
}

/// Volume below a plane in a body with a shoulder: plain midpoint slices, each segment from its depth h as
/// r²·acos((r−h)/r) − (r−h)·√(2rh−h²).
fn by_midpoints([r, l, h, r1]: [f64; 4], lean: f64, level: f64) -> f64 {
    const N: usize = 4000;
    let (sin, cos) = lean.to_radians().sin_cos();
    let slice = |i: usize| {
        let z = (i as f64 + 0.5) / N as f64 * (l + h);
        let radius = if z <= l { r } else { r + (r1 - r) * (z - l) / h };
        let depth = ((level - z * sin) / cos + radius).clamp(0.0, 2.0 * radius);
        radius * radius * ((radius - depth) / radius).acos()
            - (radius - depth) * (2.0 * radius * depth - depth * depth).max(0.0).sqrt()
    };
    (0..N).map(slice).sum::<f64>() * (l + h) / N as f64
}

#[test]
fn adaptive_slices_agree_with_midpoints_on_random_shoulders() {
    let mut dice = Dice::new(12);
    let mut worst = 0.0_f64;
    for _ in 0..60 {
        let (r, l, h) = (dice.between(8.0, 50.0), dice.between(20.0, 250.0), dice.between(2.0, 60.0));
        let r1 = r * dice.between(0.1, 1.0);
        let (lean, fill) = (dice.between(-80.0, 80.0), dice.between(0.02, 1.0));
        let v = with_shoulder(r, l, h, r1, l + h + 20.0);
        let (lo, hi) = v.span(lean);
        let level = halving(lo, hi, |s| by_midpoints([r, l, h, r1], lean, s), fill * PI * r * r * l);
        let off = (v.level_mm(lean, fill) - level).abs();
        assert!(off < 0.01, "r {r} l {l} h {h} r1 {r1} lean {lean} fill {fill}: {off}");
        worst = worst.max(off);
    }
    // measured 1.7e-5
    assert!(worst < 1e-4, "worst {worst} mm");
}

// A plane that cuts every line of a cone with half angle α cuts off an elliptic cone: at distance d from the apex,
// its normal β off the axis, V = π·d³/3 · sin²α·cosα/(cos²β − sin²α)^{3/2} (ellipse of a conic section; derived).
#[test]
fn nose_down_cone_is_an_elliptic_cone() {
    let (r, h) = (20.0_f64, 40.0_f64);
    let v = with_shoulder(r, 60.0, h, 0.0, 100.0);
    let alpha = (r / h).atan();
    for lean in [-90.0_f64, -80.0, -65.0, -50.0] {
        let beta = (90.0 + lean).to_radians();
        let d = 12.0;
        let apex = 100.0 * lean.to_radians().sin();
        let factor = (beta.cos().powi(2) - alpha.sin().powi(2)).powf(1.5);
        let volume = PI * d * d * d / 3.0 * alpha.sin().powi(2) * alpha.cos() / factor;
        near(v.volume_below(lean, apex + d), volume, 1e-6 * volume);
    }
}

#[test]
fn level_and_volume_undo_each_other_to_1e_9() {
    let mut dice = Dice::new(13);
    for _ in 0..500 {
        let (r, l) = (dice.between(3.0, 60.0), dice.between(10.0, 400.0));
        let (lean, fill) = (dice.between(-90.0, 90.0), dice.between(0.05, 0.95));
        let v = cylinder(r, l);
        let level = v.level_mm(lean, fill);
        let slope = (v.volume_below(lean, level + 1e-6) - v.volume_below(lean, level - 1e-6)) / 2e-6;
        near((v.volume_below(lean, level) - fill * v.body_volume_mm3()) / slope, 0.0, 1e-9);
    }
}

#[test]
fn turned_over_liquid_and_air_change_places() {
    let mut dice = Dice::new(14);
    for _ in 0..300 {
        let v = cylinder(dice.between(3.0, 60.0), dice.between(10.0, 400.0));
        let (lean, fill) = (dice.between(-90.0, 90.0), dice.between(0.02, 0.98));
        near(v.level_mm(lean, fill), -v.level_mm(-lean, 1.0 - fill), 1e-8);
    }
}

#[test]
fn fuller_never_raises_the_tip_margin() {
    let mut dice = Dice::new(15);
    for i in 0..200 {
        let (r, l) = (dice.between(5.0, 40.0), dice.between(20.0, 200.0));
        let lean = dice.between(-90.0, 90.0);
        let inside = Inside {
            radius_mm: r,
            body_mm: l,
            shoulder: (i % 4 == 0).then_some((10.0, r / 2.0)),
            tip_mm: l + 30.0,
            bore_mm: 2.0,
        };
        let v = Vessel::new(inside, 1.0, false).unwrap();
        let margins: Vec<f64> = (1..=20).map(|f| v.tip_margin_mm(lean, f64::from(f) * 0.05)).collect();
        assert!(margins.windows(2).all(|w| w[1] <= w[0] + 1e-9), "lean {lean}: {margins:?}");
        near(v.worst_margin_mm(lean), margins.iter().copied().fold(f64::INFINITY, f64::min), 1e-9);
    }
}

#[test]
fn half_full_the_tip_is_clear_at_any_lean() {
    let mut dice = Dice::new(16);
    for _ in 0..200 {
        let (r, l) = (dice.between(5.0, 40.0), dice.between(20.0, 200.0));
        let lean = dice.between(1e-3, 90.0);
        let v = cylinder(r, l);
        // half full the surface passes through the middle of the axis, whatever the lean
        near(v.level_mm(lean, 0.5), l / 2.0 * lean.to_radians().sin(), 1e-8);
        assert!(v.tip(lean, 0.5).centre_above_mm > 0.0);
    }
}

#[test]
fn the_ends_are_exact() {
    let v = cylinder(20.0, 100.0);
    for lean in [-90.0, -30.0, 0.0, 30.0, 90.0] {
        let (lo, hi) = v.span(lean);
        near(v.level_mm(lean, 0.0), lo, 1e-6);
        near(v.level_mm(lean, 1.0), hi, 1e-6);
        near(v.volume_below(lean, lo - 1.0), 0.0, 1e-12);
        near(v.volume_below(lean, hi + 1.0), v.body_volume_mm3(), 1e-6);
    }
    for fill in [0.05, 0.5, 0.95] {
        near(v.level_mm(90.0, fill), 100.0 * fill, 1e-9);
        near(v.level_mm(-90.0, fill), -100.0 * (1.0 - fill), 1e-9);
        // steep, nearly level, and exactly so go over into each other
        near(v.level_mm(89.999_99, fill), 100.0 * fill, 1e-4);
        near(v.level_mm(1e-9, fill), v.level_mm(0.0, fill), 1e-6);
        near(v.level_mm(1e-4, fill), v.level_mm(0.0, fill), 1e-3);
    }
}

#[test]
fn no_number_makes_a_level_that_is_none() {
    let v = cylinder(20.0, 100.0);
    for lean in [-1e9, -90.0, 0.0, 90.0, 1e9] {
        for fill in [-1.0, 0.0, 1e-12, 1.0 - 1e-12, 1.0, 7.0] {
            assert!(v.level_mm(lean, fill).is_finite() && v.worst_margin_mm(lean).is_finite());
        }
    }
    let good = Inside { radius_mm: 5.0, body_mm: 20.0, shoulder: None, tip_mm: 30.0, bore_mm: 1.0 };
    for bad in [
        Inside { radius_mm: 0.0, ..good },
        Inside { radius_mm: f64::NAN, ..good },
        Inside { body_mm: -1.0, ..good },
        Inside { tip_mm: 19.0, ..good },
        Inside { bore_mm: 0.0, ..good },
        Inside { shoulder: Some((0.0, 2.0)), ..good },
        Inside { shoulder: Some((5.0, -1.0)), ..good },
    ] {
        assert_eq!(Vessel::new(bad, 0.5, false), None);
    }
    assert!(Vessel::new(good, 1.5, false).is_none() && Vessel::new(good, f64::NAN, false).is_none());
}

/// Centre of the liquid by counting points of a grid.
fn centre_by_counting(r: f64, l: f64, lean: f64, level: f64) -> (f64, f64) {
    const N: i32 = 160;
    let (sin, cos) = lean.to_radians().sin_cos();
    let at = |i: i32| (f64::from(i) + 0.5) / f64::from(N);
    let (mut n, mut sum_z, mut sum_x) = (0.0, 0.0, 0.0);
    for i in 0..N {
        let x = r * (2.0 * at(i) - 1.0);
        let chord = (r * r - x * x).max(0.0).sqrt();
        for k in 0..N {
            let z = l * at(k);
            if x * cos + z * sin <= level {
                (n, sum_z, sum_x) = (n + chord, sum_z + chord * z, sum_x + chord * x);
            }
        }
    }
    (sum_z / n, sum_x / n)
}

#[test]
fn centre_of_the_liquid_agrees_with_counting() {
    let mut dice = Dice::new(17);
    for _ in 0..40 {
        let (r, l) = (dice.between(10.0, 40.0), dice.between(40.0, 150.0));
        let (lean, fill) = (dice.between(-85.0, 85.0), dice.between(0.2, 0.98));
        let v = cylinder(r, l);
        let (along, across) = v.liquid_centre_mm(lean, fill);
        let (z, x) = centre_by_counting(r, l, lean, v.level_mm(lean, fill));
        near(along, z, 0.01 * l);
        near(across, x, 0.01 * l);
    }
    // lying half full: 4r/3π below the axis (centroid of a half disc; any handbook, from memory)
    let (along, across) = cylinder(30.0, 100.0).liquid_centre_mm(0.0, 0.5);
    near(along, 50.0, 1e-6);
    near(across, -4.0 * 30.0 / (3.0 * PI), 1e-6);
}
