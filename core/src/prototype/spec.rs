//! A prototype as received: the design, the board, and how much of it is made.

use crate::finding::{Finding, Verdict};
use crate::job::Request;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

crate::params! {
    /// The board that a prototype is cut from, by knife.
    pub struct BoardSpec {
        numbers {
            /// Caliper readings of its true thickness.
            readings_mm: optmany(0.5, 15.0, "mm"),
            /// How much narrower than the board is thick its slots are drawn: it is squeezed. What the material bears when left out.
            squeeze_mm: opt(0.0, 0.3, "mm"),
        }
        fields {
            /// A material of the closed list that a knife cuts.
            #[serde(default = "usual_board")]
            #[schema(default = "foam-board-5")]
            pub material: String,
            /// Width and height of a board, 50 to 3100 each; as large as the design's bed, and at least 600 × 400, when left out.
            #[serde(default, skip_serializing_if = "Option::is_none")]
            #[schema(value_type = Option<f64>, format = "pair", minimum = 50, maximum = 3100)]
            pub sheet_mm: Option<[f64; 2]>,
        }
    }
}

/// What people take for a prototype (common practice).
fn usual_board() -> String {
    "foam-board-5".to_owned()
}

impl Default for BoardSpec {
    fn default() -> Self {
        Self { readings_mm: None, squeeze_mm: None, material: usual_board(), sheet_mm: None }
    }
}

/// How much of the design is made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum CellsSpec {
    /// Every holder as it is.
    #[default]
    All,
    /// The most doubtful place and its nearest neighbour: enough to try angle, reach and lid.
    Doubtful,
}

/// A design that is to be tried in board before it is cut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PrototypeSpec {
    /// The design, as it would be posted to `/v1/holders`.
    pub design: Request,
    /// The board.
    #[serde(default)]
    pub board: BoardSpec,
    /// How much of the design is made.
    #[serde(default)]
    pub cells: CellsSpec,
    /// Which of the design's holders, counted from 0: all of them, or with `doubtful` the most doubtful one, when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schema(minimum = 0)]
    pub holder: Option<u32>,
    /// With `doubtful`: the id of the thing whose place is made; the most doubtful one when left out.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thing: Option<String>,
}

/// Where the board's own fields stand in what was received.
pub const BOARD_AT: &str = "/board";
/// Where the design stands in what was received.
pub const DESIGN_AT: &str = "/design";

impl PrototypeSpec {
    /// Every range of the board, and whether holder and thing exist.
    pub fn check(&self, out: &mut Vec<Finding>) {
        self.board.check(BOARD_AT, out);
        if let Some(h) = self.holder
            && h as usize >= self.design.holders.len()
        {
            out.push(
                Finding::new("unknown-holder", Verdict::Refuse, "/holder")
                    .have("holder", f64::from(h))
                    .need("holder_max", self.design.holders.len().saturating_sub(1))
                    .why(format!(
                        "The design has {} holders, counted from 0; there is no {h}.",
                        self.design.holders.len()
                    )),
            );
        }
        if let Some(id) = &self.thing
            && !self.design.things.iter().any(|t| t.id == *id)
        {
            let known: Vec<&str> = self.design.things.iter().map(|t| t.id.as_str()).collect();
            let shown: String = id.chars().take(crate::units::NAME_MAX_CHARS).collect();
            out.push(
                Finding::new("unknown-id", Verdict::Refuse, "/thing")
                    .have("id", shown.as_str())
                    .need("known_ids", known.join(", "))
                    .why(format!("No thing of the design is called \"{shown}\".")),
            );
        }
    }
}
