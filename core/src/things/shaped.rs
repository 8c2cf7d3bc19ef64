//! What every kind of shape gives once it is checked, and what it is given for that.

use super::grip::Grip;
use super::liquid::Vessel;
use super::loose::Loose;
use super::mass::{Mass, Shell};
use super::measures::Diameters;
use super::solid::Solid;
use crate::finding::{Finding, Verdict};

/// What the checks of a shape need to know from the thing itself.
pub(super) struct Around {
    /// Share of the body's inner volume.
    pub fill: f64,
    /// The caller's mass, g.
    pub mass_g: Option<f64>,
    /// How many.
    pub count: usize,
}

/// What stands in a vessel's shell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Content {
    pub shell: Shell,
    pub density_g_cm3: f64,
}

/// A shape, checked.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Shaped {
    pub solid: Solid,
    pub diameters: Option<Diameters>,
    pub bore_mm: Option<f64>,
    pub vessel: Option<(Vessel, Content)>,
    pub loose: Option<Loose>,
    pub pressurised: bool,
    pub mass: Mass,
    pub grip: Grip,
}

impl Shaped {
    /// A shape that is nothing but a solid.
    pub(super) fn plain(solid: Solid, mass: Mass) -> Self {
        let grip = Grip::of_body(&solid, solid.height());
        Self { solid, diameters: None, bore_mm: None, vessel: None, loose: None, pressurised: false, mass, grip }
    }
}

/// Two measures in one of which something does not go: which is larger, by how much, and why that cannot be.
pub(super) struct TooLarge<'a> {
    pub code: &'static str,
    /// Name of the field at fault, and its value.
    pub field: (&'static str, f64),
    /// Name of the limit's field, and the value that the field at fault may reach.
    pub limit: (&'static str, f64),
    /// Whether the limit itself is still allowed.
    pub may_equal: bool,
    pub why: &'a str,
}

impl TooLarge<'_> {
    /// A refusal when the field is beyond its limit; `at` is the shape's JSON Pointer.
    pub(super) fn check(&self, at: &str, out: &mut Vec<Finding>) {
        let (field, value) = self.field;
        let (limit, most) = self.limit;
        if value < most || (self.may_equal && value == most) {
            return;
        }
        let over = crate::units::tidy(value - most);
        let (value_text, most_text) = (crate::units::tidy(value), crate::units::tidy(most));
        out.push(
            Finding::new(self.code, Verdict::Refuse, format!("{at}/{field}"))
                .have(field, value)
                .need(limit, most)
                .have("over_by_mm", value - most)
                .why(format!(
                    "{field} is {value_text}, the limit is {most_text} ({limit}): over by {over}. {}",
                    self.why
                )),
        );
    }
}
