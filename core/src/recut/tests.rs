//! Parts of the examples cut again: the first bytes, another lot, and sheets that do not do.

use super::{Answer, Recut, RecutSpec, recut};
use crate::families::{ALL, compartments};
use crate::finding::{Finding, Verdict};
use crate::formats::package;
use crate::job::read_as;
use crate::make::tests::made;
use crate::readback::{Files, Place, ReadLimits, burnt, of_files, open, read};
use serde_json::{Value, json};

fn answer(archive: &[u8], spec: Value) -> Answer {
    let spec: RecutSpec = read_as(spec).unwrap();
    recut(archive, &spec, &ReadLimits::default(), &|| false)
}

fn cut(archive: &[u8], spec: Value) -> (Files, Recut) {
    match answer(archive, spec) {
        Answer::Cut(bytes, report) => (open(&bytes, &ReadLimits::default()).unwrap(), *report),
        other => panic!("{other:#?}"),
    }
}

fn refused(archive: &[u8], spec: Value) -> Vec<Finding> {
    match answer(archive, spec) {
        Answer::Refused(f) => f,
        other => panic!("{other:?}"),
    }
}

/// A sheet of the examples' material, of one thickness.
fn sheet(thickness_mm: f64, kerf_mm: f64) -> Value {
    json!({"id": "today", "material": "birch-ply-3", "readings_mm": [thickness_mm], "kerf_mm": kerf_mm})
}

/// The examples' sheets: mean of their readings, and kerf.
const FIRST: (f64, f64) = (3.0875, 0.18);

#[test]
fn without_readings_the_files_are_the_first_ones_byte_for_byte() {
    for about in ALL {
        let archive = package(&made((about.example)())).unwrap();
        let old = read(&archive, &ReadLimits::default(), &|| false).unwrap();
        let codes: Vec<&str> = old.parts.iter().map(|p| p.code.as_str()).collect();
        for spec in [json!({"parts": codes}), json!({"parts": codes, "sheet": sheet(FIRST.0, FIRST.1)})] {
            let (files, report) = cut(&archive, spec);
            assert_eq!(files.len(), codes.len() + 1, "{}", about.tag);
            for p in &old.parts {
                assert_eq!(files[&p.file], old.files[&p.file], "{} {}", about.tag, p.code);
            }
            assert!(report.parts.iter().all(|p| p.same_bytes));
        }
    }
}

#[test]
fn another_kerf_draws_another_line_for_the_same_part() {
    let archive = package(&made((ALL[0].example)())).unwrap();
    let old = read(&archive, &ReadLimits::default(), &|| false).unwrap();
    let (files, report) = cut(&archive, json!({"parts": ["A1"], "sheet": sheet(FIRST.0, 0.24)}));
    assert!(report.parts.iter().all(|p| !p.same_bytes && p.moved_mm == 0.0));
    let mut all = old.files.clone();
    all.extend(files.into_iter().filter(|f| f.0 != "recut.json"));
    let new = of_files(all, &ReadLimits::default(), &|| false).unwrap();
    // the list still says the old kerf: burnt with the new one, the part is the first one
    let part = new.parts.iter().find(|p| p.code == "A1").unwrap();
    let first = old.parts.iter().find(|p| p.code == "A1").unwrap();
    let (a, b) = (burnt(&part.drawn, 0.24).unwrap().bounds(), first.finished.bounds());
    assert!((a.0 - b.0).abs().max((a.1 - b.1).abs()).max_element() < 1e-3, "{a:?} {b:?}");
    assert!((part.drawn.bounds().1.x - first.drawn.bounds().1.x - 0.03).abs() < 1e-3);
}

/// Every part of every example on a sheet a little thicker and a little thinner: what enters the neighbours'
/// slots fits tighter or looser by just that, and everything else closes as before.
#[test]
fn on_another_lot_each_fit_moves_by_the_sheet_and_by_nothing_else() {
    let mut slots = 0;
    for about in ALL {
        let archive = package(&made((about.example)())).unwrap();
        let old = read(&archive, &ReadLimits::default(), &|| false).unwrap();
        for (i, p) in old.parts.iter().enumerate() {
            for by in [0.03, -0.06] {
                let t = FIRST.0 + by;
                let (_, report) = cut(&archive, json!({"parts": [p.code], "sheet": sheet(t, 0.2)}));
                assert!(report.findings.is_empty(), "{} {} {by}: {:#?}", about.tag, p.code, report.findings);
                for j in &report.joints {
                    let here = format!("{} {by}: {j:?}", about.tag);
                    let joint = old.joints.iter().find(|o| o.id == j.joint).unwrap();
                    let moved = [j.now_mm[0] - j.was_mm[0], j.now_mm[1] - j.was_mm[1]];
                    let lap = matches!(joint.joint, crate::assembly::Joint::Lap { .. });
                    match j.place {
                        // the part enters: a slot of its neighbour that has not changed
                        Place::Slot if joint.a == i && !lap => {
                            slots += 1;
                            assert!(moved.iter().all(|m| (m + by).abs() < 0.005), "{here}");
                        }
                        // both enter one another: only the neighbour's slot is off
                        Place::Slot if lap => {
                            assert!(moved.iter().any(|m| m.abs() < 0.005), "{here}");
                            assert!(moved.iter().any(|m| (m + by).abs() < 0.005), "{here}");
                        }
                        Place::Slot | Place::Play | Place::Seat | Place::Flank => {
                            assert!(moved.iter().all(|m| m.abs() < 0.005), "{here}");
                        }
                        // neighbours' ends stand proud or back by as much; where they bear on both faces, half of it gapes
                        _ => assert!(moved.iter().all(|m| m.abs() <= by.abs() + 0.005), "{here}"),
                    }
                }
            }
        }
    }
    assert!(slots > 20, "{slots} slots were measured");
}

