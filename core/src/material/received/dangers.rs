//! The never-list and the cautions as they are written.

use serde::Deserialize;

/// A material that must not be cut, by the words that people type for it.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Forbidden {
    /// Name of the entry.
    pub id: String,
    /// Words and phrases, lower case, as people type them.
    pub words: Vec<String>,
    /// What it is, for people.
    pub what: String,
    /// Why it is refused.
    pub reason: String,
    /// What to do instead.
    pub instead: String,
    /// Where this comes from.
    pub source: String,
}

/// When a caution belongs into a package.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum When {
    /// With every package.
    Always,
    /// With every package that is cut by laser.
    Laser,
    /// With every package that is cut by knife.
    Knife,
    /// When a material asks for it by name.
    Material,
}

/// A caution that comes with a package.
#[derive(Clone, Debug, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Caution {
    /// Name of the entry.
    pub id: String,
    /// When it is given.
    pub when: When,
    /// The caution, for people.
    pub text: String,
    /// Where it comes from.
    pub source: String,
}

/// Reads the never-list.
///
/// # Errors
/// What is wrong with the file.
pub(in crate::material) fn never(text: &str) -> Result<Vec<Forbidden>, String> {
    serde_json::from_str(text).map_err(|e| e.to_string())
}

/// Reads the cautions.
///
/// # Errors
/// What is wrong with the file.
pub(in crate::material) fn cautions(text: &str) -> Result<Vec<Caution>, String> {
    serde_json::from_str(text).map_err(|e| e.to_string())
}
