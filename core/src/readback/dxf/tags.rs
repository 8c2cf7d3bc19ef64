//! DXF text as pairs of a group code and a value.

use super::super::fault::{short, unread};
use crate::finding::Finding;

/// One pair.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tag {
    /// Group code.
    pub code: i32,
    /// Value, without blanks around it.
    pub value: String,
}

/// The pairs of a file, one after another, with one that may be put back.
pub struct Tags<'a> {
    file: &'a str,
    rest: &'a [u8],
    line: usize,
    back: Option<Tag>,
}

impl<'a> Tags<'a> {
    /// From the start of a file; a byte order mark is passed over.
    pub fn new(file: &'a str, bytes: &'a [u8]) -> Self {
        Self { file, rest: bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes), line: 0, back: None }
    }

    /// Which line of the file comes next, from 1.
    pub fn line(&self) -> usize {
        self.line + 1
    }

    /// The next pair; comments (999) are passed over. `None` at the end.
    pub fn next(&mut self) -> Result<Option<Tag>, Finding> {
        if let Some(tag) = self.back.take() {
            return Ok(Some(tag));
        }
        loop {
            let Some(code) = self.text_line() else { return Ok(None) };
            if code.is_empty() && self.rest.is_empty() {
                return Ok(None);
            }
            let at = self.line;
            let Ok(code) = code.parse::<i32>() else {
                let why = format!("Line {at} of {} should be a group code, and is \"{}\".", self.file, short(&code));
                return Err(unread(self.file, code, "pairs of a group code and a value", why));
            };
            let Some(value) = self.text_line() else {
                let why = format!("{} ends at line {at}, after a group code without its value.", self.file);
                return Err(unread(self.file, format!("line {at}"), "a whole DXF", why));
            };
            if code != 999 {
                return Ok(Some(Tag { code, value }));
            }
        }
    }

    /// Gives a pair back: it comes next again.
    pub fn put_back(&mut self, tag: Tag) {
        self.back = Some(tag);
    }

    fn text_line(&mut self) -> Option<String> {
        if self.rest.is_empty() {
            return None;
        }
        let end = self.rest.iter().position(|b| *b == b'\n').unwrap_or(self.rest.len());
        let line = String::from_utf8_lossy(&self.rest[..end]).trim().to_owned();
        self.rest = self.rest.get(end + 1..).unwrap_or_default();
        self.line += 1;
        Some(line)
    }
}
