//! What a check says: verdict, finding, cures. A check reports all faults, not the first.
//!
//! May import: nothing of this crate. Knows no HTTP: the service maps findings to answers.

mod patch;

pub use patch::apply;

use serde::Serialize;

/// How bad it is. The worst finding is the verdict of the whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// Nothing to say.
    Ok,
    /// The package is made; the finding comes with it.
    Warn,
    /// Nothing is cut until this is cured.
    Refuse,
}

/// One amount in a finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Amount {
    /// A number; its unit stands in the key (`gap_mm`).
    Number(f64),
    /// A word, such as a material's name.
    Text(String),
    /// Several numbers that belong together.
    List(Vec<f64>),
    /// Yes or no, as a value in a cure.
    Flag(bool),
}

impl From<bool> for Amount {
    fn from(v: bool) -> Self {
        Self::Flag(v)
    }
}

impl From<f64> for Amount {
    fn from(v: f64) -> Self {
        // six decimals: a finding is read by people, and -0 helps nobody
        Self::Number((v * 1e6).round() / 1e6 + 0.0)
    }
}
impl From<usize> for Amount {
    fn from(v: usize) -> Self {
        Self::Number(v as f64)
    }
}
impl From<&str> for Amount {
    fn from(v: &str) -> Self {
        Self::Text(v.to_owned())
    }
}
impl From<String> for Amount {
    fn from(v: String) -> Self {
        Self::Text(v)
    }
}
impl From<Vec<f64>> for Amount {
    fn from(v: Vec<f64>) -> Self {
        Self::List(v)
    }
}

/// One step of a JSON Patch (RFC 6902) on the request: `add` (also replaces) or `remove`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PatchOp {
    /// `add`, `replace` or `remove`.
    pub op: &'static str,
    /// JSON Pointer into the request.
    pub path: String,
    /// The new value; left out for `remove`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<Amount>,
}

/// A way out. A check proposes it; only those that were tried and clear the finding are sent.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Cure {
    /// What to do, in one sentence.
    #[serde(rename = "do")]
    pub action: String,
    /// The same as a JSON Patch on the request.
    pub patch: Vec<PatchOp>,
}

/// One result of a check, in the order in which it is read: what, where, how much, why, nearest cure.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// What, as a word for machines (`lean-window-empty`).
    pub code: &'static str,
    /// How bad.
    pub verdict: Verdict,
    /// Where: a JSON Pointer into the request, or the code of a part or joint.
    #[serde(rename = "where")]
    pub place: String,
    /// What was found; the unit stands in each key.
    #[serde(serialize_with = "as_map")]
    pub have: Vec<(&'static str, Amount)>,
    /// What is needed.
    #[serde(serialize_with = "as_map")]
    pub need: Vec<(&'static str, Amount)>,
    /// Why it matters, for people.
    pub why: String,
    /// Cures, nearest first.
    pub cures: Vec<Cure>,
}

fn as_map<S: serde::Serializer>(facts: &[(&'static str, Amount)], s: S) -> Result<S::Ok, S::Error> {
    s.collect_map(facts.iter().map(|(k, v)| (k, v)))
}

impl Finding {
    /// A finding with nothing but its code, verdict and place yet.
    #[must_use]
    pub fn new(code: &'static str, verdict: Verdict, place: impl Into<String>) -> Self {
        Self { code, verdict, place: place.into(), have: vec![], need: vec![], why: String::new(), cures: vec![] }
    }
    /// Adds what was found.
    #[must_use]
    pub fn have(mut self, key: &'static str, value: impl Into<Amount>) -> Self {
        self.have.push((key, value.into()));
        self
    }
    /// Adds what is needed.
    #[must_use]
    pub fn need(mut self, key: &'static str, value: impl Into<Amount>) -> Self {
        self.need.push((key, value.into()));
        self
    }
    /// Says why.
    #[must_use]
    pub fn why(mut self, why: impl Into<String>) -> Self {
        self.why = why.into();
        self
    }
    /// Proposes a cure: a sentence and one value to put at one place of the request.
    #[must_use]
    pub fn cure(self, action: impl Into<String>, path: impl Into<String>, value: impl Into<Amount>) -> Self {
        let op = PatchOp { op: "add", path: path.into(), value: Some(value.into()) };
        self.cure_with(action, vec![op])
    }
    /// Proposes a cure that takes several steps.
    #[must_use]
    pub fn cure_with(mut self, action: impl Into<String>, patch: Vec<PatchOp>) -> Self {
        self.cures.push(Cure { action: action.into(), patch });
        self
    }
}

/// The worst verdict of a list.
#[must_use]
pub fn worst(findings: &[Finding]) -> Verdict {
    findings.iter().map(|f| f.verdict).max().unwrap_or(Verdict::Ok)
}
