//! The name under which a download is saved (`Content-Disposition`, RFC 6266), made from the job's name.

use crate::accept::Representation;
use axum::http::HeaderValue;

/// When nothing is left of a name.
const FALLBACK: &str = "berth";

/// Longest name without its ending: some systems allow 143 bytes, and people cut it off sooner.
const MOST: usize = 60;

/// Names that one common system keeps for devices, whatever their ending.
const DEVICES: [&str; 22] = [
    "con", "prn", "aux", "nul", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9", "lpt1", "lpt2",
    "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9",
];

/// A file name of ASCII letters, digits, `.`, `_` and `-` that is safe on every system.
#[must_use]
pub fn safe(name: &str) -> String {
    let mut out = String::new();
    for c in name.chars() {
        let c = if c.is_ascii_alphanumeric() || c == '.' || c == '_' { c } else { '-' };
        if c != '-' || !out.ends_with('-') {
            out.push(c);
        }
    }
    out.truncate(MOST);
    let out = out.trim_matches(['-', '.', '_']);
    let stem = out.split('.').next().unwrap_or_default().to_ascii_lowercase();
    match out {
        "" => FALLBACK.to_owned(),
        _ if DEVICES.contains(&stem.as_str()) => format!("{FALLBACK}-{out}"),
        _ => out.to_owned(),
    }
}

/// Percent-encoding of RFC 8187 (attr-char stays as it is); what would make a path is left out.
fn extended(name: &str) -> String {
    let mut out = String::new();
    for c in name.chars().filter(|c| !c.is_control() && !matches!(c, '/' | '\\' | ':')).take(MOST) {
        let mut bytes = [0; 4];
        for b in c.encode_utf8(&mut bytes).bytes() {
            if b.is_ascii_alphanumeric() || b"!#$&+-.^_`|~".contains(&b) {
                out.push(char::from(b));
            } else {
                out.push_str(&format!("%{b:02X}"));
            }
        }
    }
    out
}

/// The header: packages and models are saved, reports and plans are shown.
#[must_use]
pub fn disposition(job_name: &str, r: Representation) -> HeaderValue {
    let kind = match r {
        Representation::Package | Representation::Model => "attachment",
        Representation::Report | Representation::Plan => "inline",
    };
    let (plain, end) = (safe(job_name), r.extension());
    let mut text = format!("{kind}; filename=\"{plain}.{end}\"");
    let long = extended(job_name.trim_start_matches('.'));
    if !long.is_empty() && long != plain {
        text.push_str(&format!("; filename*=UTF-8''{long}.{end}"));
    }
    HeaderValue::from_str(&text).unwrap_or_else(|_| HeaderValue::from_static("attachment"))
}

#[cfg(test)]
mod tests {
    use super::{disposition, safe};
    use crate::accept::Representation::{Package, Plan};

    #[test]
    fn a_safe_name_is_left_of_any_name() {
        for (name, want) in [
            ("Bench drawer 5, chain care", "Bench-drawer-5-chain-care"),
            ("", "berth"),
            ("../../etc/passwd", "etc-passwd"),
            ("链条油", "berth"),
            ("Kettenöl 2", "Ketten-l-2"),
            ("nul.a", "berth-nul.a"),
            ("a\r\nb\"c", "a-b-c"),
        ] {
            assert_eq!(safe(name), want);
        }
        assert!(safe(&"x".repeat(500)).len() <= 60);
    }

    // RFC 6266, section 5, shows both forms side by side; RFC 8187, section 3.2.3, the encoding of U+00A3
    #[test]
    fn other_letters_go_into_the_extended_form() {
        let header = |n| disposition(n, Package).to_str().unwrap().to_owned();
        assert_eq!(header("drawer5"), "attachment; filename=\"drawer5.zip\"");
        assert_eq!(header("£ rates"), "attachment; filename=\"rates.zip\"; filename*=UTF-8''%C2%A3%20rates.zip");
        assert!(!header("..\\a/b:c\r\n").contains(['\\', '/', '\r', '\n']));
        assert!(disposition("x", Plan).to_str().unwrap().starts_with("inline"));
    }
}
