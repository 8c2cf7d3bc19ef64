//! What a shop measured and felt, as received.

use crate::material::{CutterSpec, FitsSpec, StockSpec};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Which way the face grain ran.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum GrainWay {
    /// The slots run along the face grain.
    Along,
    /// The slots run across the face grain.
    Across,
}

/// What a tongue felt like in a slot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum Answer {
    /// It will not go in by hand.
    Refuses,
    /// It is driven in with a mallet.
    Mallet,
    /// It is pressed in with the thumb.
    Thumb,
    /// It slides in.
    Slide,
    /// It falls in.
    Loose,
    /// It rattles.
    Rattles,
}

crate::params! {
    /// A test strip: drawn, cut into equal pieces, pushed together and measured.
    pub struct StripReading {
        numbers {
            /// Length of the strip as drawn.
            drawn_mm: def(20.0, 1000.0, "mm", 100.0),
            /// Number of pieces.
            pieces: def(2.0, 100.0, "1", 10.0),
            /// Length of all pieces pushed together, one reading or several; left out when it was not measured.
            measured_mm: optmany(1.0, 1000.0, "mm"),
        }
        fields {}
    }
}

crate::params! {
    /// One slot of a comb.
    pub struct SlotReading {
        numbers {
            /// Width of the slot as drawn.
            drawn_mm: req(0.1, 50.0, "mm"),
        }
        fields {
            /// What the tongue felt like in it; left out when it was not tried.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub answer: Option<Answer>,
        }
    }
}

crate::params! {
    /// A comb of slots and the tongue that was tried in them.
    pub struct CombReading {
        numbers {
            /// Caliper readings of the tongue's own thickness; the sheet's when left out.
            tongue_mm: optmany(0.1, 50.0, "mm"),
        }
        fields {
            /// Which way the slots run.
            pub grain: GrainWay,
            /// The slots, 1 to 40.
            #[schema(min_items = 1, max_items = 40)]
            pub slots: Vec<SlotReading>,
        }
    }
}

crate::params! {
    /// Readings of one stock: what the calipers, the strips and the hand said.
    pub struct ReadingsRequest {
        numbers {
            /// How old the readings are.
            age_days: opt(0.0, 36500.0, "d"),
        }
        fields {
            /// The machine that cut the coupon.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            pub cutter: Option<CutterSpec>,
            /// The stock as it is known so far, with the caliper readings of the sheet.
            pub stock: StockSpec,
            /// The fits that are wanted; the trade's when left out.
            #[serde(default)]
            pub fits: FitsSpec,
            /// Test strips, from several places of the bed; at most 24.
            #[serde(default)]
            #[schema(max_items = 24)]
            pub strips: Vec<StripReading>,
            /// Combs of slots; at most 8.
            #[serde(default)]
            #[schema(max_items = 8)]
            pub combs: Vec<CombReading>,
        }
    }
}

impl Answer {
    /// All answers, tightest first.
    pub const ALL: [Self; 6] = [Self::Refuses, Self::Mallet, Self::Thumb, Self::Slide, Self::Loose, Self::Rattles];

    /// The word as it stands in a request.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Refuses => "refuses",
            Self::Mallet => "mallet",
            Self::Thumb => "thumb",
            Self::Slide => "slide",
            Self::Loose => "loose",
            Self::Rattles => "rattles",
        }
    }
}
