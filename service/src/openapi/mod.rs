//! The OpenAPI document: generated from the handlers and the core's types, then closed so that it accepts
//! what the server accepts.

mod faults;
mod finding;

use crate::router;
use berth_core::units::schema::spread_numbers;
pub use faults::ComputingFaults;
pub use finding::{FindingDocument, VerdictDocument};
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;
use std::sync::LazyLock;
use utoipa::OpenApi;

/// What stands at the document's head.
#[derive(OpenApi)]
#[openapi(
    info(
        title = "Berth",
        description = "Measures of things and of a space in, cut-ready and proven holders for a laser cutter out. Millimetres, degrees, grams; the unit stands in each field's name.",
        license(name = "MIT OR Apache-2.0", identifier = "MIT OR Apache-2.0"),
    ),
    tags(
        (name = "holders", description = "Making holders."),
        (name = "proving", description = "Certainty before anything is cut."),
        (name = "lists", description = "What there is to choose from."),
        (name = "service", description = "The service itself."),
    ),
)]
pub struct Head;

/// The document, made once.
#[must_use]
pub fn document() -> &'static Value {
    static DOCUMENT: LazyLock<Value> = LazyLock::new(|| {
        let mut document = serde_json::to_value(router::table().into_openapi()).unwrap_or_default();
        spread_numbers(&mut document);
        document
    });
    &DOCUMENT
}

/// The document as it is committed.
#[must_use]
pub fn text() -> String {
    format!("{:#}\n", document())
}

/// Where schemas stand in the document, and where in a schema of its own.
const COMPONENTS: &str = "#/components/schemas/";
const DEFINITIONS: &str = "#/$defs/";

/// JSON Schema of a holder of one family, with everything that it refers to.
#[must_use]
pub fn family_schema(tag: &str) -> Value {
    alone(&format!("HolderSpec.{tag}"))
}

/// One component as a schema of its own (JSON Schema 2020-12).
#[must_use]
pub fn alone(component: &str) -> Value {
    let all = &document()["components"]["schemas"];
    let mut needed = BTreeSet::new();
    let mut schema = all[component].clone();
    gather(&schema, all, &mut needed);
    let mut definitions: Map<String, Value> =
        needed.iter().map(|name| (name.clone(), all[name.as_str()].clone())).collect();
    definitions.values_mut().for_each(move_references);
    move_references(&mut schema);
    schema["$schema"] = json!("https://json-schema.org/draft/2020-12/schema");
    schema["$defs"] = Value::Object(definitions);
    schema
}

/// The names of all components that a schema refers to, also by way of others.
fn gather(schema: &Value, all: &Value, needed: &mut BTreeSet<String>) {
    match schema {
        Value::Array(list) => list.iter().for_each(|v| gather(v, all, needed)),
        Value::Object(map) => map.values().for_each(|v| gather(v, all, needed)),
        Value::String(text) => {
            if let Some(name) = text.strip_prefix(COMPONENTS)
                && needed.insert(name.to_owned())
            {
                gather(&all[name], all, needed);
            }
        }
        _ => {}
    }
}

fn move_references(schema: &mut Value) {
    match schema {
        Value::Array(list) => list.iter_mut().for_each(move_references),
        Value::Object(map) => map.values_mut().for_each(move_references),
        Value::String(text) => {
            if let Some(name) = text.strip_prefix(COMPONENTS) {
                *text = format!("{DEFINITIONS}{name}");
            }
        }
        _ => {}
    }
}
