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

/// Findings as a person reads them.
#[must_use]
pub fn list(findings: &[Finding]) -> String {
    let mut text = String::new();
    for f in findings {
        let place = if f.place.is_empty() { "the request" } else { f.place.as_str() };
        let _ = writeln!(text, "- {}: {} · {place}", word(f.verdict), f.code);
        let amounts = [("has", &f.have), ("needs", &f.need)]
            .into_iter()
            .filter(|(_, a)| !a.is_empty())
            .map(|(say, a)| format!("{say} {}", a.iter().map(|(k, v)| amount(k, v)).collect::<Vec<_>>().join(", ")));
        let amounts = amounts.collect::<Vec<_>>().join("; ");
        if !amounts.is_empty() {
            let _ = writeln!(text, "  {amounts}");
        }
        if !f.why.is_empty() {
            let _ = writeln!(text, "  {}", f.why);
        }
        if let Some(cure) = f.cures.first() {
            let _ = writeln!(text, "  Cure: {}", cure.action);
        }
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
