//! Fits: how much wider a finished slot is than what enters it, said by feel or in millimetres.

use crate::finding::Finding;
use crate::units::Row;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use utoipa::ToSchema;
use utoipa::openapi::schema::{ObjectBuilder, OneOfBuilder, Type};
use utoipa::openapi::{RefOr, Schema};

/// A fit as a word: what the joint feels like in the hand. The millimetres are common practice for
/// 3 mm plywood, no source: each is near the middle of the range in which the trade uses the word.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Feel {
    /// Driven in once with a mallet, −0.05: corners without glue.
    Mallet,
    /// Pressed in with the thumb, +0.02: glued fingers, floors.
    Thumb,
    /// Slides in by hand, +0.08: dividers that come out, grids.
    Slide,
    /// Falls in, +0.15: trays on ledges, wedges.
    Loose,
}

impl Feel {
    /// All words, tightest first.
    pub const ALL: [Self; 4] = [Self::Mallet, Self::Thumb, Self::Slide, Self::Loose];

    /// The word as it stands in a request.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Mallet => "mallet",
            Self::Thumb => "thumb",
            Self::Slide => "slide",
            Self::Loose => "loose",
        }
    }

    /// Finished slot less what enters, in mm, in plywood.
    #[must_use]
    pub fn mm(self) -> f64 {
        match self {
            Self::Mallet => -0.05,
            Self::Thumb => 0.02,
            Self::Slide => 0.08,
            Self::Loose => 0.15,
        }
    }
}

/// A fit as received: a word, or finished slot less what enters in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum FitSpec {
    /// By feel.
    Feel(Feel),
    /// In mm.
    Mm(f64),
}

/// The range of a fit given as a number. Foam board is pressed together at −0.30; beyond +0.60 two
/// parts no longer hold each other in any sheet that a laser cuts (common practice, no source).
pub const FIT_ROW: Row = Row {
    name: "fit_mm",
    what: "Finished slot less what enters it; or one of mallet, thumb, slide, loose.",
    unit: "mm",
    min: -0.30,
    max: 0.60,
    default: None,
};

impl FitSpec {
    /// A finding when a number is out of range.
    pub fn check(&self, at: &str, out: &mut Vec<Finding>) {
        if let Self::Mm(v) = self {
            FIT_ROW.check(*v, at, out);
        }
    }
}

impl utoipa::PartialSchema for FitSpec {
    fn schema() -> RefOr<Schema> {
        OneOfBuilder::new()
            .item(ObjectBuilder::new().schema_type(Type::String).enum_values(Some(Feel::ALL.iter().map(|f| f.word()))))
            .item(ObjectBuilder::new().schema_type(Type::Number).minimum(Some(FIT_ROW.min)).maximum(Some(FIT_ROW.max)))
            .description(Some("A fit by feel, or finished slot less what enters it in mm."))
            .into()
    }
}
impl ToSchema for FitSpec {}

impl Serialize for FitSpec {
    fn serialize<S: Serializer>(&self, s: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::Feel(f) => s.serialize_str(f.word()),
            Self::Mm(v) => s.serialize_f64(*v),
        }
    }
}

impl<'de> Deserialize<'de> for FitSpec {
    fn deserialize<D: Deserializer<'de>>(d: D) -> Result<Self, D::Error> {
        struct Visit;
        impl serde::de::Visitor<'_> for Visit {
            type Value = FitSpec;
            fn expecting(&self, f: &mut std::fmt::Formatter) -> std::fmt::Result {
                f.write_str("mallet, thumb, slide, loose, or a number of mm")
            }
            fn visit_str<E: serde::de::Error>(self, v: &str) -> Result<FitSpec, E> {
                Feel::ALL
                    .into_iter()
                    .find(|f| f.word() == v)
                    .map(FitSpec::Feel)
                    .ok_or_else(|| E::invalid_value(serde::de::Unexpected::Str(v), &self))
            }
            fn visit_f64<E>(self, v: f64) -> Result<FitSpec, E> {
                Ok(FitSpec::Mm(v))
            }
            fn visit_u64<E>(self, v: u64) -> Result<FitSpec, E> {
                Ok(FitSpec::Mm(v as f64))
            }
            fn visit_i64<E>(self, v: i64) -> Result<FitSpec, E> {
                Ok(FitSpec::Mm(v as f64))
            }
        }
        d.deserialize_any(Visit)
    }
}

/// What a joint is for; each use has its own fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// Two walls at an edge (fingers).
    Corner,
    /// A divider in a wall, or two dividers crossing.
    Divider,
    /// Two sheets that do not meet square.
    Oblique,
    /// A floor in its walls.
    Floor,
    /// A tray on its ledges.
    Ledge,
}

impl Role {
    /// All roles, in the order in which they are listed.
    pub const ALL: [Self; 5] = [Self::Corner, Self::Divider, Self::Oblique, Self::Floor, Self::Ledge];

    /// The field of `fits` that sets it.
    #[must_use]
    pub fn field(self) -> &'static str {
        match self {
            Self::Corner => "corner",
            Self::Divider => "divider",
            Self::Oblique => "oblique",
            Self::Floor => "floor",
            Self::Ledge => "ledge",
        }
    }

    /// The fit when the caller says nothing. Common practice, no source.
    #[must_use]
    pub fn default_fit(self) -> FitSpec {
        match self {
            Self::Corner | Self::Floor => FitSpec::Feel(Feel::Thumb),
            Self::Divider => FitSpec::Feel(Feel::Slide),
            Self::Oblique => FitSpec::Mm(0.10),
            Self::Ledge => FitSpec::Feel(Feel::Loose),
        }
    }
}

/// The fits of a job as received: one for each use, each of them optional.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FitsSpec {
    /// Two walls at an edge; thumb when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub corner: Option<FitSpec>,
    /// Dividers and cross-laps; slide when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub divider: Option<FitSpec>,
    /// Sheets that do not meet square; +0.10 when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oblique: Option<FitSpec>,
    /// A floor in its walls; thumb when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub floor: Option<FitSpec>,
    /// A tray on ledges; loose when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ledge: Option<FitSpec>,
}

impl FitsSpec {
    /// What the caller gave for a use, if anything.
    #[must_use]
    pub fn given(&self, role: Role) -> Option<FitSpec> {
        match role {
            Role::Corner => self.corner,
            Role::Divider => self.divider,
            Role::Oblique => self.oblique,
            Role::Floor => self.floor,
            Role::Ledge => self.ledge,
        }
    }

    /// A finding for each number out of range; `at` is the JSON Pointer of `fits`.
    pub fn check(&self, at: &str, out: &mut Vec<Finding>) {
        for role in Role::ALL {
            if let Some(fit) = self.given(role) {
                fit.check(&format!("{at}/{}", role.field()), out);
            }
        }
    }
}
