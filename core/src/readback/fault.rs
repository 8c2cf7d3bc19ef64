//! What is wrong with a file, as a finding.

use crate::finding::{Finding, Verdict};

/// Text of a caller in a finding is cut to this many characters.
const SHOWN: usize = 80;

/// A caller's text, short enough to be shown, without controls.
pub(super) fn short(text: &str) -> String {
    let plain = |c: char| if c.is_control() { ' ' } else { c };
    let mut out: String = text.chars().take(SHOWN).map(plain).collect();
    if text.chars().nth(SHOWN).is_some() {
        out.push('…');
    }
    out
}

/// A file that cannot be read: which, what was found where, what is needed, why.
pub(super) fn unread(file: &str, found: impl Into<String>, need: &'static str, why: impl Into<String>) -> Finding {
    Finding::new("file-unreadable", Verdict::Refuse, short(file))
        .have("found", short(&found.into()))
        .need("file", need)
        .why(why)
}
