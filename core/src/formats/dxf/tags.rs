//! DXF text: pairs of a group code and a value, and the handles by which objects name each other.

use crate::geom::DVec2;
use std::fmt::Write as _;

/// Gives out handles: hexadecimal, each once.
#[derive(Debug, Default)]
pub struct Handles(u64);

impl Handles {
    /// The next handle.
    pub fn take(&mut self) -> String {
        self.0 += 1;
        format!("{:X}", self.0)
    }
    /// The handle that will be given out next: the file's $HANDSEED.
    pub fn next_free(&self) -> String {
        format!("{:X}", self.0 + 1)
    }
}

/// A growing DXF text.
#[derive(Debug, Default)]
pub struct Tags(String);

impl Tags {
    /// A pair. Line breaks and other controls in `value` become blanks: no value can open a group.
    pub fn tag(&mut self, code: i32, value: &str) {
        let value: String = value.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        // writing to a String cannot fail
        let _ = write!(self.0, "{code:>3}\r\n{value}\r\n");
    }
    /// A whole number.
    pub fn whole(&mut self, code: i32, value: i64) {
        self.tag(code, &value.to_string());
    }
    /// A real number: with a decimal point, and without an exponent, which not every machine reads.
    pub fn number(&mut self, code: i32, value: f64) {
        let mut text = value.to_string();
        if !text.contains('.') {
            text.push_str(".0");
        }
        self.tag(code, &text);
    }
    /// A point: x, y, and z where there is one.
    pub fn point(&mut self, code: i32, p: DVec2, z: Option<f64>) {
        self.number(code, p.x);
        self.number(code + 10, p.y);
        if let Some(z) = z {
            self.number(code + 20, z);
        }
    }
    /// A comment, in ASCII: readers decode the head of a file before they know its encoding.
    pub fn comment(&mut self, text: &str) {
        let ascii: String = text.chars().map(|c| if c.is_ascii() { c } else { '?' }).collect();
        self.tag(999, &ascii);
    }
    /// A section.
    pub fn section(&mut self, name: &str, body: impl FnOnce(&mut Self)) {
        self.tag(0, "SECTION");
        self.tag(2, name);
        body(self);
        self.tag(0, "ENDSEC");
    }
    /// A header variable.
    pub fn variable(&mut self, name: &str, value: impl FnOnce(&mut Self)) {
        self.tag(9, name);
        value(self);
    }
    /// Adds another text.
    pub fn append(&mut self, other: Self) {
        self.0.push_str(&other.0);
    }
    /// The finished text.
    pub fn into_bytes(self) -> Vec<u8> {
        self.0.into_bytes()
    }
}

#[cfg(test)]
mod tests {
    use super::Tags;

    #[test]
    fn no_text_can_open_a_group_of_its_own() {
        let mut t = Tags::default();
        t.comment("x\r\n  0\r\nEOF\u{85}ü");
        assert_eq!(String::from_utf8(t.into_bytes()).unwrap(), "999\r\nx    0  EOF??\r\n");
    }

    #[test]
    fn reals_have_a_point() {
        let mut t = Tags::default();
        t.number(10, 5.0);
        t.number(42, 1e-7);
        assert_eq!(String::from_utf8(t.into_bytes()).unwrap(), " 10\r\n5.0\r\n 42\r\n0.0000001\r\n");
    }
}
