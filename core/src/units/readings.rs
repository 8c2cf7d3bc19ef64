//! One reading or several of the same thing.

use serde::{Deserialize, Deserializer, Serialize, Serializer};
use utoipa::ToSchema;
use utoipa::openapi::schema::{ArrayBuilder, ObjectBuilder, OneOfBuilder, Type};
use utoipa::openapi::{RefOr, Schema};

/// One number, or an array of readings taken at several places.
#[derive(Clone, Debug, PartialEq)]
pub struct Readings(Vec<f64>);

/// Readings a dimension can have; more is a mistake or an attack.
pub(super) const MOST: usize = 64;

impl utoipa::PartialSchema for Readings {
    fn schema() -> RefOr<Schema> {
        let number = || ObjectBuilder::new().schema_type(Type::Number);
        OneOfBuilder::new()
            .item(number())
            .item(ArrayBuilder::new().items(number()).min_items(Some(1)).max_items(Some(MOST)))
            .description(Some("One reading, or several readings of the same dimension."))
            .into()
    }
}
impl ToSchema for Readings {}

impl Readings {
    /// Readings from numbers; `None` when there is not one.
    #[must_use]
    pub fn new(values: Vec<f64>) -> Option<Self> {
        (!values.is_empty()).then_some(Self(values))
    }
    /// All readings, in the order given; never empty.
    #[must_use]
    pub fn all(&self) -> &[f64] {
        &self.0
    }
    /// The smallest reading.
    #[must_use]
    pub fn smallest(&self) -> f64 {
        self.0.iter().copied().fold(f64::INFINITY, f64::min)
    }
    /// The largest reading.
    #[must_use]
    pub fn largest(&self) -> f64 {
        self.0.iter().copied().fold(f64::NEG_INFINITY, f64::max)
    }
    /// The arithmetic mean.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.0.iter().sum::<f64>() / self.0.len() as f64
    }
}

impl Serialize for Readings {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        match self.0.as_slice() {
            [one] => s.serialize_f64(*one),
            many => many.serialize(s),
        }
    }
}

impl<'de> Deserialize<'de> for Readings {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        struct Visit;
        impl<'de> serde::de::Visitor<'de> for Visit {
            type Value = Readings;
            fn expecting(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
                write!(f, "a number or an array of 1 to {MOST} numbers")
            }
            fn visit_f64<E>(self, v: f64) -> Result<Readings, E> {
                Ok(Readings(vec![v]))
            }
            fn visit_u64<E>(self, v: u64) -> Result<Readings, E> {
                Ok(Readings(vec![v as f64]))
            }
            fn visit_i64<E>(self, v: i64) -> Result<Readings, E> {
                Ok(Readings(vec![v as f64]))
            }
            fn visit_seq<A: serde::de::SeqAccess<'de>>(self, mut a: A) -> Result<Readings, A::Error> {
                let mut all = Vec::new();
                while let Some(v) = a.next_element::<f64>()? {
                    all.push(v);
                    if all.len() > MOST {
                        return Err(serde::de::Error::invalid_length(all.len(), &self));
                    }
                }
                if all.is_empty() {
                    return Err(serde::de::Error::invalid_length(0, &self));
                }
                Ok(Readings(all))
            }
        }
        d.deserialize_any(Visit)
    }
}
