//! Shells at all slopes, thicknesses and fits, judged by the solids.

use super::boxes::{FloorKind, ShellPlan, shell};
use super::{Context, Room};
use crate::assembly::Assembly;
use crate::finish::{Built, finish};
use crate::geom::DVec3;
use crate::job::{Job, Limits, read};
use crate::make::tests::faults;
use serde_json::json;

/// A small generator (splitmix64): the same seed gives the same cases everywhere.
struct Dice(u64);
impl Dice {
    fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }
    fn within(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * self.next()
    }
    fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[(self.next() * of.len() as f64) as usize % of.len()]
    }
}

fn job(materials: [&str; 2], readings: [f64; 2], corner: f64) -> Job {
    let stock = |id: &str, m: &str, t: f64| json!({"id": id, "material": m, "readings_mm": [t], "kerf_mm": 0.2, "sheet_mm": [600, 400]});
    let request = read(json!({
        "space": {"kind": "drawer", "width_mm": 500, "depth_mm": 400, "clear_height_mm": 200},
        "stocks": [stock("A", materials[0], readings[0]), stock("B", materials[1], readings[1])],
        "fits": {"corner": corner, "floor": corner, "oblique": 0.1},
        "holders": [{"family": "compartments"}]
    }))
    .unwrap();
    let (mut out, mut defaults) = (vec![], vec![]);
    Job::checked(&request, &Limits::default(), &mut out, &mut defaults).unwrap_or_else(|| panic!("{out:#?}"))
}

#[test]
fn shells_of_any_slope_thickness_and_fit_go_together() {
    let cases: usize = std::env::var("BERTH_CASES").ok().and_then(|v| v.parse().ok()).unwrap_or(200);
    let seed = 20261125;
    let mut dice = Dice(seed);
    let mut joints = 0;
    for case in 0..cases {
        let sheet = [("birch-ply-3", 3.1), ("birch-ply-4", 3.9), ("birch-ply-6", 6.2)];
        let (m1, t1) = dice.pick(&sheet);
        let (m2, t2) = dice.pick(&sheet);
        let job = job([m1, m2], [t1 + dice.within(-0.1, 0.1), t2 + dice.within(-0.1, 0.1)], dice.within(-0.03, 0.1));
        let plan = ShellPlan {
            width: dice.within(90.0, 420.0),
            depth: dice.within(90.0, 350.0),
            height: dice.within(40.0, 110.0),
            lean_x: dice.pick(&[0.0, 0.05, 0.0873, 0.17, 0.2]),
            lean_y: dice.pick(&[0.0, 0.03, 0.0873, 0.15, 0.2]),
            floor: dice.pick(&[FloorKind::Fingers, FloorKind::Captured, FloorKind::Loose, FloorKind::None]),
            raise: dice.within(14.0, 20.0),
            joined: true,
            short: 0.0,
        };
        let room = Room { width_mm: 400.0, depth_mm: 400.0, height_mm: 150.0 };
        let cx = Context {
            at: "/holders/0",
            space: &job.space,
            room,
            stocks: &job.stocks,
            fits: &job.fits,
            panels: 0,
            floor: 1,
            inner: 0,
            things: vec![],
        };
        let mut a = Assembly::default();
        shell(&cx, &mut a, &plan).unwrap();
        let mut out = vec![];
        let finished = finish(&a, "/holders/0", &mut out);
        assert!(out.is_empty(), "seed {seed} case {case} {plan:?}: {out:#?}");
        let built = Built {
            letter: "A".into(),
            family: "shell",
            at: "/holders/0".into(),
            assembly: a,
            finished: finished.unwrap(),
            origin: DVec3::ZERO,
            size: room,
        };
        joints += built.assembly.meetings.len();
        let f = faults(&built);
        assert!(
            f.is_empty(),
            "seed {seed} case {case} t {t1} {t2} {plan:?}: {} faults, first {:#?}",
            f.len(),
            &f[..f.len().min(4)]
        );
    }
    assert!(joints > cases * 4, "{joints} joints over {cases} shells");
}
