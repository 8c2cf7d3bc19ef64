//! The body of a request: JSON by its header, not too large, not too slow, well formed, of the right shape.

use crate::app::Settings;
use crate::problem::{Kind, Problem};
use axum::body::Body;
use axum::http::{HeaderMap, header};
use berth_core::finding::{Finding, Verdict};
use berth_core::job::read_as;
use http_body_util::{BodyExt, LengthLimitError, Limited};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;

/// Reads the whole body and the object in it.
///
/// # Errors
/// 400, 408, 413 or 415, each with its numbers.
pub async fn json<T: DeserializeOwned + Serialize>(
    headers: &HeaderMap,
    body: Body,
    settings: &Settings,
) -> Result<T, Problem> {
    json_by_header(headers)?;
    let bytes = collect(headers, body, settings, settings.max_body_bytes).await?;
    json_bytes(&bytes)
}

/// The object in bytes that have arrived.
///
/// # Errors
/// 400 with the place.
pub fn json_bytes<T: DeserializeOwned + Serialize>(bytes: &[u8]) -> Result<T, Problem> {
    shape(parse(bytes)?)
}

/// Reads the whole body as a package.
///
/// # Errors
/// 400, 408, 413 or 415, each with its numbers.
pub async fn package(headers: &HeaderMap, body: Body, settings: &Settings) -> Result<Vec<u8>, Problem> {
    let given = headers.get(header::CONTENT_TYPE).map(|v| String::from_utf8_lossy(v.as_bytes()).to_ascii_lowercase());
    let given = given.unwrap_or_else(|| "none".to_owned());
    let zip = ["application/zip", "application/x-zip-compressed"];
    if !zip.contains(&given.split(';').next().unwrap_or_default().trim()) {
        return Err(wrong_type(
            shortened(&given, 80),
            "application/zip",
            "A package is a ZIP archive, and its header says so.",
        ));
    }
    collect(headers, body, settings, settings.max_package_bytes).await
}

/// The header names another type than the one that is read here.
fn wrong_type(shown: String, needed: &str, why: &str) -> Problem {
    let fault = Finding::new("wrong-content-type", Verdict::Refuse, "")
        .have("content_type", shown)
        .need("content_type", needed)
        .why(why);
    Problem::new(Kind::WrongType, Kind::WrongType.what()).finding(fault)
}

/// `application/json`, with no charset or UTF-8, and no content coding.
fn json_by_header(headers: &HeaderMap) -> Result<(), Problem> {
    let given = headers.get(header::CONTENT_TYPE).map(|v| String::from_utf8_lossy(v.as_bytes()).to_ascii_lowercase());
    let shown = given.clone().unwrap_or_else(|| "none".to_owned());
    let given = given.unwrap_or_default();
    let mut parts = given.split(';').map(str::trim);
    let json = parts.next() == Some("application/json");
    let charset = parts.find_map(|p| p.strip_prefix("charset="));
    let utf8 = charset.is_none_or(|c| matches!(c.trim_matches('"'), "utf-8" | "utf8"));
    let coding = headers.get(header::CONTENT_ENCODING).map(|v| String::from_utf8_lossy(v.as_bytes()).into_owned());
    if !json || !utf8 {
        return Err(wrong_type(
            shown.chars().take(80).collect(),
            "application/json",
            "A request is JSON in UTF-8, and its header says so.",
        ));
    }
    match coding.filter(|c| !c.eq_ignore_ascii_case("identity")) {
        None => Ok(()),
        Some(coding) => {
            let fault = Finding::new("wrong-content-coding", Verdict::Refuse, "")
                .have("content_encoding", coding.chars().take(80).collect::<String>())
                .need("content_encoding", "identity")
                .why("A request is sent as it is, not compressed.");
            Err(Problem::new(Kind::WrongType, Kind::WrongType.what()).finding(fault))
        }
    }
}