#[test]
fn a_sheet_that_does_not_do_is_refused_with_the_shim_or_the_thickness_that_would() {
    let archive = package(&made((ALL[0].example)())).unwrap();
    let of = |code: &str, t: f64| json!({"parts": [code], "sheet": sheet(t, 0.18)});
    let old = read(&archive, &ReadLimits::default(), &|| false).unwrap();
    let divider = old.parts.iter().find(|p| p.name.starts_with("divider")).unwrap().code.clone();
    let number = |f: &Finding, key: &str| {
        let all = f.have.iter().chain(&f.need);
        all.clone().find(|(k, _)| *k == key).map(|(_, v)| format!("{v:?}")).unwrap_or_default()
    };
    let thin = refused(&archive, of(&divider, 2.9));
    let f = thin.iter().find(|f| f.code == "recut-too-thin").unwrap();
    assert_eq!((f.place.as_str(), number(f, "shim_mm")), (divider.as_str(), "Number(0.1875)".to_owned()));
    let mut with_shim = of(&divider, 2.9);
    with_shim["with_shim"] = json!(true);
    assert_eq!(cut(&archive, with_shim).1.verdict, Verdict::Warn);
    // slots of 3.1675 (a slide of 0.08) bear what plywood bears: 0.08 tight, so 3.2475 is the thickest
    let thick = refused(&archive, of(&divider, 3.2775));
    let f = thick.iter().find(|f| f.code == "recut-too-thick").unwrap();
    assert!(f.why.contains("3.25") && f.why.contains("0.03"), "{}", f.why);
    let most: f64 =
        number(f, "thickness_max_mm").trim_matches(|c: char| c.is_alphabetic() || "()".contains(c)).parse().unwrap();
    assert!((most - 3.2475).abs() < 0.003, "{most}");
    assert!(matches!(answer(&archive, of(&divider, most - 0.001)), Answer::Cut(..)));
}

#[test]
fn what_is_no_package_or_no_part_is_refused() {
    let archive = package(&made((compartments::ABOUT.example)())).unwrap();
    let codes = |spec: Value, archive: &[u8]| refused(archive, spec).into_iter().map(|f| f.code).collect::<Vec<_>>();
    assert!(codes(json!({"parts": ["Z9"]}), &archive).contains(&"unknown-part"));
    assert!(codes(json!({"parts": []}), &archive).contains(&"nothing-asked"));
    assert!(codes(json!({"parts": ["A1"]}), &archive[..archive.len() / 2]).contains(&"archive-unreadable"));
    let never = json!({"parts": ["A1"], "sheet": {"id": "x", "material": "foamed PVC", "readings_mm": [3.1]}});
    assert!(codes(never, &archive).contains(&"material-never"));
    let edited = |from: &str, to: &str| {
        let mut files = open(&archive, &ReadLimits::default()).unwrap();
        let text = String::from_utf8(files["assembly.json"].clone()).unwrap().replace(from, to);
        files.insert("assembly.json".into(), text.into_bytes());
        crate::formats::archive(files.into_iter().collect()).unwrap()
    };
    let hostile = edited("\"A1\"", "\"../A1\"");
    let spec = json!({"parts": ["../A1"], "sheet": sheet(3.1, 0.2)});
    assert!(codes(spec, &hostile).contains(&"path-unsafe"));
}

/// A floor enters walls that lean by 12°: in a sheet 0.08 thicker its slots have to be 0.08·tan 12° = 0.017 wider
/// (calculated: the shadow t/sinφ + T·cotφ), or they would be that much tighter.
#[test]
fn oblique_slots_follow_the_thickness_of_their_own_sheet() {
    let mut liner = (ALL.iter().find(|a| a.tag == "case-liner").unwrap().example)();
    liner["space"]["slope_deg"] = json!(12);
    liner["holders"][0]["floor"] = json!("captured");
    let archive = package(&made(liner)).unwrap();
    let mut seen = 0;
    for by in [0.08, -0.08] {
        for code in ["A1", "A2", "A3", "A4"] {
            let (_, report) = cut(&archive, json!({"parts": [code], "sheet": sheet(FIRST.0 + by, 0.18)}));
            seen += report.parts[0].slots_remade;
            for j in report.joints.iter().filter(|j| j.place == Place::Slot) {
                let off = (j.now_mm[0] - j.was_mm[0]).abs().max((j.now_mm[1] - j.was_mm[1]).abs());
                assert!(off < 0.003, "{code} {by}: {j:?}");
            }
        }
    }
    assert!(seen >= 8, "{seen} slots were made anew");
}
