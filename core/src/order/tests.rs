//! Holders put together and taken apart: examples, locks, groups.

use super::*;
use crate::assembly::{Assembly, Grain, Joint, Panel, PanelId, Reach, Role};
use crate::finish::{Finished, finish};
use crate::geom::{Contour, DVec3, Frame, HalfSpace, Region, Slab, unite_regions};
use crate::joints::Section;
use crate::make::tests::{Dice, cases, proven, random_tray_or_liner};

const T: f64 = 3.1;

fn steps(assembly: &Assembly, finished: &Finished) -> Vec<Step> {
    match find(assembly, finished, &|| false) {
        Order::Steps(steps) => steps,
        other => panic!("{other:#?}"),
    }
}

fn around(lo: DVec3, hi: DVec3) -> Vec<HalfSpace> {
    let axes = [DVec3::X, DVec3::Y, DVec3::Z];
    axes.iter().flat_map(|n| [HalfSpace::beyond(hi, *n), HalfSpace::beyond(lo, -*n)]).collect()
}

/// A plate whose lower face holds `at` and looks along `normal`, within a box.
fn plate(a: &mut Assembly, name: &str, at: DVec3, normal: DVec3, lo: DVec3, hi: DVec3) -> PanelId {
    let hint = if normal.x.abs() < 0.5 { DVec3::X } else { DVec3::Y };
    let slab = Slab { frame: Frame::new(at, normal, hint).unwrap(), thickness: T };
    a.add(Panel {
        name: name.into(),
        role: Role::Plate,
        stock: 0,
        slab,
        seed: (lo + hi) / 2.0,
        bounds: around(lo, hi),
        rank: 1,
        tools: vec![],
        grain: Grain::Free,
    })
}

fn finished(a: &Assembly) -> Finished {
    let mut out = vec![];
    let f = finish(a, &[], "/holders/0", &mut out).unwrap_or_else(|| panic!("{out:#?}"));
    assert!(out.is_empty(), "{out:#?}");
    f
}

/// Two plates that lean 60° toward each other's feet, tabbed through a floor and through two end plates,
/// which are tabbed into the floor themselves.
fn trough(reach: Reach) -> Assembly {
    let mut a = Assembly::default();
    let v = DVec3::new;
    let floor = plate(&mut a, "floor", v(0.0, 0.0, 0.0), DVec3::Z, v(-120.0, -60.0, -1.0), v(120.0, 60.0, 9.0));
    let ends = [-90.0, 90.0 - T].map(|x| {
        let id = plate(&mut a, "end", v(x, 0.0, 0.0), DVec3::X, v(x - 1.0, -55.0, -9.0), v(x + 9.0, 55.0, 70.0));
        a.panels[id.0].seed = v(x + T / 2.0, 0.0, 40.0);
        a.meet(id, floor, Joint::Tab { reach: Reach::Flush }, 0.05);
        id
    });
    for side in [-1.0, 1.0] {
        let (sin, cos) = libm::sincos(60.0_f64.to_radians());
        let up = v(0.0, side * cos, sin);
        let normal = DVec3::X.cross(up);
        let foot = v(0.0, side * 12.0, T);
        let id = plate(&mut a, "side", foot, normal, v(-100.0, -90.0, -30.0), v(100.0, 90.0, 60.0));
        a.panels[id.0].seed = foot + up * 30.0 + normal * T / 2.0;
        a.meet(id, floor, Joint::Tab { reach }, 0.05);
        for e in ends {
            a.meet(id, e, Joint::Tab { reach: Reach::Flush }, 0.05);
        }
    }
    a
}

