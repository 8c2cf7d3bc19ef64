//! Chances of whole holders, against the trade's worked scenario and what must hold of any.

use super::of;
use crate::families::ALL;
use crate::finish::Built;
use crate::job::Job;
use crate::make::tests::made;
use serde_json::{Value, json};

fn near(a: f64, b: f64, tol: f64) {
    assert!((a - b).abs() <= tol, "{a} is not {b} within {tol}");
}

/// The compartments example with the stock and the fits of the test.
fn compartments(stock: Value, fits: Value) -> (Job, Vec<Built>) {
    let mut spec = (ALL[0].example)();
    let id = spec["stocks"][0]["id"].clone();
    spec["stocks"] = json!([stock]);
    spec["stocks"][0]["id"] = id;
    spec["fits"] = fits;
    let made = made(spec);
    (made.job, made.holders)
}

fn eight(kerf_spread_mm: f64) -> Value {
    let read = [308.0, 312.0, 305.0, 310.0, 314.0, 309.0, 311.0, 307.0].map(|h| h / 100.0);
    json!({"material": "birch-ply-3", "readings_mm": read, "kerf_mm": 0.18, "kerf_spread_mm": kerf_spread_mm})
}

/// Eight readings, kerf 0.18 ± 0.02, fit +0.035: a slot drawn 2.95 closes in 95.7 %.
#[test]
fn a_slot_is_as_likely_as_in_the_worked_scenario() {
    let fits = json!({"corner": 0.035, "divider": 0.035, "floor": 0.035});
    let (job, holders) = compartments(eight(0.02), fits.clone());
    let all = of(&job, &holders);
    let slots: Vec<_> = all.iter().flat_map(|h| &h.joints).filter(|j| j.drawn_mm.is_some()).collect();
    assert!(slots.len() > 5);
    for j in &slots {
        near(j.drawn_mm.unwrap(), 2.95, 1e-6);
        near(j.best_drawn_mm.unwrap(), 2.95, 1e-6);
        near(j.closes_mm.min, -0.05, 1e-9);
        near(j.closes_mm.max, 0.12, 1e-9);
        near(j.chance, 0.957, 0.001);
    }
    // fingers hang on the kerf of both parts, which move together: ± 0.085 is 2.125 times 2 · 0.02
    let finger = all.iter().flat_map(|h| &h.joints).find(|j| j.drawn_mm.is_none()).unwrap();
    near(finger.chance, 0.9664, 0.0002);
    // the spread is taken as known where it is given: 98 %, and all independent or all together as there
    let mut known = eight(0.02);
    known["thickness_spread_mm"] = json!(0.028_785);
    let (job, holders) = compartments(known, fits);
    let slot = of(&job, &holders)[0].joints.iter().find(|j| j.drawn_mm.is_some()).unwrap().chance;
    near(slot, 0.980, 0.001);
    near(slot.powi(24), 0.62, 0.02);
}

#[test]
fn the_whole_lies_between_independent_and_together_and_best_is_best() {
    for about in ALL {
        let made = made((about.example)());
        for h in of(&made.job, &made.holders) {
            assert!(!h.joints.is_empty(), "{}", about.tag);
            let least = h.joints.iter().map(|j| j.chance).fold(1.0, f64::min);
            near(h.all_together, least, 1e-12);
            assert!(h.all_independent <= h.all_together);
            for j in &h.joints {
                assert!((0.0..=1.0).contains(&j.chance) && j.best_chance >= j.chance - 1e-9, "{j:?}");
                assert!(j.closes_mm.min < j.fit_mm && j.fit_mm < j.closes_mm.max, "{j:?}");
            }
        }
    }
}

/// Two extreme readings decide; where the kerf was never measured, it is told first to measure it.
#[test]
fn the_readings_to_take_again_are_those_that_decide() {
    let (job, holders) = compartments(eight(0.02), json!({}));
    let again = &of(&job, &holders)[0].again;
    let at: Vec<&str> = again.iter().map(|a| a.at.as_str()).collect();
    assert_eq!(at.len(), 2);
    assert!(at.contains(&"/stocks/0/readings_mm/2") && at.contains(&"/stocks/0/readings_mm/4"), "{at:?}");
    let mut unread = eight(0.02);
    unread.as_object_mut().unwrap().retain(|k, _| k == "material" || k == "readings_mm");
    let (job, holders) = compartments(unread, json!({}));
    let all = of(&job, &holders);
    assert_eq!(all[0].again[0].at, "/stocks/0/kerf_readings_mm");
    assert_eq!(all[0].usual, ["/stocks/0/kerf_readings_mm"]);
    assert!(all[0].again[0].all_without > all[0].all_independent);
}

/// One more thickness of doubt costs chance; a kerf that is known better gains it.
#[test]
fn chance_falls_with_every_spread() {
    let chance = |kerf_sd: f64| {
        let (job, holders) = compartments(eight(kerf_sd), json!({}));
        of(&job, &holders)[0].all_independent
    };
    let all: Vec<f64> = [0.0, 0.01, 0.02, 0.04].map(chance).to_vec();
    assert!(all.windows(2).all(|w| w[0] > w[1]), "{all:?}");
}
