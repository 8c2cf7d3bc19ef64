//! Packages of every family, read back.

use super::{Package, ReadLimits, judge, read};
use crate::families::ALL;
use crate::formats::package;
use crate::made::Made;
use crate::make::tests::made;

/// A family's example with its package.
fn example(tag: &str) -> (Made, Vec<u8>) {
    let about = ALL.iter().find(|a| a.tag == tag).unwrap();
    let made = made((about.example)());
    let bytes = package(&made).unwrap();
    (made, bytes)
}

fn taken(bytes: &[u8]) -> Package {
    read(bytes, &ReadLimits::default(), &|| false).unwrap()
}

/// What is read is what was made, within the rounding of printed numbers.
#[test]
fn a_package_is_read_as_it_was_made() {
    let (made, bytes) = example("compartments");
    let p = taken(&bytes);
    assert!(p.faults.is_empty(), "{:#?}", p.faults);
    assert_eq!((p.parts.len(), p.joints.len()), (made.parts.len(), made.joints.len()));
    for (r, m) in p.parts.iter().zip(&made.parts) {
        assert_eq!((r.code.as_str(), r.marks.len()), (m.code.as_str(), m.marks.len()));
        assert!((r.drawn.area() - m.drawn.area()).abs() < 0.05, "{}", r.code);
        assert!((r.finished.area() - m.finished.area()).abs() < 0.05, "{}", r.code);
        assert!(r.slab.frame.origin.distance(m.placement.origin) < 1e-5);
    }
    for (r, m) in p.joints.iter().zip(&made.joints) {
        assert_eq!((r.id.as_str(), r.a, r.b), (m.id.as_str(), m.a, m.b));
    }
    assert_eq!(p.sheets.len(), made.sheets.len());
    assert_eq!(p.sheets.iter().map(|s| s.places.len()).sum::<usize>(), made.parts.len());
}

/// No alarm on what every family makes.
#[test]
fn every_familys_example_is_read_back_without_a_finding() {
    for about in ALL {
        let (_, bytes) = example(about.tag);
        let report = judge(&taken(&bytes), &|| false).unwrap();
        assert!(report.findings.is_empty(), "{}: {:#?}", about.tag, report.findings);
        assert!(report.joints.iter().all(|j| !j.gaps.is_empty()), "{}: {:#?}", about.tag, report.joints);
    }
}

/// An older package has no cells: they are read off the parts themselves.
#[test]
fn a_package_without_cells_is_measured_all_the_same() {
    for about in ALL {
        let (_, bytes) = example(about.tag);
        let mut package = taken(&bytes);
        package.joints.iter_mut().for_each(|j| (j.cells, j.play_mm) = (None, None));
        let report = judge(&package, &|| false).unwrap();
        assert!(report.findings.is_empty(), "{}: {:#?}", about.tag, report.findings);
    }
}
