//! Every family's example, from request to sheets, judged by the solids.

use super::{Answer, make};
use crate::families::ALL;
use crate::finish::Built;
use crate::job::{Limits, read};
use crate::made::Made;
use crate::solid::{Plate, contacts, overlap};

/// Makes a request that must not be refused.
pub fn made(request: serde_json::Value) -> Made {
    let request = read(request).unwrap();
    match make(&request, &Limits::default(), &|| false) {
        Answer::Made(m) => *m,
        Answer::Refused(r) => panic!("refused: {:#?}", r.findings),
        Answer::Stopped => panic!("stopped"),
    }
}

/// Everything up to the checks, refused or not: the holders that could be derived, and all findings.
pub fn proven(request: serde_json::Value) -> (Vec<Built>, Vec<crate::finding::Finding>) {
    let proof = super::prove(&read(request).unwrap(), &Limits::default(), &|| false);
    (proof.holders, proof.findings)
}

/// Every pair of panels that stands deeper in one another than its fit squeezes, and every contact
/// that misses its fit by more than 0.02 mm.
pub fn faults(built: &Built) -> Vec<String> {
    let mut faults = vec![];
    let panels = &built.assembly.panels;
    let plate = |i: usize| Plate { slab: &panels[i].slab, region: &built.finished.panels[i].region };
    for i in 0..panels.len() {
        for j in i + 1..panels.len() {
            let squeeze = built
                .assembly
                .meeting_of(crate::assembly::PanelId(i), crate::assembly::PanelId(j))
                .map_or(0.0, |m| (-built.assembly.meetings[m].fit_mm).max(0.0));
            if let Some(o) = overlap(plate(i), plate(j))
                && o.depth_mm > 0.02 + squeeze
            {
                faults.push(format!("{} × {}: {o:?}", panels[i].name, panels[j].name));
            }
        }
    }
    for c in contacts(&built.assembly, &built.finished) {
        let m = &built.assembly.meetings[c.meeting];
        let off = (c.gap_mm - c.want_mm).abs();
        if off.is_nan() || off > 0.02 || !c.filled {
            faults.push(format!("{} → {}: {c:?}", panels[m.a.0].name, panels[m.b.0].name));
        }
    }
    faults
}

/// Numbers for random cases: the same seed gives the same cases everywhere.
pub struct Dice(crate::units::dice::Dice);
impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(crate::units::dice::Dice::new(seed))
    }
    pub fn next(&mut self) -> f64 {
        self.0.share()
    }
    pub fn within(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * self.next()
    }
    pub fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[(self.next() * of.len() as f64) as usize % of.len()]
    }
}

/// How many random cases a test tries: `BERTH_CASES`, or its own number.
pub fn cases(usual: usize) -> usize {
    std::env::var("BERTH_CASES").ok().and_then(|v| v.parse().ok()).unwrap_or(usual)
}

#[test]
fn every_familys_example_goes_together() {
    for about in ALL {
        let made = made((about.example)());
        for built in &made.holders {
            let faults = faults(built);
            assert!(
                faults.is_empty(),
                "{}: {} faults, first {:#?}",
                about.tag,
                faults.len(),
                &faults[..faults.len().min(6)]
            );
        }
    }
}

