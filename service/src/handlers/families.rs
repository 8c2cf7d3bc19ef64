//! `GET /v1/families`: every family of holders with its schema, ranges and an example.

use crate::openapi::family_schema;
use axum::Json;
use berth_core::families::{ALL, About};
use berth_core::units::Row;
use serde::Serialize;
use serde_json::Value;
use utoipa::ToSchema;

/// All families.
#[derive(Debug, Serialize, ToSchema)]
pub struct Families {
    /// In the order in which they are listed to people.
    pub families: Vec<Family>,
}

/// A family of holders.
#[derive(Debug, Serialize, ToSchema)]
pub struct Family {
    /// Its name: the `family` of a holder in a request.
    pub name: &'static str,
    /// What it is.
    pub title: &'static str,
    /// What it is for and how it holds.
    pub what: &'static str,
    /// JSON Schema of a holder of this family.
    #[schema(value_type = Object)]
    pub schema: Value,
    /// Its numbers with their ranges.
    pub ranges: Vec<Range>,
    /// A request that works: post it as it is.
    #[schema(value_type = Object)]
    pub example: Value,
}

/// One number that a caller may give.
#[derive(Debug, Serialize, ToSchema)]
pub struct Range {
    /// Field's name.
    pub name: &'static str,
    /// What it is.
    pub what: &'static str,
    /// Unit; `1` for a share or a count.
    pub unit: &'static str,
    /// Smallest value.
    pub min: f64,
    /// Largest value.
    pub max: f64,
    /// Taken when the field is left out; none where something else stands in.
    pub default: Option<f64>,
}

impl From<&Row> for Range {
    fn from(r: &Row) -> Self {
        Self { name: r.name, what: r.what.trim(), unit: r.unit, min: r.min, max: r.max, default: r.default }
    }
}

impl From<&About> for Family {
    fn from(a: &About) -> Self {
        Self {
            name: a.tag,
            title: a.title,
            what: a.what,
            schema: family_schema(a.tag),
            ranges: a.rows.iter().map(Range::from).collect(),
            example: (a.example)(),
        }
    }
}

/// Every family of holders with its schema, ranges and an example.
#[utoipa::path(get, path = "/v1/families", tag = "lists", operation_id = "listFamilies", responses(
    (status = 200, description = "All families of holders.", body = Families),
))]
pub async fn list() -> Json<Families> {
    Json(Families { families: ALL.iter().map(Family::from).collect() })
}
