//! Slams, coins and roads.

use super::{check, codes, cures_work, drawer_json, good, near};
use crate::finding::Verdict;
use crate::spaces::{Loads, Slam, speed_from_coin_m_s};
use serde_json::json;

/// The trade's table, calculated there and here.
#[test]
fn the_table_of_slams() {
    for (speed_m_s, stop_mm, g, tolerance) in [
        (0.3, 40.0, 0.11, 0.006),
        (0.4, 60.0, 0.14, 0.006),
        (0.5, 10.0, 1.3, 0.05),
        (0.8, 10.0, 3.3, 0.05),
        (1.0, 10.0, 5.1, 0.05),
        (1.0, 5.0, 10.0, 0.25),
        (1.5, 10.0, 11.5, 0.05),
        (2.0, 20.0, 10.2, 0.05),
    ] {
        near(Slam { speed_m_s, stop_mm }.g(), g, tolerance);
    }
    for (speed_m_s, climb_mm) in [(0.3, 5.0), (0.5, 13.0), (0.8, 33.0), (1.0, 51.0)] {
        near(Slam { speed_m_s, stop_mm: 10.0 }.climb_mm(), climb_mm, 0.5);
    }
}

#[test]
fn what_climbs_as_high_as_a_test_ball_falls_is_as_fast() {
    // ANSI/KCMA A161.1, drawer-front impact: a ball of 1.36 kg falls 203 mm; published with 2.71 J a blow
    let ball = Slam { speed_m_s: (2.0 * 2.71 / 1.36_f64).sqrt(), stop_mm: 10.0 };
    near(ball.climb_mm(), 203.0, 0.5);
}

#[test]
fn a_coin_shows_the_speed() {
    // calculated: 170 mm at friction 0.3 is 1.0 m/s, 42 mm is 0.50
    near(speed_from_coin_m_s(170.0, 0.3), 1.0, 0.005);
    near(speed_from_coin_m_s(42.0, 0.3), 0.50, 0.005);
    let s = good(drawer_json(json!({"slam": {"coin_slide_mm": 42, "stop_mm": 10}})));
    near(s.slam_g(), 1.26, 0.01);
    let bad = drawer_json(json!({"slam": {"coin_slide_mm": 42, "speed_m_s": 1.0}}));
    let (space, out) = check(bad.clone());
    assert!(space.is_none());
    assert_eq!(codes(&out), [("slam-contradicts-coin", Verdict::Refuse)]);
    assert!(out[0].why.contains("1 m/s") && out[0].why.contains("0.497"), "{}", out[0].why);
    cures_work(&bad);
    good(drawer_json(json!({"slam": {"coin_slide_mm": 42, "speed_m_s": 0.55}})));
    let mut list = vec![];
    let spec: crate::spaces::SpaceSpec =
        crate::units::decode(drawer_json(json!({"slam": {"coin_slide_mm": 42}}))).unwrap();
    spec.note_all_defaults("", &mut list);
    let slam: Vec<&str> = list.iter().filter_map(|d| d.at.strip_prefix("/slam/")).collect();
    assert_eq!(slam, ["stop_mm", "coin_friction"]);
}

#[test]
fn a_slam_throws_to_the_back_and_a_yank_to_the_front() {
    let s = good(drawer_json(json!({})));
    near(s.loads.to_back_g, 5.1, 0.05);
    assert_eq!(Loads { to_back_g: 0.0, ..s.loads }, Loads::default());
    let s = good(drawer_json(json!({"yank": {"speed_m_s": 0.5}})));
    near(s.loads.to_front_g, 1.3, 0.05);
}

#[test]
fn the_road_shakes_in_every_direction() {
    let s = good(super::case_json(json!({"ride": {}})));
    assert_eq!(s.loads, Loads { to_back_g: 1.0, to_front_g: 1.0, to_side_g: 1.0, up_g: 1.0, down_g: 3.0 });
    let s = good(drawer_json(json!({"ride": {"sideways_g": 2.0}, "slam": {"speed_m_s": 0.4, "stop_mm": 60}})));
    assert_eq!((s.loads.to_back_g, s.loads.to_side_g), (2.0, 2.0), "the harder of both");
}
