//! A cutter as received: a name from the list, or an object.

use crate::finding::Finding;
use crate::units::{Row, check_name, decode_fields};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::Value;
use utoipa::openapi::schema::{ObjectBuilder, OneOfBuilder, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// The cutter of a request that names none.
pub const USUAL_CUTTER: &str = "co2-600x400";

/// The word for a process in a request.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum ProcessWord {
    /// A CO2 laser.
    Co2,
    /// A knife.
    Knife,
}

crate::params! {
    /// A cutter described by the caller. What is left out comes from the `base`.
    pub struct CutterOwn {
        numbers {
            /// Strip along each edge of the bed that the head does not reach.
            edge_mm: opt(0.0, 200.0, "mm"),
            /// Cutting feed, in every material.
            feed_mm_s: opt(0.1, 2000.0, "mm/s"),
            /// Speed of the head between cuts.
            travel_mm_s: opt(1.0, 5000.0, "mm/s"),
            /// Acceleration of the head.
            acceleration_mm_s2: opt(10.0, 100000.0, "mm/s²"),
            /// Time to break through at the start of each cut.
            pierce_s: opt(0.0, 30.0, "s"),
            /// Feed when marking.
            mark_mm_s: opt(0.1, 5000.0, "mm/s"),
            /// What a minute of the machine costs.
            cost_per_minute: opt(0.0, 10000.0, "1"),
        }
        fields {
            /// Name for people.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub name: Option<String>,
            /// The listed cutter that gives what is left out; `co2-600x400` when this is left out too.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub base: Option<String>,
            /// How it cuts; that of the base when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub process: Option<ProcessWord>,
            /// Width and depth of the bed, 50 to 3100 each.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(value_type = Option<f64>, format = "pair", minimum = 50, maximum = 3100)]
            pub bed_mm: Option<[f64; 2]>,
            /// Passes over each line, 1 to 20, in every material.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(minimum = 1, maximum = 20)]
            pub passes: Option<u32>,
        }
    }
}

/// A bed's side: smaller is no cutter, larger than a whole sheet of the trade (3050 mm) is a slip.
const BED_ROW: Row =
    Row { name: "bed_mm", what: "Width and depth of the bed.", unit: "mm", min: 50.0, max: 3100.0, default: None };
const PASSES_ROW: Row =
    Row { name: "passes", what: "Passes over each line.", unit: "1", min: 1.0, max: 20.0, default: None };

/// A cutter as received: the name of a listed one, or an object.
#[derive(Clone, Debug, PartialEq)]
pub enum CutterSpec {
    /// A name from the list.
    Named(String),
    /// The caller's own machine.
    Own(Box<CutterOwn>),
}

impl PartialSchema for CutterSpec {
    fn schema() -> RefOr<Schema> {
        OneOfBuilder::new()
            .item(ObjectBuilder::new().schema_type(Type::String).description(Some("Name of a listed cutter.")))
            .item(CutterOwn::schema())
            .description(Some("A listed cutter by its name, or the caller's own machine."))
            .into()
    }
}
impl ToSchema for CutterSpec {
    fn schemas(schemas: &mut Vec<(String, RefOr<Schema>)>) {
        CutterOwn::schemas(schemas);
    }
}

impl Serialize for CutterSpec {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Named(name) => s.serialize_str(name),
            Self::Own(own) => own.serialize(s),
        }
    }
}

impl<'de> Deserialize<'de> for CutterSpec {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        use serde::de::Error as _;
        match crate::units::any(d)? {
            Value::String(name) => Ok(Self::Named(name)),
            Value::Object(fields) => decode_fields(fields).map(|own| Self::Own(Box::new(own))),
            _ => Err(D::Error::custom("expected a cutter's name or an object")),
        }
    }
}

impl CutterOwn {
    /// Every range of this object.
    pub(super) fn check_all(&self, at: &str, out: &mut Vec<Finding>) {
        self.check(at, out);
        if let Some(name) = &self.name {
            check_name(name, &format!("{at}/name"), out);
        }
        for (i, side) in self.bed_mm.iter().flatten().enumerate() {
            BED_ROW.check(*side, &format!("{at}/bed_mm/{i}"), out);
        }
        if let Some(p) = self.passes {
            PASSES_ROW.check(f64::from(p), &format!("{at}/passes"), out);
        }
    }
}
