//! What good readings become.

use super::{codes, good, taken};
use crate::job::{Job, Limits, read};
use crate::material::FitSpec;
use serde_json::{json, to_value};

fn near(a: f64, b: f64, tol: f64) {
    assert!((a - b).abs() <= tol, "{a} is not {b} within {tol}");
}

#[test]
fn good_readings_become_a_profile_without_a_word_against_them() {
    let (profile, out) = taken(good());
    assert_eq!(codes(&out), []);
    let p = profile.unwrap();
    near(p.thickness.mean_mm, 3.095, 1e-9);
    near(p.thickness.sd_mm, 0.029, 1e-9);
    // 3.095 ± 2.365·0.0288·√(1 + 1/8), and ± 2.365·0.0288/√8: t of 7 from the table
    near(p.thickness.next_interval_mm[0], 3.095 - 2.365 * 0.028_785 * 1.125_f64.sqrt(), 0.0006);
    near(p.thickness.mean_interval_mm.unwrap()[1], 3.095 + 2.365 * 0.028_785 / 8.0_f64.sqrt(), 0.0006);
    near(p.kerf.mean_mm, 0.180, 1e-9);
    // 0.182, 0.178, 0.180: s = 0.002, less than calipers resolve
    near(p.kerf.sd_mm, 0.003, 1e-9);
    assert_eq!(p.kerf.readings, 3);
    let fit = p.fit.unwrap();
    assert_eq!(fit.answers, 8);
    // the answers are those of the trade's words: the shift is none, and known to less than a step
    near(fit.shift_mm, 0.0, 0.02);
    assert!(fit.shift_interval_mm[0] < 0.0 && fit.shift_interval_mm[1] > 0.0);
    assert!(fit.shift_interval_mm[1] - fit.shift_interval_mm[0] < 0.18);
    let thumb = p.feels.iter().find(|f| f.feel == "thumb").unwrap();
    near(thumb.drawn_slot_mm, 3.095 + thumb.fit_mm - 0.180, 0.0011);
    let [low, high] = thumb.next_clearance_mm;
    near((low + high) / 2.0, thumb.fit_mm, 0.0016);
    assert!(high - low > p.thickness.next_interval_mm[1] - p.thickness.next_interval_mm[0]);
    assert!(thumb.chance > 0.9 && thumb.chance < 1.0, "{}", thumb.chance);
}

/// A shop whose words all come 0.05 wider is found, whichever way round its slots are listed.
#[test]
fn a_hand_that_wants_wider_slots_gets_them() {
    let mut moved = good();
    for slot in moved["combs"][0]["slots"].as_array_mut().unwrap() {
        slot["drawn_mm"] = json!(slot["drawn_mm"].as_f64().unwrap() + 0.05);
    }
    moved["combs"][0]["slots"].as_array_mut().unwrap().reverse();
    let (here, there) = (taken(good()).0.unwrap(), taken(moved).0.unwrap());
    near(there.fit.as_ref().unwrap().shift_mm, here.fit.as_ref().unwrap().shift_mm + 0.05, 0.002);
    let mm = |f: Option<FitSpec>| match f {
        Some(FitSpec::Mm(v)) => v,
        other => panic!("{other:?}"),
    };
    near(mm(there.fits.divider) - mm(here.fits.divider), 0.05, 0.002);
    near(mm(there.fits.oblique) - mm(there.fits.corner), 0.08, 1e-9);
}

/// A tongue that was measured by itself is known better than the sheet's mean.
#[test]
fn a_measured_tongue_narrows_the_doubt() {
    let mut own = good();
    own["combs"][0]["tongue_mm"] = json!([3.09, 3.10]);
    let wide = |p: super::StockProfile| {
        let i = p.fit.unwrap().shift_interval_mm;
        i[1] - i[0]
    };
    assert!(wide(taken(own).0.unwrap()) < 0.8 * wide(taken(good()).0.unwrap()));
}

/// The profile goes into the next spec as it is, and the job then knows both spreads from readings.
#[test]
fn the_profile_goes_into_the_next_spec_as_it_is() {
    let profile = taken(good()).0.unwrap();
    let mut spec = (crate::families::ALL[0].example)();
    spec["stocks"] = json!([to_value(&profile.stock).unwrap()]);
    spec["fits"] = to_value(profile.fits).unwrap();
    for h in spec["holders"].as_array_mut().unwrap() {
        for field in ["stock", "floor_stock", "inner_stock"] {
            h.as_object_mut().unwrap().remove(field);
        }
    }
    let (mut out, mut defaults) = (vec![], vec![]);
    let job = Job::checked(&read(spec).unwrap(), &Limits::default(), &mut out, &mut defaults).unwrap();
    assert_eq!(codes(&out), []);
    near(job.stocks[0].thickness_mm, 3.095, 1e-9);
    near(job.stocks[0].kerf_mm, 0.180, 1e-9);
    assert_eq!(job.stocks[0].next_kerf.from, crate::material::SpreadFrom::Readings(3));
    assert!(defaults.iter().all(|d| !d.at.starts_with("/fits") && !d.at.contains("kerf")));
}

#[test]
fn without_answers_the_fits_stay_as_they_were() {
    let mut silent = good();
    silent["fits"] = json!({"divider": "thumb"});
    for slot in silent["combs"][0]["slots"].as_array_mut().unwrap() {
        slot.as_object_mut().unwrap().remove("answer");
    }
    let p = taken(silent).0.unwrap();
    assert!(p.fit.is_none());
    assert_eq!(to_value(p.fits).unwrap(), json!({"divider": "thumb"}));
}
