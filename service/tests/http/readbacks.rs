//! Read-backs over HTTP: what was made is read back clean, what was changed is named, what is no package is refused.

use super::client::{Answer, post, post_to};
use berth_core::readback::{ReadLimits, open};
use berth_service::examples;
use std::io::{Cursor, Write};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

fn read_back(bytes: Vec<u8>) -> Answer {
    post_to("/v1/readbacks", bytes, "application/zip", "application/json")
}

fn package(name: &str) -> Vec<u8> {
    let answer = post(&examples::all().into_iter().find(|e| e.name == name).unwrap().request);
    assert_eq!(answer.status, 200);
    answer.body
}

/// The same package with one file changed; an empty text takes it out.
fn changed(bytes: &[u8], path: &str, change: impl Fn(&str) -> String) -> Vec<u8> {
    let mut zip = ZipWriter::new(Cursor::new(vec![]));
    for (name, data) in open(bytes, &ReadLimits::default()).unwrap() {
        let data = if name == path { change(&String::from_utf8(data).unwrap()).into_bytes() } else { data };
        if data.is_empty() {
            continue;
        }
        zip.start_file(name, SimpleFileOptions::default()).unwrap();
        zip.write_all(&data).unwrap();
    }
    zip.finish().unwrap().into_inner()
}

#[test]
fn a_package_is_read_back_and_what_was_changed_is_named() {
    let bytes = package("compartments");
    let answer = read_back(bytes.clone());
    assert_eq!(
        (answer.status, answer.header("berth-verdict")),
        (200, "ok"),
        "{}",
        String::from_utf8_lossy(&answer.body)
    );
    let report = answer.json();
    assert_eq!(report["parts"].as_u64(), Some(8));
    assert!(report["joints"].as_array().unwrap().iter().all(|j| !j["gaps"].as_array().unwrap().is_empty()));
    // a part that is gone, one thicker than it was, and one drawn in inches
    let gone = read_back(changed(&bytes, "parts/A3.dxf", |_| String::new()));
    assert_eq!((gone.status, gone.header("berth-verdict")), (200, "refuse"));
    assert_eq!(gone.json()["findings"][0]["where"], "A3");
    assert_eq!(gone.refused_for(), ["part-missing"]);
    let inches =
        read_back(changed(&bytes, "parts/A3.dxf", |t| t.replace("$INSUNITS\r\n 70\r\n4", "$INSUNITS\r\n 70\r\n1")));
    assert!(inches.refused_for().contains(&"part-size-changed".to_owned()), "{:?}", inches.refused_for());
}

#[test]
fn what_is_no_package_is_refused_with_the_reason() {
    for (bytes, code) in [
        (b"hello".to_vec(), "archive-unreadable"),
        (vec![], "archive-unreadable"),
        (changed(&package("compartments"), "assembly.json", |_| String::new()), "assembly-unreadable"),
        (changed(&package("compartments"), "parts/A1.dxf", |t| t[..t.len() / 2].to_owned()), "file-unreadable"),
    ] {
        let answer = read_back(bytes);
        assert_eq!((answer.status, answer.header("content-type")), (422, "application/problem+json"));
        assert_eq!(answer.refused_for(), [code]);
        assert!(!answer.json()["findings"][0]["why"].as_str().unwrap().is_empty());
    }
    let json = post_to("/v1/readbacks", "{}", "application/json", "*/*");
    assert_eq!((json.status, json.refused_for()), (415, vec!["wrong-content-type".to_owned()]));
    let large = post_to("/v1/readbacks", vec![0u8; (16 << 20) + 1], "application/zip", "*/*");
    assert_eq!((large.status, large.refused_for()), (413, vec!["body-too-large".to_owned()]));
}
