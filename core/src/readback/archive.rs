//! The archive: its files as bytes, with every size bounded while it is inflated and not by what it says.

use super::fault::short;
use super::limits::{ReadLimits, reached};
use crate::finding::{Finding, Verdict};
use std::collections::BTreeMap;
use std::io::{Cursor, Read};
use zip::ZipArchive;

/// Files by path.
pub type Files = BTreeMap<String, Vec<u8>>;

/// Inflates an archive.
///
/// # Errors
/// A finding: no archive, a path that leads elsewhere, two files of one name, or a limit reached.
pub fn open(bytes: &[u8], limits: &ReadLimits) -> Result<Files, Finding> {
    if bytes.len() > limits.archive_bytes {
        return Err(reached("archive-too-large", "archive", "bytes", bytes.len(), limits.archive_bytes));
    }
    let mut zip = ZipArchive::new(Cursor::new(bytes)).map_err(|e| no_archive(bytes, e))?;
    if zip.len() > limits.files {
        return Err(reached("too-many-files", "archive", "files", zip.len(), limits.files));
    }
    let (mut files, mut left) = (Files::new(), limits.inflated_bytes);
    for i in 0..zip.len() {
        let mut entry = zip.by_index(i).map_err(|e| no_archive(bytes, e))?;
        let name = entry.name().map_err(|e| no_archive(bytes, e))?.into_owned();
        if entry.is_dir() {
            continue;
        }
        safe(&name)?;
        let most = limits.file_bytes.min(left);
        let mut data = vec![];
        entry.by_ref().take(most as u64 + 1).read_to_end(&mut data).map_err(|e| {
            Finding::new("archive-damaged", Verdict::Refuse, short(&name))
                .have("error", short(&e.to_string()))
                .need("file", "whole, as it was packed")
                .why(format!("{} cannot be unpacked: {}.", short(&name), short(&e.to_string())))
        })?;
        if data.len() > most {
            return Err(reached("inflated-too-large", &name, "bytes when unpacked", data.len(), most));
        }
        left -= data.len();
        if files.insert(name.clone(), data).is_some() {
            return Err(twice(&name));
        }
    }
    Ok(files)
}

fn no_archive(bytes: &[u8], error: impl core::fmt::Display) -> Finding {
    let said = short(&error.to_string());
    Finding::new("archive-unreadable", Verdict::Refuse, "archive")
        .have("bytes", bytes.len())
        .have("error", said.as_str())
        .need("archive", "a whole ZIP archive, not encrypted, stored or deflated")
        .why(format!("The {} bytes are not a ZIP archive that can be read: {said}.", bytes.len()))
}

fn twice(name: &str) -> Finding {
    Finding::new("file-twice", Verdict::Refuse, short(name))
        .have("files", 2.0)
        .need("files_max", 1.0)
        .why(format!("Two files are called {}: which one is cut cannot be told.", short(name)))
}

/// A path stays inside the archive: relative, without `..`, drive letters or controls.
fn safe(name: &str) -> Result<(), Finding> {
    let good = |step: &str| !step.is_empty() && step != "." && step != "..";
    let plain = !name.chars().any(|c| c.is_control() || matches!(c, '\\' | ':'));
    if plain && name.split('/').all(good) {
        return Ok(());
    }
    Err(Finding::new("path-unsafe", Verdict::Refuse, short(name))
        .have("path", short(name))
        .need("path", "relative, without \"..\", drive letters or backslashes")
        .why(format!("The path {} leads out of the package.", short(name))))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::io::Write;
    use zip::ZipWriter;
    use zip::write::SimpleFileOptions;

    fn packed(files: &[(&str, &[u8])]) -> Vec<u8> {
        let mut zip = ZipWriter::new(Cursor::new(vec![]));
        for (name, data) in files {
            zip.start_file(*name, SimpleFileOptions::default()).unwrap();
            zip.write_all(data).unwrap();
        }
        zip.finish().unwrap().into_inner()
    }

    #[test]
    fn a_bomb_is_stopped_while_it_inflates() {
        let zeros = vec![0u8; 3 << 20];
        let bomb = packed(&[("a", &zeros), ("b", &zeros)]);
        assert!(bomb.len() < 20_000, "{}", bomb.len());
        let limits = ReadLimits { file_bytes: 1 << 20, ..ReadLimits::default() };
        let f = open(&bomb, &limits).unwrap_err();
        assert_eq!((f.code, f.place.as_str()), ("inflated-too-large", "a"));
        let limits = ReadLimits { inflated_bytes: 5 << 20, ..ReadLimits::default() };
        assert_eq!(open(&bomb, &limits).unwrap_err().place, "b");
        let limits = ReadLimits { files: 1, ..ReadLimits::default() };
        assert_eq!(open(&bomb, &limits).unwrap_err().code, "too-many-files");
        let limits = ReadLimits { archive_bytes: 100, ..ReadLimits::default() };
        assert_eq!(open(&bomb, &limits).unwrap_err().code, "archive-too-large");
    }

    #[test]
    fn paths_stay_inside() {
        for bad in ["../x", "/etc/x", "a/../../x", "C:/x", "a\\b", "a//b"] {
            assert_eq!(open(&packed(&[(bad, b"x")]), &ReadLimits::default()).unwrap_err().code, "path-unsafe", "{bad}");
        }
        assert_eq!(open(&packed(&[("parts/A1.dxf", b"x")]), &ReadLimits::default()).unwrap().len(), 1);
    }

    /// Not one cut or flipped archive panics; most are refused, and what is not has sane sizes.
    #[test]
    fn damaged_archives_are_refused() {
        let text = "  0\nSECTION\n".repeat(200);
        let whole = packed(&[("assembly.json", b"{}"), ("parts/A1.dxf", text.as_bytes())]);
        for k in 0..50 {
            assert!(open(&whole[..whole.len() * k / 50], &ReadLimits::default()).is_err());
        }
        for i in 0..whole.len() {
            let mut flipped = whole.clone();
            flipped[i] ^= 1 << (i % 8);
            let _ = open(&flipped, &ReadLimits::default());
        }
    }
}
