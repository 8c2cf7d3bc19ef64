//! Whole packages: the same bytes twice, every file readable, the sums right.

use super::super::package::files;
use super::super::{ALL, package, report};
use crate::families;
use crate::make::tests::made;
use serde_json::Value;
use std::io::Read as _;

/// A request whose names try to be something else, as far as names may.
fn awkward() -> Value {
    let mut request = (families::ALL[0].example)();
    request["name"] = "Schublade 5 ;=1+2 'x' {{7*7}} %n $(id)".into();
    request
}

#[test]
fn the_same_request_gives_the_same_bytes() {
    for about in families::ALL {
        let (a, b) = (package(&made((about.example)())).unwrap(), package(&made((about.example)())).unwrap());
        assert!(a == b, "{}", about.tag);
    }
}

#[test]
fn the_archive_is_sorted_undated_and_whole() {
    let made = made(awkward());
    let bytes = package(&made).unwrap();
    let mut zip = zip::ZipArchive::new(std::io::Cursor::new(&bytes)).unwrap();
    let (mut names, want) = (vec![], files(&made).unwrap());
    for (i, (path, want)) in want.iter().enumerate() {
        let mut f = zip.by_index(i).unwrap();
        let mut data = vec![];
        f.read_to_end(&mut data).unwrap();
        assert_eq!((f.name().unwrap().as_ref(), &data), (path.as_str(), want));
        assert_eq!(f.last_modified(), Some(zip::DateTime::default()));
        assert_eq!(f.unix_mode().map(|m| m & 0o777), Some(0o644));
        names.push(f.name().unwrap().into_owned());
    }
    assert!(names.is_sorted());
    for format in ALL {
        assert!(names.iter().any(|n| n.starts_with(format.path)), "{} is missing", format.path);
    }
}

#[test]
fn a_request_in_spec_json_gives_the_same_package_again() {
    let first = made(awkward());
    let spec = files(&first).unwrap().into_iter().find(|f| f.0 == "spec.json").unwrap().1;
    let spec: Value = serde_json::from_slice(&spec).unwrap();
    assert!(package(&made(spec["request"].clone())).unwrap() == package(&first).unwrap());
    // resolved, it still is a request, and nothing is left to a default but what has none to fill in
    let again = made(spec["resolved"].clone());
    assert_eq!(again.parts.len(), first.parts.len());
}

#[test]
fn names_stay_text_in_every_file() {
    let made = made(awkward());
    for (path, bytes) in files(&made).unwrap() {
        if path.ends_with(".dxf") || path.starts_with("sheets/") {
            let text = String::from_utf8(bytes).unwrap();
            assert!(!text.contains("Schublade") && !text.contains("7*7"), "{path}");
        }
    }
}

#[test]
fn every_row_of_the_table_has_every_cell() {
    let made = made(awkward());
    let csv = files(&made).unwrap().into_iter().find(|f| f.0 == "bill.csv").unwrap().1;
    let text = String::from_utf8(csv).unwrap();
    assert!(text.ends_with("\r\n") && !text.replace("\r\n", "").contains(['\r', '\n']));
    let rows: Vec<&str> = text.trim_end().split("\r\n").collect();
    // no cell of this table holds a comma: the name has none
    for row in &rows {
        assert_eq!(row.split(',').count(), 20, "{row}");
        for cell in row.split(',') {
            let cell = cell.trim_matches('"');
            assert!(!cell.starts_with(['=', '+', '-', '@']), "{row}");
        }
    }
    let berths: usize = made.holders.iter().map(|h| h.assembly.berths.len()).sum();
    let least = 2 + made.parts.len() + made.sheets.len() + berths;
    assert!(rows.len() >= least, "{} rows of at least {least}", rows.len());
}

#[test]
fn the_report_counts_what_the_sheets_say() {
    let made = made(awkward());
    let report: Value = serde_json::from_slice(&report(&made).unwrap()).unwrap();
    let minutes: f64 = made.sheets.iter().map(|s| s.route.minutes).sum();
    assert!((report["minutes"].as_f64().unwrap() - minutes).abs() < 0.01);
    assert_eq!(report["sheets"].as_array().unwrap().len(), made.sheets.len());
    assert_eq!(report["defaults"].as_array().unwrap().len(), made.defaults.len());
    assert_eq!(report["job"].as_str().unwrap().len(), 64);
    assert!(matches!(report["verdict"].as_str(), Some("ok" | "warn")));
}
