//! Coupons: what stands on them, and that it is as it is said.

use super::{Coupon, comb, of};
use crate::families::ALL;
use crate::geom::{Contour, DVec2, Region, faults};
use crate::kerf::drawn;
use crate::made::Made;
use crate::make::tests::made;
use crate::readings::{GrainWay, take};
use crate::route::Role;

fn coupons(made: &Made) -> Vec<Coupon> {
    of(&made.request, &made.job, &made.holders, &|| false)
}

fn edges(c: &Coupon) -> Vec<&Contour> {
    c.sheetlets.iter().flat_map(|s| &s.lines).filter(|l| l.role == Role::Edge).map(|l| &l.contour).collect()
}

#[test]
fn every_example_has_a_coupon_that_holds_each_of_its_joints_once() {
    for about in ALL {
        let made = made((about.example)());
        let all = coupons(&made);
        assert!(!all.is_empty(), "{}", about.tag);
        for joint in made.joints.iter().filter(|j| j.kind != "rest") {
            let same = |c: &&Coupon| {
                c.samples
                    .iter()
                    .any(|s| s.kind == joint.kind && (s.fit_mm - joint.fit_mm).abs() < 0.006 && s.finished.is_some())
            };
            assert!(all.iter().any(|c| same(&c)), "{}: no {} of fit {}", about.tag, joint.kind, joint.fit_mm);
        }
        for c in &all {
            for s in &c.samples {
                assert!(s.finished.is_some(), "{}: {s:?}", about.tag);
                assert_eq!(c.samples.iter().filter(|o| o.code == s.code).count(), 1);
            }
        }
    }
}

/// A tray of square walls has no oblique joint, and neither has its coupon; a leaning rack has its own angle.
#[test]
fn oblique_joints_stand_on_it_only_where_the_job_has_them() {
    let angles = |tag: &str| {
        let about = ALL.iter().find(|a| a.tag == tag).unwrap();
        let all = coupons(&made((about.example)()));
        all.iter().flat_map(|c| c.samples.iter().map(|s| s.angle_deg)).collect::<Vec<f64>>()
    };
    assert!(angles("compartments").iter().all(|a| (a - 90.0).abs() < 0.01));
    assert!(angles("lean-rack").iter().chain(&angles("case-liner")).any(|a| (a - 90.0).abs() > 1.0));
}

#[test]
fn it_fits_the_size_that_suffices_and_nothing_is_near_or_broken() {
    for about in ALL {
        let made = made((about.example)());
        for c in coupons(&made) {
            assert!(c.sheetlets.len() <= 2, "{}: {} pieces", about.tag, c.sheetlets.len());
            for s in &c.sheetlets {
                assert_eq!(s.size_mm, [110.0, 80.0], "{}", about.tag);
                for l in &s.lines {
                    let (lo, hi) = l.contour.bounds();
                    assert!(lo.min_element() > -1e-6 && hi.x < 110.0 + 1e-6 && hi.y < 80.0 + 1e-6, "{}", about.tag);
                    if l.role == Role::Edge {
                        assert!(faults(&Region::new(l.contour.clone(), vec![])).is_empty());
                    }
                }
            }
        }
    }
}

/// Strip and slots are drawn as they are said: ten pieces of 10.00, slots in steps of 0.05 about t + 0.05 − k.
#[test]
fn strip_and_slots_are_drawn_as_they_are_said() {
    let made = made((ALL[0].example)());
    let stock = &made.job.stocks[0];
    let c = &coupons(&made)[0];
    let size = |c: &Contour| {
        let (lo, hi) = c.bounds();
        hi - lo
    };
    let near = |a: f64, b: f64| (a - b).abs() < 1e-6;
    let strip: Vec<f64> =
        edges(c).iter().map(|e| size(e)).filter(|s| is_size(s, 10.0, 8.0)).map(|s| s.x.max(s.y)).collect();
    assert_eq!(strip.len(), 10);
    assert!(near(strip.iter().sum(), 100.0));
    let widths = comb::widths(stock);
    assert_eq!(widths.len(), 9);
    assert!(widths.windows(2).all(|w| near(w[1] - w[0], 0.05)));
    assert!((widths[4] - (stock.thickness_mm + 0.05 - stock.kerf_mm)).abs() <= 0.025 + 1e-9);
    // the combs' outlines have those slots: edges of just that length at the bottom of each
    for way in [GrainWay::Along, GrainWay::Across] {
        assert_eq!(c.readings.combs.iter().filter(|r| r.grain == way).count(), 1);
    }
    // nine slots of four corners each, and the plate's own four
    let combs: Vec<&Contour> = edges(c).into_iter().filter(|e| e.vertices.len() == 40).collect();
    assert_eq!(combs.len(), 2);
    let lying: Vec<bool> = combs.iter().map(|e| size(e).x > size(e).y).collect();
    assert!(lying[0] != lying[1], "both combs run the same way");
    for e in combs {
        for w in &widths {
            assert_eq!(e.segments().filter(|s| near(s.length(), *w)).count(), 1, "slot {w}");
        }
    }
}

fn is_size(s: &DVec2, a: f64, b: f64) -> bool {
    (s.max_element() - a).abs() < 1e-6 && (s.min_element() - b).abs() < 1e-6
}

/// Burnt, the samples are the finished outlines again, and a tab's slot is as wide as formulas say.
#[test]
fn samples_are_drawn_with_the_kerf_and_finished_as_the_formulas_say() {
    let about = ALL.iter().find(|a| a.tag == "lean-rack").unwrap();
    let made = made((about.example)());
    let mut seen = 0;
    for c in coupons(&made) {
        for s in c.samples.iter().filter(|s| s.kind == "tab" && s.stocks == [c.stock; 2]) {
            let [_, host] = s.finished.clone().unwrap();
            let t = made.job.stocks[c.stock].thickness_mm;
            let (sin, cos) = libm::sincos(s.angle_deg.to_radians());
            // flush: T·cotφ + t·sinφ, and the fit once
            let want = t * cos / sin + t * sin + s.fit_mm;
            let (lo, hi) = host.holes[0].bounds();
            assert!(((hi - lo).y - want).abs() < 1e-6, "{}: {} for {want}", s.code, (hi - lo).y);
            let kerf = made.job.stocks[c.stock].drawn_kerf_mm;
            let (lo, hi) = drawn(&host, kerf).unwrap().holes[0].bounds();
            assert!(((hi - lo).y - want + kerf).abs() < 1e-6);
            seen += 1;
        }
    }
    assert!(seen > 0);
}

/// The form beside the coupon is a request as it is: nothing answered yet, nothing refused.
#[test]
fn the_form_is_a_request_for_a_profile() {
    for about in ALL {
        for c in coupons(&made((about.example)())) {
            let (profile, out) = take(&c.readings);
            assert!(profile.is_some(), "{}: {out:#?}", about.tag);
        }
    }
}