/// A random tray or liner in a drawer or case, of one or two sheets.
pub fn random_tray_or_liner(dice: &mut Dice) -> serde_json::Value {
    let stock = |dice: &mut Dice, id: &str| {
        let (m, t) = dice.pick(&[
            ("birch-ply-3", 3.05),
            ("birch-ply-4", 4.0),
            ("poplar-ply-3", 3.0),
            ("mdf-3", 3.0),
            ("birch-ply-6", 6.1),
        ]);
        serde_json::json!({"id": id, "material": m, "readings_mm": [t + dice.within(-0.1, 0.1)], "kerf_mm": dice.within(0.13, 0.29)})
    };
    let stocks = [stock(dice, "A"), stock(dice, "B")];
    let floor = dice.pick(&["fingers", "captured", "loose"]);
    let mut holder = serde_json::json!({
        "stock": dice.pick(&["A", "B"]), "floor_stock": dice.pick(&["A", "B"]), "inner_stock": dice.pick(&["A", "B"]),
        "columns": dice.within(1.0, 5.0).round(), "rows": dice.within(1.0, 4.0).round(),
        "height_mm": dice.within(35.0, 90.0).round(), "floor": floor, "floor_raise_mm": dice.within(8.0, 15.0).round(),
        "divider_drop_mm": dice.within(0.0, 6.0).round(),
    });
    let (w, d) = (dice.within(150.0, 480.0), dice.within(120.0, 340.0));
    let space = if dice.next() < 0.5 {
        holder["family"] = "compartments".into();
        holder["dividers"] = dice.pick(&["fixed", "removable"]).into();
        if dice.next() < 0.3 {
            holder["rake_deg"] = dice.within(30.0, 50.0).round().into();
        }
        serde_json::json!({"kind": "drawer", "width_mm": w, "depth_mm": d, "clear_height_mm": 110})
    } else {
        holder["family"] = "case-liner".into();
        if dice.next() < 0.4 {
            holder["deck_heights_mm"] = 26.into();
        }
        let round = dice.pick(&[0.0, 5.0, 20.0, 45.0]);
        serde_json::json!({"kind": "case", "floor_mm": [w, d], "slope_deg": dice.within(0.0, 10.0), "height_mm": 110,
            "corner_radius_floor_mm": round, "corner_radius_rim_mm": round + 5.0})
    };
    serde_json::json!({"space": space, "stocks": stocks, "holders": [holder]})
}

/// Random trays and liners: those that are made must go together; those that are not must say why.
#[test]
fn random_trays_and_liners_go_together_or_say_by_how_much() {
    let (cases, seed) = (cases(60), 7_310_227);
    let mut dice = Dice::new(seed);
    let (mut made_count, mut refused) = (0, std::collections::BTreeMap::<&str, usize>::new());
    for case in 0..cases {
        let request = random_tray_or_liner(&mut dice);
        match make(&read(request.clone()).unwrap(), &Limits::default(), &|| false) {
            Answer::Made(m) => {
                made_count += 1;
                for built in &m.holders {
                    let f = faults(built);
                    assert!(
                        f.is_empty(),
                        "seed {seed} case {case}: {} faults, first {:#?}\n{request}",
                        f.len(),
                        &f[..f.len().min(3)]
                    );
                }
            }
            Answer::Refused(r) => {
                for f in r.findings.iter().filter(|f| f.verdict == crate::finding::Verdict::Refuse) {
                    assert!(!f.have.is_empty() && !f.need.is_empty() && !f.why.is_empty(), "{f:?}");
                    *refused.entry(f.code).or_default() += 1;
                }
            }
            Answer::Stopped => panic!("nobody stopped it"),
        }
    }
    eprintln!("seed {seed}: {made_count} of {cases} made; refused: {refused:?}");
    assert!(made_count * 2 > cases, "only {made_count} of {cases} were made: {refused:?}");
}

/// A holder 513.1 × 438.1 of 3.10 sheet, 4 columns and 3 rows (calculated): cell = (outside − (n + 1)·t)/n.
#[test]
fn compartments_divide_what_true_thickness_leaves() {
    let made = made(serde_json::json!({
        "space": {"kind": "drawer", "width_mm": 515.1, "depth_mm": 440.1, "clear_height_mm": 80},
        "cutter": {"base": "co2-600x400", "bed_mm": [600, 500]},
        "stocks": [{"id": "A", "material": "birch-ply-3", "readings_mm": [3.10], "kerf_mm": 0.18}],
        "holders": [{"family": "compartments", "columns": 4, "rows": 3}]
    }));
    let bays = &made.holders[0].assembly.bays;
    assert_eq!(bays.len(), 12);
    for b in bays {
        assert!((b.x.1 - b.x.0 - 124.4).abs() < 0.05 && (b.y.1 - b.y.0 - 141.9).abs() < 0.05, "{b:?}");
    }
}
