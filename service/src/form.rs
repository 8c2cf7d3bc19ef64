//! A form of several parts (multipart/form-data, RFC 7578): bounded, each field known and there once.

use crate::app::Settings;
use crate::body::collect;
use crate::problem::{Kind, Problem};
use axum::body::Body;
use axum::extract::{DefaultBodyLimit, FromRequest, Multipart, Request};
use axum::http::request::Parts;
use axum::http::{HeaderMap, header};
use berth_core::finding::{Finding, Verdict};
use std::collections::BTreeMap;

/// The media type.
const TYPE: &str = "multipart/form-data";

/// Reads a whole form: the bytes of each field of `names`, by name. All of them must be there.
///
/// # Errors
/// 400, 408, 413 or 415, each with what is missing.
pub async fn fields(
    head: Parts,
    body: Body,
    settings: &Settings,
    names: &[&'static str],
) -> Result<BTreeMap<&'static str, Vec<u8>>, Problem> {
    form_by_header(&head.headers)?;
    let bytes = collect(&head.headers, body, settings, settings.max_package_bytes).await?;
    let mut request = Request::from_parts(head, Body::from(bytes));
    // the body is bounded already
    DefaultBodyLimit::disable().apply(&mut request);
    let mut form = Multipart::from_request(request, &()).await.map_err(|e| broken(&e.body_text()))?;
    let mut all = BTreeMap::new();
    while let Some(field) = form.next_field().await.map_err(|e| broken(&e.body_text()))? {
        let given = field.name().unwrap_or_default().to_owned();
        let Some(name) = names.iter().find(|n| **n == given) else { return Err(unknown(&given, names)) };
        let bytes = field.bytes().await.map_err(|e| broken(&e.body_text()))?;
        if all.insert(*name, bytes.to_vec()).is_some() {
            return Err(shape(name, "fields", 2.0, format!("The field \"{name}\" stands twice.")));
        }
    }
    match names.iter().find(|n| !all.contains_key(**n)) {
        Some(name) => Err(shape(name, "fields", 0.0, format!("The field \"{name}\" is missing."))),
        None => Ok(all),
    }
}

fn form_by_header(headers: &HeaderMap) -> Result<(), Problem> {
    let given = headers.get(header::CONTENT_TYPE).map(|v| String::from_utf8_lossy(v.as_bytes()).into_owned());
    let kind = given.as_deref().unwrap_or("none").split(';').next().unwrap_or_default().trim().to_ascii_lowercase();
    if kind == TYPE && !headers.contains_key(header::CONTENT_ENCODING) {
        return Ok(());
    }
    let fault = Finding::new("wrong-content-type", Verdict::Refuse, "")
        .have("content_type", kind.chars().take(80).collect::<String>())
        .need("content_type", TYPE)
        .why("What is sent here is a form of several parts, without a content coding, and its header says so.");
    Err(Problem::new(Kind::WrongType, fault.why.clone()).finding(fault))
}

fn broken(why: &str) -> Problem {
    let shown: String = why.chars().filter(|c| !c.is_control()).take(120).collect();
    shape("", "form", 0.0, format!("The form cannot be taken apart: {shown}."))
}

fn unknown(name: &str, names: &[&'static str]) -> Problem {
    let shown: String = name.chars().filter(|c| !c.is_control()).take(60).collect();
    let fault = Finding::new("wrong-shape", Verdict::Refuse, "")
        .have("field", shown.as_str())
        .need("fields", names.join(", "))
        .why(format!("The form has a field \"{shown}\" that nobody asked for."));
    Problem::new(Kind::WrongShape, fault.why.clone()).finding(fault)
}

fn shape(field: &str, key: &'static str, have: f64, why: String) -> Problem {
    let place = if field.is_empty() { String::new() } else { format!("/{field}") };
    let fault = Finding::new("wrong-shape", Verdict::Refuse, place).have(key, have).need(key, 1.0).why(why);
    Problem::new(Kind::WrongShape, fault.why.clone()).finding(fault)
}