/// The whole body, of at most so many bytes.
///
/// # Errors
/// 400, 408 or 413, each with its numbers.
pub async fn collect(headers: &HeaderMap, body: Body, settings: &Settings, most: usize) -> Result<Vec<u8>, Problem> {
    // what announces itself as too large is not read at all
    let announced = headers.get(header::CONTENT_LENGTH).and_then(|v| v.to_str().ok()?.parse::<u64>().ok());
    if announced.is_some_and(|n| n > most as u64) {
        return Err(too_large(announced, most));
    }
    match tokio::time::timeout(settings.body_time, Limited::new(body, most).collect()).await {
        Err(_) => {
            let most_s = settings.body_time.as_secs_f64();
            let fault = Finding::new("body-too-slow", Verdict::Refuse, "")
                .have("seconds", most_s)
                .need("seconds_max", most_s)
                .why(format!("The body was not complete after {most_s} s."));
            Err(Problem::new(Kind::BodyTooSlow, Kind::BodyTooSlow.what()).finding(fault))
        }
        Ok(Err(e)) if e.is::<LengthLimitError>() => Err(too_large(announced, most)),
        Ok(Err(_)) => Err(Problem::new(Kind::BodyBroken, Kind::BodyBroken.what())),
        Ok(Ok(all)) => Ok(all.to_bytes().to_vec()),
    }
}

fn too_large(announced: Option<u64>, most: usize) -> Problem {
    let mut fault = Finding::new("body-too-large", Verdict::Refuse, "").need("bytes_max", most);
    fault = match announced {
        Some(n) => fault.have("bytes", n as f64).why(format!(
            "The body has {n} bytes, {} more than the {most} that are read. Divide the job.",
            n.saturating_sub(most as u64)
        )),
        None => fault
            .have("bytes", "more than bytes_max")
            .why(format!("The body has more than the {most} bytes that are read. Divide the job.")),
    };
    Problem::new(Kind::BodyTooLarge, fault.why.clone()).finding(fault)
}

/// One JSON value. A byte order mark in front is passed over (RFC 8259, section 8.1, allows that).
fn parse(bytes: &[u8]) -> Result<Value, Problem> {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    serde_json::from_slice(bytes).map_err(|e| {
        let said = e.to_string();
        // the place stands in fields of its own
        let why = said.rsplit_once(" at line ").map_or(said.as_str(), |(what, _)| what);
        let why = format!("Line {}, column {}: {why}.", e.line(), e.column());
        let fault = Finding::new("not-json", Verdict::Refuse, "")
            .have("line", e.line())
            .have("column", e.column())
            .need("body", "one JSON value")
            .why(why.clone());
        Problem::new(Kind::NotJson, why).finding(fault)
    })
}

fn shape<T: DeserializeOwned + Serialize>(value: Value) -> Result<T, Problem> {
    read_as(value.clone()).map_err(|(pointer, message)| {
        let message = plain(&message);
        let mut fault = Finding::new("wrong-shape", Verdict::Refuse, pointer.as_str());
        if let Some(given) = value.pointer(&pointer) {
            fault = fault.have("given", shortened(&given.to_string(), 60));
        }
        if let Some((_, expected)) = message.split_once(", expected ") {
            fault = fault.need("expected", expected);
        }
        let shown = if pointer.is_empty() { "The body" } else { pointer.as_str() };
        let why = format!("{shown}: {message}.");
        Problem::new(Kind::WrongShape, why.clone()).finding(fault.why(why))
    })
}

/// serde's words for people who do not write Rust; what the caller sent is not repeated at length.
fn plain(message: &str) -> String {
    let mut text = message.replace('`', "\"");
    for (theirs, ours) in [
        ("invalid type: floating point", "found the number"),
        ("invalid type: integer", "found the number"),
        ("invalid type:", "found"),
        ("invalid value:", "found"),
        ("expected f64", "expected a number"),
        ("expected u32", "expected a whole number from 0 to 4294967295"),
        ("expected a sequence", "expected an array"),
        ("expected struct ", "expected an object: "),
        ("unit value", "null"),
    ] {
        text = text.replace(theirs, ours);
    }
    shortened(&text, 400)
}

fn shortened(text: &str, most: usize) -> String {
    let mut out: String = text.chars().take(most).collect();
    if out.len() < text.len() {
        out.push('…');
    }
    out
}
