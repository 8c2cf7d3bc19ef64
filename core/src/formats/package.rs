//! The package: every file in one ZIP, sorted, with fixed time stamps and permissions.

use super::{ALL, File};
use crate::made::Made;
use core::fmt;
use std::io::{Cursor, Write};
use zip::write::SimpleFileOptions;
use zip::{CompressionMethod, DateTime, ZipWriter};

/// Why a file of the package could not be written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackageFault {
    /// Which file.
    pub path: String,
    /// Why.
    pub why: String,
}

impl PackageFault {
    /// A fault of a file.
    pub(super) fn of(path: impl Into<String>, why: impl fmt::Display) -> Self {
        Self { path: path.into(), why: why.to_string() }
    }
}

impl fmt::Display for PackageFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} cannot be written: {}", self.path, self.why)
    }
}
impl core::error::Error for PackageFault {}

/// A JSON file, indented: people read it too. Its fields stand in the order of the struct.
pub(super) fn json<T: serde::Serialize>(path: &str, value: &T) -> Result<Vec<File>, PackageFault> {
    Ok(vec![(path.to_owned(), json_bytes(path, value)?)])
}

/// The bytes of a JSON file.
pub(super) fn json_bytes<T: serde::Serialize>(path: &str, value: &T) -> Result<Vec<u8>, PackageFault> {
    let mut bytes = serde_json::to_vec_pretty(value).map_err(|e| PackageFault::of(path, e))?;
    bytes.push(b'\n');
    Ok(bytes)
}

/// Every file of the package, sorted by path.
///
/// # Errors
/// The first file that could not be written, or a path that is unsafe or stands twice.
pub(super) fn files(made: &Made) -> Result<Vec<File>, PackageFault> {
    let mut all = vec![];
    for format in ALL {
        all.extend((format.write)(made)?);
    }
    sorted(all)
}

/// Files by path, each path safe and there once.
fn sorted(mut all: Vec<File>) -> Result<Vec<File>, PackageFault> {
    all.sort_by(|a, b| a.0.cmp(&b.0));
    for (path, _) in &all {
        safe(path)?;
    }
    match all.windows(2).find(|w| w[0].0.eq_ignore_ascii_case(&w[1].0)) {
        Some(w) => Err(PackageFault::of(w[0].0.as_str(), "another file has the same path")),
        None => Ok(all),
    }
}

/// A path is safe when each step of it is made of ASCII letters, digits, `.`, `_`, `-` and neither
/// begins nor ends with a dot.
fn safe(path: &str) -> Result<(), PackageFault> {
    let good = |step: &str| {
        !step.is_empty()
            && !step.starts_with('.')
            && !step.ends_with('.')
            && step.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '.' | '_' | '-'))
    };
    if path.split('/').all(good) { Ok(()) } else { Err(PackageFault::of(path, "the path is not safe")) }
}

/// The package as a ZIP: the same request and version give the same bytes.
///
/// # Errors
/// When a file could not be written; the text says which and why.
pub fn package(made: &Made) -> Result<Vec<u8>, PackageFault> {
    archive(files(made)?)
}

/// Files as a ZIP: the same files give the same bytes.
///
/// # Errors
/// A path that is unsafe or stands twice.
pub fn archive(files: Vec<File>) -> Result<Vec<u8>, PackageFault> {
    let options = SimpleFileOptions::default()
        .compression_method(CompressionMethod::Deflated)
        // the earliest date that a ZIP can hold: it stands for no date at all
        .last_modified_time(DateTime::default())
        .unix_permissions(0o644);
    let mut zip = ZipWriter::new(Cursor::new(Vec::new()));
    for (path, bytes) in sorted(files)? {
        zip.start_file(path.as_str(), options).map_err(|e| PackageFault::of(path.as_str(), e))?;
        zip.write_all(&bytes).map_err(|e| PackageFault::of(path.as_str(), e))?;
    }
    zip.finish().map(Cursor::into_inner).map_err(|e| PackageFault::of("the package", e))
}

#[cfg(test)]
mod tests {
    use super::safe;

    #[test]
    fn unsafe_paths_are_refused() {
        for good in ["report.json", "sheets/01-birch-ply-3.dxf"] {
            assert!(safe(good).is_ok());
        }
        for bad in ["../x", "/abs", "C:\\x", "a//b", "", ".x", "x.", "a/../b", "a b", "ü"] {
            assert!(safe(bad).is_err(), "{bad}");
        }
    }
}