/// Calculated case: 15.0 long tabs at 60° need a slot of 10.18 to be lowered straight down and have 5.37, so
/// that a side goes in along its own plane only, an end plate onto the sides only along x, and into the
/// floor only along z.
#[test]
fn a_trough_with_long_tabs_is_locked_and_its_flush_twin_is_not() {
    let a = trough(Reach::Proud(11.4));
    let f = finished(&a);
    let Order::Locked(locks) = find(&a, &f, &|| false) else { panic!("an order was found") };
    assert_eq!(locks.len(), 1, "{locks:?}");
    assert_eq!(locks[0].parts.len(), 5);
    let blame = &locks[0].blame;
    assert_eq!(blame.len(), 3, "{blame:?}");
    // floor, one end, one side hold one another
    let mut parts: Vec<usize> = blame.iter().flat_map(|m| [a.meetings[*m].a.0, a.meetings[*m].b.0]).collect();
    parts.sort_unstable();
    parts.dedup();
    assert_eq!(parts.len(), 3);
    irreducible(&a, &f, &locks[0]);
    let (change, joints, _) = remedy::tried(&a, &[], &locks, &|| false).unwrap();
    assert_eq!(change, Change::Flush);
    // both sides' tabs in the floor, and no other
    assert_eq!(joints.iter().map(|m| a.meetings[*m].b.0).collect::<Vec<_>>(), [0, 0]);

    let twin = trough(Reach::Flush);
    let steps = steps(&twin, &finished(&twin));
    assert_eq!(steps.len(), 4);
    // the sides are joined with the ends, and all four lowered onto the floor as one
    assert!(steps.iter().any(|s| s.moved.len().min(s.onto.len()) == 1), "{steps:#?}");
    assert!(steps.iter().any(|s| s.moved.len() == 4 || (s.moved == [0] && s.onto.len() == 4)), "{steps:#?}");
}

/// Two feet of an upright plate through a floor, tied below it by a bar: nothing but cutting the plate
/// opens that ring.
#[test]
fn a_plate_tied_round_a_floor_is_locked_by_that_joint_alone() {
    let mut a = Assembly::default();
    let v = DVec3::new;
    let floor = plate(&mut a, "floor", v(0.0, 0.0, 0.0), DVec3::Z, v(-120.0, -60.0, -1.0), v(120.0, 60.0, 9.0));
    let wall = plate(&mut a, "wall", v(0.0, 0.0, 0.0), DVec3::Y, v(-80.0, -9.0, -30.0), v(80.0, 9.0, 50.0));
    a.panels[wall.0].seed = v(0.0, T / 2.0, 30.0);
    a.meet(wall, floor, Joint::Tab { reach: Reach::Flush }, 0.05);
    let mut f = finished(&a);
    assert_eq!(steps(&a, &f).len(), 1);
    let feet: Vec<f64> = f.meetings[0].cells.iter().flat_map(|c| [c.from, c.to]).collect();
    let x = Section::between(&a.panels[wall.0].slab, &a.panels[floor.0].slab).unwrap().e.x;
    let ends = feet.iter().map(|s| s * x).fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), s| (l.min(s), h.max(s)));
    let own = |x: f64, z: f64| a.panels[wall.0].slab.frame.into_own(v(x, 0.0, z)).truncate();
    let bar = Contour::rect(own(ends.0, -12.0), own(ends.1, 0.0));
    let tied = unite_regions(&[f.panels[wall.0].region.clone(), Region::new(bar, vec![])]);
    assert_eq!(tied.len(), 1);
    f.panels[wall.0].region = tied[0].clone();
    let Order::Locked(locks) = find(&a, &f, &|| false) else { panic!("an order was found") };
    assert_eq!((locks[0].parts.as_slice(), locks[0].blame.as_slice()), (&[0, 1][..], &[0][..]));
    irreducible(&a, &f, &locks[0]);
}

