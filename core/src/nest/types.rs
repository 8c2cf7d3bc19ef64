//! What goes into a nest and what comes out of it.

use crate::geom::{Contour, Region};

/// How a part may be turned on the sheet. Parts are turned, never mirrored.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turns {
    /// The grain is fixed: as drawn, or by half a turn.
    Locked,
    /// By quarter turns.
    Free,
    /// By any multiple of this step, degrees; the best-looking few of them are tried.
    Fine(f64),
}

/// One part to be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct NestPart {
    /// The caller's number for the part; it comes back in [`Place::part`].
    pub id: usize,
    /// The drawn outline (what the beam follows), in the part's own frame, mm.
    pub region: Region,
    /// How it may be turned.
    pub turns: Turns,
}

/// One size of sheet or offcut that is at hand.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetSupply {
    /// The caller's number for the supply; it comes back in [`SheetLayout::supply`].
    pub id: usize,
    /// Size along x, mm.
    pub width_mm: f64,
    /// Size along y, mm.
    pub height_mm: f64,
    /// How many there are; `None` is as many as needed.
    pub count: Option<usize>,
    /// Places on each sheet of this supply that no part may touch (knots, screws, defects), in the
    /// sheet's frame with its zero at the lower left corner; parts stay `gap_mm` away from them.
    pub keep_outs: Vec<Contour>,
}

/// What every layout must keep.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rules {
    /// Smallest distance between two drawn outlines, mm.
    pub gap_mm: f64,
    /// Smallest distance from a drawn outline to the sheet's edge, mm.
    pub margin_mm: f64,
}

/// How long to look, in units of work: the same effort gives the same layout on any machine.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Effort {
    /// A first good layout: some tens of milliseconds for sixty parts.
    Quick,
    /// About a second of one core. Never worse than `Quick`.
    Normal,
    /// About ten seconds of one core. Never worse than `Normal`.
    Thorough,
}

/// Where one part lies: turn it about its own zero, then move it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// [`NestPart::id`].
    pub part: usize,
    /// Turn about the part's own zero, degrees, counter-clockwise.
    pub turn_deg: f64,
    /// Then the move along the sheet's x, mm.
    pub dx_mm: f64,
    /// Then the move along the sheet's y, mm.
    pub dy_mm: f64,
}

/// An upright rectangle of a sheet, mm.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct Offcut {
    /// Left edge.
    pub x_mm: f64,
    /// Lower edge.
    pub y_mm: f64,
    /// Size along x.
    pub width_mm: f64,
    /// Size along y.
    pub height_mm: f64,
}

impl Offcut {
    /// Its area, mm².
    #[must_use]
    pub fn area_mm2(&self) -> f64 {
        self.width_mm * self.height_mm
    }
}

/// One sheet with the parts on it.
#[derive(Clone, Debug, PartialEq)]
pub struct SheetLayout {
    /// [`SheetSupply::id`].
    pub supply: usize,
    /// Size along x, mm.
    pub width_mm: f64,
    /// Size along y, mm.
    pub height_mm: f64,
    /// The parts on it, in the order in which they were given.
    pub places: Vec<Place>,
    /// The largest rectangle that is left, `gap_mm` away from every part and keep-out; it may reach
    /// the sheet's own edges.
    pub largest_offcut: Offcut,
    /// Net area of the parts ÷ area of the sheet.
    pub utilisation: f64,
}

/// All parts on sheets; the emptiest sheet is the last.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Layout {
    /// The sheets that are used.
    pub sheets: Vec<SheetLayout>,
}
