//! Schemas that say exactly what is read: tagged objects with closed branches, readings, pairs.

use super::readings::MOST;
use serde_json::{Map, Value, json};
use utoipa::openapi::RefOr;
use utoipa::openapi::schema::{Discriminator, ObjectBuilder, OneOfBuilder, Ref, Schema, Type};

/// Name of the component of one branch: `ShapeSpec.bottle`.
fn component(of: &str, key: &str) -> String {
    format!("{of}.{key}")
}

/// One of the branches, told apart by `tag`, with a mapping from each value of the tag to its branch.
#[must_use]
pub fn one_of(of: &str, tag: &str, keys: &[&str]) -> RefOr<Schema> {
    let place = |key: &str| format!("#/components/schemas/{}", component(of, key));
    let all = keys.iter().fold(OneOfBuilder::new(), |all, key| all.item(Ref::new(place(key))));
    let mapping = keys.iter().map(|key| ((*key).to_owned(), place(key)));
    all.discriminator(Some(Discriminator::with_mapping(tag, mapping))).into()
}

/// One branch as a component: the inner object with the tag as one more field that must be there.
#[must_use]
pub fn branch(of: &str, tag: &str, key: &str, inner: RefOr<Schema>) -> (String, RefOr<Schema>) {
    let fixed = ObjectBuilder::new().schema_type(Type::String).enum_values(Some([key]));
    let closed = match inner {
        RefOr::T(Schema::Object(mut object)) => {
            object.properties.insert(tag.to_owned(), fixed.into());
            object.required.insert(0, tag.to_owned());
            RefOr::T(Schema::Object(object))
        }
        // every inner type is a `params!` struct, whose schema is an object
        other => other,
    };
    (component(of, key), closed)
}

/// Turns every number of the format `readings` in a document into one number or an array of them, and every
/// number of the format `pair` into an array of two; each number within the range. `null` stays allowed
/// where it was.
pub fn spread_numbers(document: &mut Value) {
    let Value::Object(map) = document else {
        if let Value::Array(all) = document {
            all.iter_mut().for_each(spread_numbers);
        }
        return;
    };
    let ways = match map.get("format").and_then(Value::as_str) {
        Some("readings") => vec![number(map), array(map, 1, MOST)],
        Some("pair") => vec![array(map, 2, 2)],
        _ => return map.values_mut().for_each(spread_numbers),
    };
    let null = map.get("type").is_some_and(Value::is_array).then(|| json!({"type": "null"}));
    map.retain(|key, _| key == "description");
    map.insert("oneOf".to_owned(), ways.into_iter().chain(null).collect());
}

/// One number with the limits of `like`.
fn number(like: &Map<String, Value>) -> Value {
    let mut number = json!({"type": "number", "format": "double"});
    for limit in ["minimum", "maximum"] {
        if let Some(v) = like.get(limit) {
            number[limit] = v.clone();
        }
    }
    number
}

fn array(like: &Map<String, Value>, least: usize, most: usize) -> Value {
    json!({"type": "array", "items": number(like), "minItems": least, "maxItems": most})
}
