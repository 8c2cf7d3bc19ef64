//! Mass, centre of mass, and loose parts.

use super::{near, thing};
use crate::things::Loose;
use serde_json::json;
use std::f64::consts::PI;

#[test]
fn a_given_mass_rules_and_an_estimate_says_so() {
    let can = json!({"kind": "can", "diameter_mm": 65, "overall_mm": 205, "pressurised": true});
    let given = thing(json!({"id": "degreaser", "mass_g": 460, "shape": can}));
    assert_eq!((given.mass().grams, given.mass().given, given.mass().why.as_str()), (460.0, true, "given"));
    let guess = thing(json!({"id": "degreaser", "shape": can}));
    assert!(!guess.mass().given && guess.mass().why.starts_with("estimated: "), "{:?}", guess.mass());
    // a full 500 ml aerosol weighs 400 to 550 g (common practice, no source)
    assert!((400.0..550.0).contains(&guess.mass().grams), "{:?}", guess.mass());
    assert!(guess.pressurised() && !guess.can_drip());
}

#[test]
fn bottle_is_liquid_and_shell() {
    let shape = json!({"kind": "bottle", "diameter_mm": 38, "body_mm": 92, "overall_mm": 92, "tip_diameter_mm": 38, "bore_mm": 2, "wall_mm": 1});
    let full = thing(json!({"id": "x", "fill": 1, "shape": shape}));
    // π·18²·92 of liquid; wall, base and top as skins 1 thick: 2π·19·92 + 2·π·19², at 0.95
    let liquid = PI * 18.0 * 18.0 * 92.0 / 1000.0;
    let skin = (2.0 * PI * 19.0 * 92.0 + PI * 19.0 * 19.0) / 1000.0 * 0.95;
    near(full.mass().grams, liquid + skin, 1e-6);
    let skin_centre = (2.0 * PI * 19.0 * 92.0 * 46.0) / (2.0 * PI * 19.0 * 92.0 + PI * 19.0 * 19.0);
    near(full.centre_of_mass_mm(), (liquid * 46.0 + skin * skin_centre) / (liquid + skin), 1e-6);
    let (empty, _) = full.centre_of_mass_leaning_mm(90.0, 0.0);
    near(empty, skin_centre, 1e-9);
    // lying, the liquid hangs below the axis unless it is full
    let (_, off) = full.centre_of_mass_leaning_mm(0.0, 0.5);
    near(off, -liquid / 2.0 * (4.0 * 18.0 / (3.0 * PI)) / (liquid / 2.0 + skin), 1e-6);
    near(full.centre_of_mass_leaning_mm(0.0, 1.0).1, 0.0, 1e-9);
}

#[test]
fn solid_things_weigh_volume_times_density() {
    let bar = thing(json!({"id": "x", "shape": {"kind": "bar", "diameter_mm": 10, "length_mm": 100}}));
    near(bar.mass().grams, PI * 25.0 * 100.0 / 1000.0 * 7.85, 1e-9);
    near(bar.centre_of_mass_mm(), 50.0, 1e-12);
    let ring = thing(
        json!({"id": "x", "shape": {"kind": "disc", "diameter_mm": 160, "thickness_mm": 1.8, "bore_mm": 44, "density_g_cm3": 7.7}}),
    );
    near(ring.mass().grams, PI * (80.0 * 80.0 - 22.0 * 22.0) * 1.8 / 1000.0 * 7.7, 1e-9);
    assert_eq!(ring.bore_mm(), Some(44.0));
    let block = thing(json!({"id": "x", "shape": {"kind": "block", "width_mm": 50, "depth_mm": 40, "height_mm": 30}}));
    near(block.mass().grams, 60.0, 1e-9);
}

// pieces ≈ 0.55·(a·b·0.85h)/piece volume (common practice, no source)
#[test]
fn loose_parts_fill_a_compartment() {
    let nuts = thing(
        json!({"id": "nuts", "count": 250, "shape": {"kind": "loose", "piece_mm": [8, 8, 4], "piece_volume_mm3": 180}}),
    );
    let loose = nuts.loose().unwrap();
    assert_eq!(loose.capacity(60.0, 60.0, 45.0), (0.55 * 60.0 * 60.0 * 0.85 * 45.0 / 180.0) as usize);
    assert_eq!((loose.pieces(), loose.longest_mm(), loose.shortest_mm()), (250, 8.0, 4.0));
    // the area that all need, times the height, is just enough for all
    let side = loose.area_needed_mm2(45.0).sqrt();
    assert_eq!(loose.capacity(side, side, 45.0), 250);
    let cube = thing(json!({"id": "x", "shape": {"kind": "loose", "piece_mm": 5}}));
    near(cube.loose().unwrap().piece_volume_mm3(), 125.0, 1e-12);
}

#[test]
fn what_does_not_go_in_does_not_count() {
    let spokes = Loose::new([2.0, 2.0, 260.0], 816.0, 40).unwrap();
    assert_eq!(spokes.capacity(60.0, 60.0, 45.0), 0);
    assert!(spokes.capacity(270.0, 60.0, 45.0) > 0);
    for bad in [0.0, -5.0, f64::NAN, f64::INFINITY] {
        assert_eq!(spokes.capacity(bad, 60.0, 45.0), 0);
    }
    assert!(Loose::new([2.0, 2.0, 2.0], 9.0, 1).is_none());
}
