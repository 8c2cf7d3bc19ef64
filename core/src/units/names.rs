//! Names that a caller gives: text, and never a path, a formula, markup or a control code.

use crate::finding::{Finding, Verdict};

/// Longest name, in characters. Longer ones do not fit a part's face or a table's column.
pub const NAME_MAX_CHARS: usize = 60;

/// Why a character may stand nowhere in a name; `None` when it may.
fn fault_of(c: char) -> Option<&'static str> {
    match c {
        '/' | '\\' => Some("would make the name a path"),
        '<' | '>' | '&' | '"' => Some("would make the name markup"),
        c if c.is_control() => Some("is a control character"),
        // line and paragraph separators, marks without width, and marks that turn the way of reading:
        // they show something else than what is stored
        '\u{2028}'
        | '\u{2029}'
        | '\u{200B}'..='\u{200F}'
        | '\u{202A}'..='\u{202E}'
        | '\u{2060}'..='\u{2069}'
        | '\u{FEFF}' => Some("is an invisible character"),
        _ => None,
    }
}

/// Why a character may not stand first; `None` when it may.
fn fault_of_first(c: char) -> Option<&'static str> {
    match c {
        // with their full-width forms: spreadsheets read those as formulas too
        '=' | '+' | '-' | '@' | '\u{FF1D}' | '\u{FF0B}' | '\u{FF0D}' | '\u{FF20}' => {
            Some("at the start would make the name a formula in a spreadsheet")
        }
        '.' => Some("at the start would make the name a path or a hidden file"),
        c if c.is_whitespace() => Some("at the start does not show"),
        _ => None,
    }
}

/// A character as people can point at it: `"/"`, or `U+0009` when it does not show.
fn shown(c: char) -> String {
    if c.is_control() || c.is_whitespace() || fault_of(c) == Some("is an invisible character") {
        format!("U+{:04X}", u32::from(c))
    } else {
        format!("\"{c}\"")
    }
}

/// Checks a name (an id, a title) that a caller gives; `at` is its JSON Pointer.
///
/// A finding for each fault: empty, longer than [`NAME_MAX_CHARS`], a path separator, markup, a control or
/// invisible character, a leading `= + - @ .` or blank, a trailing blank. Each character that is at fault is
/// named once. True when there is none.
pub fn check_name(text: &str, at: &str, out: &mut Vec<Finding>) -> bool {
    let before = out.len();
    let mut fault = |why: String| out.push(Finding::new("bad-name", Verdict::Refuse, at).why(why));
    if text.trim().is_empty() {
        fault("the name is empty: give 1 to 60 characters".to_owned());
    }
    let chars = text.chars().count();
    if chars > NAME_MAX_CHARS {
        let over = chars - NAME_MAX_CHARS;
        fault(format!("the name has {chars} characters, {over} more than the {NAME_MAX_CHARS} allowed"));
    }
    let mut named = std::collections::BTreeSet::new();
    for (i, c) in text.chars().enumerate().filter(|(_, c)| fault_of(*c).is_some()) {
        if named.insert(c) {
            let why = fault_of(c).unwrap_or_default();
            fault(format!("character {} of the name, {}, {why}: leave it out", i + 1, shown(c)));
        }
    }
    if let Some(first) = text.chars().next().filter(|_| !text.trim().is_empty())
        && let (Some(why), None) = (fault_of_first(first), fault_of(first))
    {
        fault(format!("{} {why}: begin with a letter or a digit", shown(first)));
    }
    if text.ends_with(char::is_whitespace) && !text.trim().is_empty() && !text.ends_with(char::is_control) {
        fault("the name ends with a blank: leave it out".to_owned());
    }
    out.len() == before
}

#[cfg(test)]
mod tests {
    use super::check_name;

    fn faults(text: &str) -> Vec<String> {
        let mut out = vec![];
        let good = check_name(text, "/name", &mut out);
        assert_eq!(good, out.is_empty());
        out.into_iter().map(|f| f.why).collect()
    }

    #[test]
    fn plain_names_of_any_language_pass() {
        for name in ["wet-lube", "Bench drawer 5, chain care", "cone spanner 15'", "Kettenöl 2", "链条油", "5 mm hex"]
        {
            assert_eq!(faults(name), Vec::<String>::new(), "{name}");
        }
        assert!(faults(&"x".repeat(60)).is_empty());
    }

    // leading = + - @ TAB CR LF: OWASP, "CSV Injection"
    #[test]
    fn what_could_be_read_as_something_else_is_named() {
        for (bad, says) in [
            ("a/b", "\"/\""),
            ("..\\b", "\"\\\""),
            ("<b>", "\"<\""),
            ("a&b", "\"&\""),
            ("say \"x\"", "\"\"\""),
            ("=1+2", "\"=\""),
            ("+1", "\"+\""),
            ("-1", "\"-\""),
            ("@x", "\"@\""),
            ("\u{FF1D}1", "formula"),
            ("\tx", "U+0009"),
            ("a\r\nb", "U+000D"),
            ("a\u{202E}b", "U+202E"),
            ("..", "hidden file"),
            ("", "empty"),
            ("   ", "empty"),
            (" x", "does not show"),
            ("x ", "ends with a blank"),
        ] {
            let all = faults(bad).join("; ");
            assert!(all.contains(says), "{bad:?}: {all}");
        }
        assert!(faults(&"x".repeat(63))[0].contains("3 more than"));
    }

    #[test]
    fn all_faults_of_one_name_are_reported() {
        assert_eq!(faults("=a/b<c/d").len(), 3);
    }
}
