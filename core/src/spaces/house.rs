//! House values of the trade for spaces: what is warned about, what is refused. Common practice, no source.

use crate::units::Band;

const NONE: f64 = f64::INFINITY;

/// Clearance at each side in a drawer or on a shelf.
pub(super) const SIDE: Band = Band {
    code: "side-clearance",
    key: "side_clearance_mm",
    unit: "mm",
    refuse_below: 0.3,
    warn_below: 0.7,
    warn_above: 2.0,
    refuse_above: NONE,
    good: 1.0,
    why: "With less the holder jams, and cannot be lifted out to be cleaned; with more it slides about when the drawer is slammed, and wants a filler.",
};

/// Clearance at each side in a case.
pub(super) const CASE_SIDE: Band = Band {
    refuse_below: 0.5,
    warn_below: 1.0,
    warn_above: NONE,
    good: 1.5,
    why: "Moulded walls are never as true as their measures: with less the holder wedges between them.",
    ..SIDE
};

/// Clearance above a holder, under a drawer's rail or a shelf.
pub(super) const TOP: Band = Band {
    code: "top-clearance",
    key: "top_clearance_mm",
    unit: "mm",
    refuse_below: 1.5,
    warn_below: 3.0,
    warn_above: NONE,
    refuse_above: NONE,
    good: 4.0,
    why: "Things ride up by 1 to 2 mm when a drawer jolts: what stands up behind the rail keeps it shut.",
};

/// Clearance under a lid.
pub(super) const LID_ABOVE: Band = Band {
    code: "lid-clearance",
    key: "clearance_mm",
    unit: "mm",
    refuse_below: 0.5,
    warn_below: 1.5,
    warn_above: NONE,
    refuse_above: NONE,
    good: 3.0,
    why: "Lids bow and are pressed down: what touches them is pushed over or breaks the latch.",
};

/// Clearance beside a lid as it swings.
pub(super) const LID_BESIDE: Band = Band { key: "side_clearance_mm", good: 1.5, ..LID_ABOVE };

/// How far a drawer is out of square.
pub(super) const SKEW: Band = Band {
    code: "drawer-skewed",
    key: "skew_deg",
    unit: "°",
    refuse_below: f64::NEG_INFINITY,
    warn_below: f64::NEG_INFINITY,
    warn_above: 0.2,
    refuse_above: 1.0,
    good: 0.0,
    why: "",
};

/// A slammed drawer carries half of what its slides are printed for.
pub(super) const SLAMMED_SHARE: f64 = 0.5;

/// Up to this deceleration a drawer counts as one with a gentle closer (0.4 m/s in 60 mm is 0.14 g).
pub(super) const GENTLE_G: f64 = 0.2;

/// A space that leaves less than this to each side, or to the height, holds no holder.
pub(super) const LEAST_SIDE_MM: f64 = 20.0;
/// The same for the height: a floor and something on it.
pub(super) const LEAST_HEIGHT_MM: f64 = 5.0;

/// Readings of one inside dimension that differ by more than this are looked at twice: walls bow, but
/// not so much. The larger of both counts.
pub(super) const BOW_MM: f64 = 3.0;
/// The same, as a share of the smallest reading.
pub(super) const BOW_SHARE: f64 = 0.01;
/// Beyond this share it is a slip of the pen.
pub(super) const SLIP_SHARE: f64 = 0.10;
