//! Solids: the trade's own formulas, published sizes, and what must hold for any solid.

use super::{Dice, near, thing};
use crate::geom::DVec3;
use crate::things::{Prism, Revolution, Solid};
use serde_json::json;

fn nozzled(r: f64, l: f64, t: f64, d: f64) -> Solid {
    Solid::Revolution(Revolution::new(vec![(0.0, r), (l, r), (t, d / 2.0)]).unwrap())
}

// height = max(L·sinθ + D·cosθ, T·sinθ + (D+d)/2·cosθ); length = r·sinθ + max(L·cosθ + r·sinθ, T·cosθ + d/2·sinθ)
// (common practice, no source)
#[test]
fn support_function_gives_the_formulas_of_a_leaning_bottle() {
    let mut dice = Dice::new(21);
    for _ in 0..1000 {
        let (r, l) = (dice.between(5.0, 50.0), dice.between(20.0, 250.0));
        let (t, d) = (l + dice.between(0.0, 150.0), 2.0 * r * dice.between(0.05, 1.0));
        let lean = dice.between(0.0, 90.0);
        let (s, c) = lean.to_radians().sin_cos();
        let solid = nozzled(r, l, t, d);
        let height = (l * s + 2.0 * r * c).max(t * s + (2.0 * r + d) / 2.0 * c);
        let length = r * s + (l * c + r * s).max(t * c + d / 2.0 * s);
        near(solid.height_when_leaning(lean), height, 1e-9);
        near(solid.length_when_leaning(lean), length, 1e-9);
        near(solid.base_above_lowest(lean), r * c, 1e-9);
    }
}

#[test]
fn extent_is_the_farthest_of_all_points() {
    let solid = Solid::Revolution(
        Revolution::new(vec![(0.0, 20.0), (50.0, 20.0), (60.0, 8.0), (60.0, 11.0), (90.0, 3.0)]).unwrap(),
    );
    let Solid::Revolution(round) = &solid else { unreachable!() };
    let mut dice = Dice::new(22);
    for _ in 0..50 {
        let d = DVec3::new(dice.between(-1.0, 1.0), dice.between(-1.0, 1.0), dice.between(-1.0, 1.0)).normalize();
        let mut most = f64::NEG_INFINITY;
        for &(z, r) in round.profile() {
            for turn in 0..720 {
                let (s, c) = (f64::from(turn) / 720.0 * std::f64::consts::TAU).sin_cos();
                most = most.max(d.dot(DVec3::new(r * c, r * s, z)));
            }
        }
        near(solid.extent(d), most, 2e-3);
    }
}

// across corners of a hexagon: s/cos 30° (mathematics); JIS B 4648:2008, family of ISO 2936, gives 4.53, 6.81 and 11.37
// at most for hexagon keys of 4, 6 and 10: real ones are chamfered, so they lie below and within 2 %
#[test]
fn hexagon_across_corners() {
    for (flats, ideal, largest_real) in [(4.0, 4.619, 4.53), (6.0, 6.928, 6.81), (10.0, 11.547, 11.37)] {
        let key = thing(json!({"id": "hex", "shape": {"kind": "bar", "across_flats_mm": flats, "length_mm": 74}}));
        let corners = 2.0 * key.solid().max_radius();
        near(corners, ideal, 5e-4);
        assert!(largest_real < corners && largest_real > 0.98 * corners);
        near(key.solid().room_along(DVec3::Y), flats, 1e-12);
    }
    // opening for a key, across corners + 0.4 (common practice, no source)
    for (flats, hole) in
        [(2.0, 2.71), (2.5, 3.29), (3.0, 3.86), (4.0, 5.02), (5.0, 6.17), (6.0, 7.33), (8.0, 9.64), (10.0, 11.95)]
    {
        near(2.0 * Prism::hexagon(flats, 1.0).unwrap().max_radius() + 0.4, hole, 0.006);
    }
    // area of a hexagon (√3/2)·s²
    near(Prism::hexagon(10.0, 3.0).unwrap().section_area_mm2(), 86.602_540_378, 1e-8);
}

