//! The profile of a stock: what goes into the next spec, and how well it is known.

use crate::material::{FitsSpec, StockSpec};
use serde::Serialize;
use utoipa::ToSchema;

/// What readings made of a stock.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct StockProfile {
    /// The stock as it goes into the next spec's `stocks`.
    pub stock: StockSpec,
    /// The fits as they go into the next spec's `fits`.
    pub fits: FitsSpec,
    /// True thickness.
    pub thickness: Quantity,
    /// Full width of the burnt line.
    pub kerf: Quantity,
    /// How this shop's hand differs from the trade's words; none when no slot was tried.
    #[schema(nullable = false)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fit: Option<FitEstimate>,
    /// What each word means in this shop, for a square joint of this stock in itself.
    pub feels: Vec<FeelRow>,
}

/// One quantity with its spread.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct Quantity {
    /// How many readings it comes from.
    pub readings: usize,
    /// Mean of the readings, or what was taken for it.
    pub mean_mm: f64,
    /// Standard deviation: of the readings, given, or usual.
    pub sd_mm: f64,
    /// `readings` (Student's t), `given` or `usual` (both taken as known: normal).
    pub spread_from: &'static str,
    /// Where the true mean lies, 95 %; none where nothing was measured twice.
    #[schema(nullable = false, min_items = 2, max_items = 2)]
    #[serde(skip_serializing_if = "Option::is_none")]
    pub mean_interval_mm: Option<[f64; 2]>,
    /// Where the value at the next joint lies, 95 %.
    #[schema(min_items = 2, max_items = 2)]
    pub next_interval_mm: [f64; 2],
}

/// How this shop's hand differs from the trade's words.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct FitEstimate {
    /// Slots that were tried.
    pub answers: usize,
    /// What every word's millimetres are moved by: positive where this shop wants wider slots.
    pub shift_mm: f64,
    /// Where that lies, 95 %, with thickness and kerf in doubt as far as they are.
    #[schema(min_items = 2, max_items = 2)]
    pub shift_interval_mm: [f64; 2],
}

/// A word, and what to draw for it.
#[derive(Clone, Debug, PartialEq, Serialize, ToSchema)]
pub struct FeelRow {
    /// The word.
    pub feel: &'static str,
    /// Finished slot less what enters, in this shop.
    pub fit_mm: f64,
    /// Slot to draw.
    pub drawn_slot_mm: f64,
    /// Where the next joint's clearance lies, 95 %.
    #[schema(min_items = 2, max_items = 2)]
    pub next_clearance_mm: [f64; 2],
    /// Chance that the next joint closes and does not rattle.
    pub chance: f64,
}
