//! Which checks say nothing about board: their refusals become warnings, with the reason.

use crate::checks::{About, Outcome};
use crate::finding::Verdict;

/// A refusal that was softened.
#[derive(Clone, Debug, PartialEq)]
pub struct Softened {
    /// The check.
    pub check: &'static str,
    /// What it found.
    pub code: &'static str,
    /// Where.
    pub place: String,
    /// Why it says nothing about a prototype.
    pub reason: &'static str,
}

const STRENGTH: &str = "This is a rule about the strength of wood; board only has to show the shape.";
const WEIGHT: &str = "Board is light: the design's own sheets were reckoned with, and passed.";
const CELLS: &str = "Cells of board are smaller than those of the design, which passed.";
const RAISED: &str = "On a floor of thicker board things stand that much higher than they will.";

/// The checks, and why each says nothing about board. Common practice, no source: a prototype proves
/// angles, reach, lid and order, and neither slots nor strength. What is not listed judges board as it
/// does wood: parts in one another, joints that miss their fit, parts that fall apart, a thing in a panel.
const SOFT: [(&str, &str); 19] = [
    ("tab-width", STRENGTH),
    ("finger-width", STRENGTH),
    ("web", STRENGTH),
    ("slot-to-edge", STRENGTH),
    ("lap-remainder", STRENGTH),
    ("floor-sag", STRENGTH),
    ("tab-shear", STRENGTH),
    ("slam-retention", WEIGHT),
    ("tipping", WEIGHT),
    ("mass-one-hand", WEIGHT),
    ("slide-load", WEIGHT),
    ("holder-play", CELLS),
    ("finger-gap", CELLS),
    ("compartment-reach", CELLS),
    ("capacity", CELLS),
    ("lean-tip", RAISED),
    ("height", RAISED),
    ("lid-swing", RAISED),
    ("reach", RAISED),
];

/// Makes refusals of such checks warnings, and lists them.
pub fn soften(checks: &mut [(About, Outcome)]) -> Vec<Softened> {
    let mut all = vec![];
    for (about, outcome) in checks {
        let Some((check, reason)) = SOFT.iter().find(|(name, _)| *name == about.name).copied() else { continue };
        for f in outcome.findings.iter_mut().filter(|f| f.verdict == Verdict::Refuse) {
            f.verdict = Verdict::Warn;
            f.why = format!("{} {reason}", f.why);
            all.push(Softened { check, code: f.code, place: f.place.clone(), reason });
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::SOFT;
    use crate::checks::ALL;

    #[test]
    fn each_softened_check_is_on_the_list_of_checks() {
        for (name, reason) in SOFT {
            assert!(ALL.iter().any(|c| c.about.name == name), "{name}");
            assert!(reason.len() > 20);
        }
    }
}