// largest sizes of round cells: Linden's Handbook of Batteries, table 4.9a (IEC): R03, R6, R14, R20, R1, R44
#[test]
fn cells_as_things() {
    for (across, high) in [(10.5, 44.5), (14.5, 50.5), (26.2, 50.0), (34.2, 61.5), (12.0, 30.2), (11.6, 5.4)] {
        let cell = thing(json!({"id": "cell", "shape": {"kind": "can", "diameter_mm": across, "overall_mm": high}}));
        near(cell.solid().height_when_leaning(0.0), across, 1e-12);
        near(cell.solid().height_when_leaning(90.0), high, 1e-12);
        near(cell.solid().height_when_leaning(45.0), (across + high) / 2.0_f64.sqrt(), 1e-12);
        // the largest lean that a height allows is where the height is just reached
        let clear = 0.5 * (across.max(high) + (across + high) / 2.0_f64.sqrt());
        let most = cell.solid().lean_max_for_height(clear).unwrap();
        near(cell.solid().height_when_leaning(most), clear, 1e-5);
    }
}

// a block on its edge: h·sinθ + d·cosθ
#[test]
fn block_leans_in_the_plane_of_depth_and_height() {
    let block = Solid::Prism(Prism::block(17.5, 26.5, 48.0).unwrap());
    for lean in [0.0_f64, 20.0, 45.0, 70.0, 90.0] {
        let (s, c) = lean.to_radians().sin_cos();
        near(block.height_when_leaning(lean), 48.0 * s + 26.5 * c, 1e-9);
        near(block.length_when_leaning(lean), 48.0 * c + 26.5 * s, 1e-9);
    }
    near(block.room_along(DVec3::X), 17.5, 1e-12);
    near(block.volume_mm3(), 17.5 * 26.5 * 48.0, 1e-9);
}

#[test]
fn clearance_is_added_on_the_diameter_and_not_at_the_ends() {
    let bottle = nozzled(19.0, 92.0, 138.0, 6.0).grown(1.5);
    near(bottle.max_radius(), 19.75, 1e-12);
    near(bottle.height(), 138.0, 1e-12);
    near(bottle.radius_at(138.0), 3.75, 1e-12);
    let block = Solid::Prism(Prism::block(20.0, 30.0, 40.0).unwrap()).grown(1.0);
    near(block.room_along(DVec3::X), 21.0, 1e-12);
    near(block.room_along(DVec3::Y), 31.0, 1e-12);
    near(block.room_along(DVec3::Z), 40.0, 1e-12);
    let hex = Solid::Prism(Prism::hexagon(10.0, 40.0).unwrap()).grown(0.4);
    near(hex.room_along(DVec3::Y), 10.4, 1e-12);
    near(2.0 * hex.max_radius(), 10.4 / 30.0_f64.to_radians().cos(), 1e-12);
    // a negative clearance that would eat the whole thing leaves it as it is
    let whole = Solid::Prism(Prism::hexagon(10.0, 40.0).unwrap());
    assert_eq!(whole.grown(-10.0), whole);
}

#[test]
fn a_solid_that_cannot_be_is_none() {
    assert!(Revolution::new(vec![]).is_none());
    assert!(Revolution::new(vec![(0.0, 5.0)]).is_none());
    assert!(Revolution::new(vec![(1.0, 5.0), (2.0, 5.0)]).is_none());
    assert!(Revolution::new(vec![(0.0, 5.0), (9.0, 5.0), (8.0, 5.0)]).is_none());
    assert!(Revolution::new(vec![(0.0, 5.0), (9.0, -1.0)]).is_none());
    assert!(Revolution::new(vec![(0.0, 0.0), (9.0, 0.0)]).is_none());
    assert!(Revolution::cylinder(f64::NAN, 5.0).is_none());
    assert!(Prism::block(0.0, 1.0, 1.0).is_none() && Prism::hexagon(5.0, f64::INFINITY).is_none());
}
