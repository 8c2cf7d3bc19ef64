//! What a finding looks like: the document's side of `berth_core::finding`, which knows no OpenAPI.

use std::collections::BTreeMap;
use utoipa::ToSchema;

/// How bad it is: `ok`, `warn` (the package is made, the finding comes with it), `refuse` (nothing is cut).
#[derive(ToSchema)]
#[schema(rename_all = "lowercase")]
#[allow(dead_code)]
pub enum VerdictDocument {
    /// Nothing to say.
    Ok,
    /// The package is made.
    Warn,
    /// Nothing is cut until this is cured.
    Refuse,
}

/// One amount; its unit stands in its key.
#[derive(ToSchema)]
#[serde(untagged)]
#[allow(dead_code)]
pub enum AmountDocument {
    /// A number; null where it was none that can be written.
    Number(Option<f64>),
    /// A word.
    Text(String),
    /// Numbers that belong together.
    List(Vec<f64>),
}

/// One step of a JSON Patch (RFC 6902).
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct PatchDocument {
    /// `add`, `replace` or `remove`.
    op: String,
    /// JSON Pointer into the request.
    path: String,
    /// The new value; left out for `remove`.
    #[schema(nullable = false)]
    value: Option<AmountDocument>,
}

/// A way out that was tried: applying its patch clears the finding.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct CureDocument {
    /// What to do.
    r#do: String,
    /// The same as a JSON Patch on the request.
    patch: Vec<PatchDocument>,
}

/// One result of a check, in the order in which it is read.
#[derive(ToSchema)]
#[allow(dead_code)]
pub struct FindingDocument {
    /// What, as a word for machines.
    code: String,
    /// How bad.
    verdict: VerdictDocument,
    /// Where: a JSON Pointer into the request, or the code of a part or joint.
    r#where: String,
    /// What was found.
    have: BTreeMap<String, AmountDocument>,
    /// What is needed.
    need: BTreeMap<String, AmountDocument>,
    /// Why it matters.
    why: String,
    /// Cures, nearest first.
    cures: Vec<CureDocument>,
}