/// All joints but those to blame are cut off: still locked; one more: open.
fn irreducible(a: &Assembly, f: &Finished, lock: &Lock) {
    let mut bars = Bars::new(a, f, lines::candidates(a), Detail::Fine);
    for m in (0..a.meetings.len()).filter(|m| !lock.blame.contains(m)) {
        bars.set_loose(m, true);
    }
    assert!(!take_apart(a, &mut bars, lock.parts.clone(), &|| false).stuck.is_empty());
    for m in &lock.blame {
        bars.set_loose(*m, true);
        assert!(take_apart(a, &mut bars, lock.parts.clone(), &|| false).stuck.is_empty(), "{m}");
        bars.set_loose(*m, false);
    }
}

#[test]
fn every_familys_example_has_an_order() {
    for about in crate::families::ALL {
        let (holders, _) = proven((about.example)());
        for built in &holders {
            let steps = steps(&built.assembly, &built.finished);
            assert_eq!(steps.len() + 1, built.assembly.panels.len());
            replayed(&built.assembly, &built.finished, &steps);
        }
    }
}

/// Every part is pushed onto what is there, until one whole is left; and in small moves of each push no
/// two parts stand in one another, as the check of overlaps sees it.
fn replayed(a: &Assembly, f: &Finished, steps: &[Step]) {
    use crate::solid::{Plate, overlap};
    let mut units: Vec<Vec<usize>> = (0..a.panels.len()).map(|p| vec![p]).collect();
    for s in steps {
        let sorted = |of: &[usize]| {
            let mut v = of.to_vec();
            v.sort_unstable();
            v
        };
        for part in [sorted(&s.moved), sorted(&s.onto)] {
            let at =
                units.iter().position(|u| *u == part).unwrap_or_else(|| panic!("{part:?} is no unit of {units:?}"));
            units.remove(at);
        }
        units.push(sorted(&[s.moved.clone(), s.onto.clone()].concat()));
        for k in 0..12 {
            // dense at the end, where the joints are
            let back = s.travel_mm.min(s.guided_mm + 1.0) * f64::from(k) / 11.0;
            for i in &s.moved {
                for j in &s.onto {
                    let mut slab = a.panels[*i].slab;
                    slab.frame = slab.frame.moved(-s.way * back);
                    let (p, q) = (
                        Plate { slab: &slab, region: &f.panels[*i].region },
                        Plate { slab: &a.panels[*j].slab, region: &f.panels[*j].region },
                    );
                    let squeeze =
                        a.meeting_of(PanelId(*i), PanelId(*j)).map_or(0.0, |m| (-a.meetings[m].fit_mm).max(0.0));
                    if let Some(o) = overlap(p, q) {
                        assert!(o.depth_mm < 0.03 + squeeze, "{i} in {j} by {o:?}, {back} before the end of {s:?}");
                    }
                }
            }
        }
    }
    assert_eq!(units.len(), 1);
}

/// Random trays and liners that no check refuses: each has an order, which is replayed, or is locked by
/// joints that are found irreducible again.
#[test]
fn random_trays_and_liners_have_an_order_or_irreducible_locks() {
    let (cases, seed) = (cases(25), 4_402_019);
    let mut dice = Dice::new(seed);
    let (mut ordered, mut locked, mut refused) = (0, 0, 0);
    for _ in 0..cases {
        let request = random_tray_or_liner(&mut dice);
        let (holders, findings) = proven(request.clone());
        if crate::finding::worst(&findings) == crate::finding::Verdict::Refuse {
            refused += 1;
            continue;
        }
        for built in &holders {
            match find(&built.assembly, &built.finished, &|| false) {
                Order::Steps(steps) => {
                    replayed(&built.assembly, &built.finished, &steps);
                    ordered += 1;
                }
                Order::Locked(locks) => {
                    locks.iter().for_each(|l| irreducible(&built.assembly, &built.finished, l));
                    eprintln!("locked: {request}\n{locks:?}");
                    locked += 1;
                }
                Order::Stopped => panic!("nobody stopped it"),
            }
        }
    }
    eprintln!("seed {seed}: {ordered} ordered, {locked} locked, {refused} refused before");
    assert!(ordered * 2 > cases, "only {ordered} of {cases} have an order");
}
