//! The little of XML that an SVG needs: elements with attributes. No DTD, so no entity can be declared.

use super::super::fault::{short, unread};
use crate::finding::Finding;

/// An opening tag.
#[derive(Debug)]
pub struct Element {
    /// Its name without a prefix.
    pub name: String,
    attributes: Vec<(String, String)>,
    /// Whether it closes itself.
    pub empty: bool,
}

impl Element {
    /// The value of an attribute.
    pub fn get(&self, key: &str) -> Option<&str> {
        self.attributes.iter().find(|a| a.0 == key).map(|a| a.1.as_str())
    }
}

/// What comes next.
#[derive(Debug)]
pub enum Event {
    /// An element begins (and ends, if it is empty).
    Open(Element),
    /// An element ends.
    Close,
}

/// Walks through the text.
pub struct Reader<'a> {
    file: &'a str,
    text: &'a str,
    at: usize,
    open: Vec<&'a str>,
}

impl<'a> Reader<'a> {
    /// From the start; a byte order mark is passed over.
    pub fn new(file: &'a str, text: &'a str) -> Self {
        Self { file, text: text.strip_prefix('\u{feff}').unwrap_or(text), at: 0, open: vec![] }
    }

    fn fault(&self, why: &str) -> Finding {
        let line = 1 + self.text.as_bytes()[..self.at.min(self.text.len())].iter().filter(|b| **b == b'\n').count();
        unread(
            self.file,
            format!("line {line}: {why}"),
            "well-formed XML without a DTD",
            format!("Line {line} of {}: {why}.", self.file),
        )
    }

    fn rest(&self) -> &'a str {
        &self.text[self.at..]
    }

    /// Passes over everything up to and with `end`.
    fn past(&mut self, end: &str, what: &str) -> Result<&'a str, Finding> {
        let rest = self.rest();
        let Some(i) = rest.find(end) else { return Err(self.fault(&format!("{what} does not end"))) };
        self.at += i + end.len();
        Ok(&rest[..i])
    }

    /// The next tag; `None` at the end of the text.
    pub fn next(&mut self) -> Result<Option<Event>, Finding> {
        loop {
            let Some(i) = self.rest().find('<') else {
                return if self.open.is_empty() {
                    Ok(None)
                } else {
                    Err(self.fault("the file ends within an element"))
                };
            };
            self.at += i;
            let rest = self.rest();
            if rest.starts_with("<!--") {
                self.past("-->", "a comment")?;
            } else if rest.starts_with("<![CDATA[") {
                self.past("]]>", "a CDATA section")?;
            } else if rest.starts_with("<?") {
                self.past("?>", "a processing instruction")?;
            } else if rest.starts_with("<!") {
                return Err(self.fault("a DTD is not read"));
            } else if rest.starts_with("</") {
                self.at += 2;
                let name = self.past(">", "a closing tag")?.trim();
                if self.open.pop() != Some(name) {
                    return Err(self.fault(&format!("</{}> closes another element", short(name))));
                }
                return Ok(Some(Event::Close));
            } else {
                return self.element().map(|e| Some(Event::Open(e)));
            }
        }
    }

    fn element(&mut self) -> Result<Element, Finding> {
        self.at += 1;
        let name = self.word()?;
        let mut e =
            Element { name: name.rsplit(':').next().unwrap_or(name).to_owned(), attributes: vec![], empty: false };
        loop {
            self.blanks();
            let rest = self.rest();
            if rest.starts_with('>') {
                self.at += 1;
                self.open.push(name);
                return Ok(e);
            }
            if rest.starts_with("/>") {
                self.at += 2;
                e.empty = true;
                return Ok(e);
            }
            let (key, value) = self.attribute()?;
            if e.attributes.len() >= MOST_ATTRIBUTES || e.get(key).is_some() {
                return Err(self.fault("an attribute stands twice, or there are too many"));
            }
            e.attributes.push((key.to_owned(), value));
        }
    }

    fn attribute(&mut self) -> Result<(&'a str, String), Finding> {
        let key = self.word()?;
        self.blanks();
        if !self.rest().starts_with('=') {
            return Err(self.fault("an attribute has no value"));
        }
        self.at += 1;
        self.blanks();
        let quote = if self.rest().starts_with('\'') { "'" } else { "\"" };
        if !self.rest().starts_with(quote) {
            return Err(self.fault("a value stands without quotes"));
        }
        self.at += 1;
        let value = self.past(quote, "a value")?;
        if value.contains('<') {
            return Err(self.fault("a value holds \"<\""));
        }
        let plain = value.replace("&quot;", "\"").replace("&apos;", "'").replace("&lt;", "<").replace("&gt;", ">");
        Ok((key, plain.replace("&amp;", "&")))
    }

    fn blanks(&mut self) {
        self.at += self.rest().len() - self.rest().trim_start().len();
    }

    fn word(&mut self) -> Result<&'a str, Finding> {
        let rest = self.rest();
        let end = rest
            .find(|c: char| c.is_whitespace() || matches!(c, '=' | '>' | '/' | '<' | '"' | '\''))
            .unwrap_or(rest.len());
        if end == 0 || end == rest.len() {
            return Err(self.fault("a name is missing, or the file ends"));
        }
        self.at += end;
        Ok(&rest[..end])
    }
}

/// An element of a drawing has a dozen at most.
const MOST_ATTRIBUTES: usize = 200;
