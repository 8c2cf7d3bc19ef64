//! What `berth make` says, for people: the verdict, then each finding as what, where, how much, why, nearest cure.

use super::Exit;
use crate::answer::Short;
use axum::http::{Response, StatusCode};
use berth_core::finding::{Amount, Finding, Verdict};
use serde_json::Value;
use std::fmt::Write as _;
use std::io::Write as _;
use std::path::Path;
use std::sync::Arc;

/// One line on the error output.
pub fn fault(exit: Exit, text: &str) -> Exit {
    let _ = writeln!(std::io::stderr(), "berth: {text}");
    exit
}

fn say(text: &str) {
    // a closed pipe is the reader's choice
    let _ = std::io::stdout().lock().write_all(text.as_bytes());
}

/// Text as it is.
pub fn text(text: &str) -> Exit {
    say(text);
    Exit::Done
}

/// A package was made.
pub fn made(response: &Response<()>, out: Option<&Path>, bytes: usize) -> Exit {
    let Some(short) = response.extensions().get::<Short>() else { return Exit::Broken };
    let mut text = format!("{}\n", word(short.verdict));
    text.push_str(&list(&short.findings));
    let _ = writeln!(
        text,
        "{}, {}, {:.1} min of cutting",
        counted(short.parts, "part"),
        counted(short.sheets, "sheet"),
        short.minutes
    );
    if let Some(out) = out {
        let _ = writeln!(text, "{} ({:.0} kB)", out.display(), (bytes as f64 / 1000.0).max(1.0));
    }
    say(&text);
    Exit::Done
}

/// Nothing was made.
pub fn problem(response: &Response<()>, body: &[u8]) -> Exit {
    let document: Value = serde_json::from_slice(body).unwrap_or_default();
    let told = |key: &str| document[key].as_str().unwrap_or_default().to_owned();
    let mut text = format!("refuse: {}\n", told("title"));
    match response.extensions().get::<Arc<Vec<Finding>>>() {
        Some(findings) if !findings.is_empty() => text.push_str(&list(findings)),
        _ => {
            let _ = writeln!(text, "{}", told("detail"));
        }
    }
    say(&text);
    match response.status() {
        StatusCode::UNPROCESSABLE_ENTITY => Exit::Refused,
        StatusCode::GATEWAY_TIMEOUT => Exit::OutOfTime,
        s if s.is_client_error() => Exit::Unreadable,
        _ => Exit::Broken,
    }
}

fn word(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Ok => "ok",
        Verdict::Warn => "warn",
        Verdict::Refuse => "refuse",
    }
}

fn counted(n: usize, what: &str) -> String {
    if n == 1 { format!("1 {what}") } else { format!("{n} {what}s") }
}

/// Findings as a person reads them. Those that differ only in their place stand together.
#[must_use]
pub fn list(findings: &[Finding]) -> String {
    let mut groups: Vec<(&Finding, Vec<&str>)> = vec![];
    for f in findings {
        let alike = |g: &&mut (&Finding, Vec<&str>)| {
            (g.0.code, g.0.verdict, &g.0.have, &g.0.need) == (f.code, f.verdict, &f.have, &f.need)
        };
        match groups.iter_mut().find(alike) {
            Some((_, places)) => places.push(&f.place),
            None => groups.push((f, vec![&f.place])),
        }
    }
    groups.iter().map(|(f, places)| one(f, places)).collect()
}

/// Places that are named; the rest is counted.
const MOST_PLACES: usize = 8;

fn one(f: &Finding, places: &[&str]) -> String {
    let named = places.iter().take(MOST_PLACES).map(|p| if p.is_empty() { "the request" } else { p });
    let mut named = named.collect::<Vec<_>>().join(", ");
    if places.len() > MOST_PLACES {
        let _ = write!(named, " and {} more", places.len() - MOST_PLACES);
    }
    let mut text = format!("- {}: {} · {named}\n", word(f.verdict), f.code);
    let amounts = [("has", &f.have), ("needs", &f.need)]
        .into_iter()
        .filter(|(_, a)| !a.is_empty())
        .map(|(say, a)| format!("{say} {}", a.iter().map(|(k, v)| amount(k, v)).collect::<Vec<_>>().join(", ")));
    let lines = [
        amounts.collect::<Vec<_>>().join("; "),
        f.why.clone(),
        f.cures.first().map(|c| format!("Cure: {}", c.action)).unwrap_or_default(),
    ];
    for line in lines.iter().filter(|l| !l.is_empty()) {
        let _ = writeln!(text, "  {line}");
    }
    text
}

fn amount(key: &str, value: &Amount) -> String {
    match value {
        Amount::Number(v) => format!("{key} {}", number(*v)),
        Amount::Text(t) => format!("{key} {t}"),
        Amount::List(l) => format!("{key} {}", l.iter().map(|v| number(*v)).collect::<Vec<_>>().join(" × ")),
        Amount::Flag(yes) => format!("{key} {}", if *yes { "yes" } else { "no" }),
    }
}

/// At most three decimals, no trailing zeros.
fn number(v: f64) -> String {
    let s = format!("{v:.3}");
    s.trim_end_matches('0').trim_end_matches('.').to_owned()
}
