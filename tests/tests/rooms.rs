//! The directions between rooms, and what core must never know.

#![allow(clippy::unwrap_used)] // a test that cannot go on stops here

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

fn top() -> PathBuf {
    // made plain: a path through tests/.. would look like a test
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

/// All Rust files below a folder.
fn rust_files(folder: &Path) -> Vec<PathBuf> {
    let mut all = vec![];
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            all.extend(rust_files(&path));
        } else if path.extension().is_some_and(|e| e == "rs") {
            all.push(path);
        }
    }
    all.sort();
    all
}

/// Rooms in the order of core's list.
fn rooms() -> Vec<String> {
    let lib = fs::read_to_string(top().join("core/src/lib.rs")).unwrap();
    lib.lines().filter_map(|l| l.strip_prefix("pub mod ")?.strip_suffix(';').map(str::to_owned)).collect()
}

/// Tests may look at any room; they are the files and folders named so.
fn is_test(path: &Path) -> bool {
    path.iter().any(|p| {
        let p = p.to_string_lossy();
        p == "tests" || p == "tests.rs" || p.ends_with("_tests.rs") || p == "testing.rs"
    })
}

/// What stands before the tests of a file.
fn code_of(path: &Path) -> String {
    let text = fs::read_to_string(path).unwrap();
    text.split("#[cfg(test)]").next().unwrap_or_default().to_owned()
}

/// Rooms that a file names by `crate::room`.
fn named(code: &str) -> Vec<String> {
    let lines = code.lines().filter(|l| !l.trim_start().starts_with("//"));
    lines
        .flat_map(|l| {
            l.split("crate::")
                .skip(1)
                .map(|rest| rest.chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect::<String>())
                .collect::<Vec<_>>()
        })
        .collect()
}

#[test]
fn a_room_imports_only_rooms_above_it() {
    let rooms = rooms();
    assert!(rooms.len() > 15, "the list of rooms was not read: {rooms:?}");
    let (mut seen, mut wrong) = (0, vec![]);
    for (i, room) in rooms.iter().enumerate() {
        for file in rust_files(&top().join("core/src").join(room)) {
            if is_test(&file) {
                continue;
            }
            for other in named(&code_of(&file)) {
                if let Some(j) = rooms.iter().position(|r| *r == other) {
                    seen += 1;
                    if j > i {
                        wrong.push(format!("{} names {other}, which is below {room}", file.display()));
                    }
                }
            }
        }
    }
    assert!(seen > 100, "only {seen} imports were seen");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn each_room_says_what_it_may_import() {
    for room in rooms() {
        let head = fs::read_to_string(top().join("core/src").join(&room).join("mod.rs")).unwrap();
        assert!(head.starts_with("//! "), "{room} opens without a line about it");
        assert!(head.contains("May import:"), "{room} does not say what it may import");
    }
}

#[test]
fn every_file_says_what_it_is() {
    for part in ["core/src", "service/src", "tests/src", "tests/tests"] {
        for file in rust_files(&top().join(part)) {
            let text = fs::read_to_string(&file).unwrap();
            assert!(text.starts_with("//! "), "{} has no first line that says what it is", file.display());
        }
    }
}

#[test]
fn core_knows_no_network_file_clock_or_environment() {
    let forbidden = [
        "std::fs",
        "std::net",
        "std::time",
        "std::env",
        "std::thread",
        "std::process",
        "HashMap",
        "HashSet",
        "SystemTime",
        "Instant",
    ];
    // a positive control: the words are found where they stand
    assert!(code_of(&top().join("tests/tests/rooms.rs")).contains("std::fs"));
    let mut wrong = vec![];
    for file in rust_files(&top().join("core/src")).into_iter().filter(|f| !is_test(f)) {
        let code = code_of(&file);
        // a map whose order reaches nothing may hash, if it says so and brings its own hasher
        let asked_only = code.contains("only ever asked, never walked") && code.contains("BuildHasherDefault");
        for (n, line) in code.lines().enumerate() {
            let line = line.split("//").next().unwrap_or_default();
            if asked_only && line.contains("HashMap") {
                continue;
            }
            for word in forbidden.iter().filter(|w| line.contains(**w)) {
                wrong.push(format!("{}:{}: {word}", file.display(), n + 1));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Trigonometry of the system differs between machines in the last digit; the same spec must not.
#[test]
fn core_takes_trigonometry_from_a_crate() {
    let calls = [
        ".sin()",
        ".cos()",
        ".tan()",
        ".asin()",
        ".acos()",
        ".atan()",
        ".atan2(",
        ".sin_cos()",
        ".exp()",
        ".ln()",
        ".powf(",
        ".hypot(",
    ];
    let mut wrong = vec![];
    for file in rust_files(&top().join("core/src")).into_iter().filter(|f| !is_test(f)) {
        for (n, line) in code_of(&file).lines().enumerate() {
            let line = line.split("//").next().unwrap_or_default();
            if calls.iter().any(|c| line.contains(c)) {
                wrong.push(format!("{}:{}: {}", file.display(), n + 1, line.trim()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Whether `package` of the dependency tree of berth-core holds `of`.
fn depends_on(of: &str) -> bool {
    let out = Command::new(env!("CARGO"))
        .args(["tree", "-p", "berth-core", "-e", "normal", "--prefix", "none", "--offline"])
        .current_dir(top())
        .output()
        .unwrap();
    let tree = String::from_utf8_lossy(&out.stdout).into_owned();
    assert!(out.status.success(), "{}", String::from_utf8_lossy(&out.stderr));
    tree.lines().any(|l| l.split(' ').next() == Some(of))
}

#[test]
fn core_depends_on_no_network_crate() {
    assert!(depends_on("glam"), "the positive control is not found: the tree was not read");
    // zip links getrandom for encryption, which nothing here uses
    for absent in ["tokio", "axum", "hyper", "tower", "mio", "socket2", "reqwest", "rand", "chrono", "time"] {
        assert!(!depends_on(absent), "core depends on {absent}");
    }
}
