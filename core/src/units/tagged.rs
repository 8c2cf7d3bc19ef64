//! Reading tagged objects (`{"kind": "bottle", …}`) so that an error still names its field.
//!
//! serde's own internally tagged enums buffer their content and lose the path on the way.

use serde::Deserialize;
use serde::de::DeserializeOwned;
use serde_json::{Map, Value};

/// Stands between the path and the message of an error that passes through a tagged object.
const SPLIT: char = '\u{1f}';

/// Splits the tag off an object: the value of `tag` and the remaining fields.
///
/// # Errors
/// When the value is no object, or the tag is missing or no text.
pub fn read_tagged(value: Value, tag: &str) -> Result<(String, Map<String, Value>), String> {
    let Value::Object(mut fields) = value else {
        return Err(format!("expected an object with \"{tag}\""));
    };
    match fields.remove(tag) {
        Some(Value::String(kind)) => Ok((kind, fields)),
        Some(_) => Err(format!("{tag}{SPLIT}\"{tag}\" must be text")),
        None => Err(format!("{tag}{SPLIT}missing field \"{tag}\"")),
    }
}

/// Reads a value and names the place of the first error.
///
/// # Errors
/// The JSON Pointer of the fault (relative to the value) and what is wrong there.
pub fn decode<T: DeserializeOwned>(value: Value) -> Result<T, (String, String)> {
    serde_path_to_error::deserialize::<_, T>(value).map_err(|e| {
        let mut pointer = String::new();
        for segment in e.path() {
            use serde_path_to_error::Segment as S;
            match segment {
                S::Seq { index } => pointer.push_str(&format!("/{index}")),
                S::Map { key } => pointer.push_str(&format!("/{}", escape(key))),
                S::Enum { .. } | S::Unknown => {}
            }
        }
        let text = e.into_inner().to_string();
        let mut parts: Vec<&str> = text.split(SPLIT).collect();
        let message = parts.pop().unwrap_or_default().to_owned();
        for part in parts {
            if !part.starts_with('/') && !part.is_empty() {
                pointer.push('/');
            }
            pointer.push_str(part);
        }
        if let Some(field) = message.strip_prefix("unknown field `").and_then(|r| r.split('`').next())
            && !pointer.ends_with(&format!("/{}", escape(field)))
        {
            pointer.push_str(&format!("/{}", escape(field)));
        }
        (pointer, message)
    })
}

/// A key as it stands in a JSON Pointer (RFC 6901, section 3).
fn escape(key: &str) -> String {
    key.replace('~', "~0").replace('/', "~1")
}

/// Reads the fields behind a tag; an error carries its place along.
///
/// # Errors
/// The inner error with its place in front, for [`decode`] to take apart.
pub fn decode_fields<T: DeserializeOwned, E: serde::de::Error>(fields: Map<String, Value>) -> Result<T, E> {
    decode(Value::Object(fields)).map_err(|(at, message)| E::custom(format!("{at}{SPLIT}{message}")))
}

/// Reads any value first, for a tag to be looked at.
///
/// # Errors
/// What the underlying reader says.
pub fn any<'de, D: serde::Deserializer<'de>>(d: D) -> Result<Value, D::Error> {
    Value::deserialize(d)
}

/// Declares an enum of received objects told apart by a tag: `tagged! { "kind": pub enum Shape { "bottle" => Bottle(BottleSpec), … } }`.
/// Each inner type is a `params!` struct; the enum gets `check`, `note_defaults`, `TAGS`,
/// serde, and a schema in which each branch is closed and found by its tag.
#[macro_export]
macro_rules! tagged {
    (
        $(#[$emeta:meta])*
        $tag:literal : pub enum $name:ident {
            $( $(#[$vmeta:meta])* $key:literal => $variant:ident($inner:ty) ),* $(,)?
        }
    ) => {
        $(#[$emeta])*
        #[derive(Clone, Debug, PartialEq, serde::Serialize)]
        #[serde(tag = $tag)]
        pub enum $name {
            $( $(#[$vmeta])* #[serde(rename = $key)] $variant($inner) ),*
        }

        impl $name {
            /// The values that the tag can have.
            pub const TAGS: &'static [&'static str] = &[$($key),*];

            /// The tag of this object.
            #[must_use]
            pub fn tag(&self) -> &'static str {
                match self { $(Self::$variant(_) => $key),* }
            }

            /// A finding for each number that is outside its row; `at` is this object's JSON Pointer.
            pub fn check(&self, at: &str, out: &mut Vec<$crate::finding::Finding>) {
                match self { $(Self::$variant(inner) => inner.check(at, out)),* }
            }

            /// Adds a line for each default that stands in for a field left out.
            pub fn note_defaults(&self, at: &str, out: &mut Vec<$crate::units::DefaultUsed>) {
                match self { $(Self::$variant(inner) => inner.note_defaults(at, out)),* }
            }
        }

        // by hand: derived, the tag would be lost and each branch would refuse it as an unknown field
        impl utoipa::PartialSchema for $name {
            fn schema() -> utoipa::openapi::RefOr<utoipa::openapi::Schema> {
                $crate::units::schema::one_of(stringify!($name), $tag, Self::TAGS)
            }
        }
        impl utoipa::ToSchema for $name {
            fn schemas(out: &mut Vec<(String, utoipa::openapi::RefOr<utoipa::openapi::Schema>)>) {
                $(
                    let inner = <$inner as utoipa::PartialSchema>::schema();
                    out.push($crate::units::schema::branch(stringify!($name), $tag, $key, inner));
                    <$inner as utoipa::ToSchema>::schemas(out);
                )*
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
                use serde::de::Error as _;
                let value = $crate::units::any(d)?;
                let (kind, fields) = $crate::units::read_tagged(value, $tag).map_err(D::Error::custom)?;
                match kind.as_str() {
                    $( $key => $crate::units::decode_fields(fields).map(Self::$variant), )*
                    other => Err(D::Error::custom(format!(
                        "{}\u{1f}\"{}\" is none of: {}", $tag, other.chars().take(40).collect::<String>(), Self::TAGS.join(", ")
                    ))),
                }
            }
        }
    };
}
