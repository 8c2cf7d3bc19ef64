//! Why there is no layout, with the numbers.

use std::fmt;

/// A part that no sheet at hand can take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TooLarge {
    /// [`super::NestPart::id`].
    pub part: usize,
    /// Its size along x in the turn that comes nearest to fitting, mm.
    pub width_mm: f64,
    /// Its size along y in that turn, mm.
    pub height_mm: f64,
    /// Room within the margins of the supply it was compared with, along x, mm.
    pub room_width_mm: f64,
    /// The same along y, mm.
    pub room_height_mm: f64,
}

impl TooLarge {
    /// By how much it is too large in the worse direction, mm.
    #[must_use]
    pub fn over_mm(&self) -> f64 {
        (self.width_mm - self.room_width_mm).max(self.height_mm - self.room_height_mm)
    }
}

/// Why there is no layout.
#[derive(Clone, Debug, PartialEq)]
pub enum NestFault {
    /// A number is not finite, negative, or beyond what a sheet can be.
    BadNumber {
        /// Which number.
        field: &'static str,
        /// Its value.
        value: f64,
        /// Largest value that is accepted.
        max: f64,
    },
    /// These parts have no outline with an area, or a coordinate that is not finite.
    BadOutline {
        /// [`super::NestPart::id`] of each.
        parts: Vec<usize>,
    },
    /// There are parts but no sheet at all.
    NoSheets,
    /// The margins leave no room on a sheet.
    NoRoom {
        /// [`super::SheetSupply::id`].
        supply: usize,
        /// Size of the sheet along x, mm.
        width_mm: f64,
        /// Size along y, mm.
        height_mm: f64,
        /// The margin asked for, mm.
        margin_mm: f64,
    },
    /// These parts are larger than the room within the margins of every supply.
    TooLarge(Vec<TooLarge>),
    /// These parts would fit by size, but the keep-outs of every empty sheet are in the way.
    Blocked {
        /// [`super::NestPart::id`] of each.
        parts: Vec<usize>,
    },
    /// The sheets at hand run out.
    SheetsRunOut {
        /// How many sheets were filled.
        sheets: usize,
        /// [`super::NestPart::id`] of each part that is left.
        left: Vec<usize>,
        /// Their net area, mm².
        left_area_mm2: f64,
    },
    /// The caller stopped before there was a first layout.
    Stopped,
}

impl fmt::Display for NestFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::BadNumber { field, value, max } => {
                write!(f, "{field} is {value}; it must be a number from 0 to {max}")
            }
            Self::BadOutline { parts } => write!(f, "parts {parts:?} have no outline that encloses an area"),
            Self::NoSheets => write!(f, "there is no sheet to cut from"),
            Self::NoRoom { supply, width_mm, height_mm, margin_mm } => write!(
                f,
                "a margin of {margin_mm} mm leaves no room on sheet {supply} of {width_mm} × {height_mm} mm; \
                 it must be less than {} mm",
                width_mm.min(*height_mm) / 2.0
            ),
            Self::TooLarge(list) => {
                write!(f, "too large for every sheet:")?;
                for t in list {
                    write!(
                        f,
                        " part {} is {:.3} × {:.3} mm, the room within the margins {:.3} × {:.3} mm: {:.3} mm too much;",
                        t.part,
                        t.width_mm,
                        t.height_mm,
                        t.room_width_mm,
                        t.room_height_mm,
                        t.over_mm()
                    )?;
                }
                Ok(())
            }
            Self::Blocked { parts } => {
                write!(f, "parts {parts:?} fit by size, but keep-outs are in the way on every empty sheet")
            }
            Self::SheetsRunOut { sheets, left, left_area_mm2 } => write!(
                f,
                "all {sheets} sheets are full; parts {left:?} with an area of {left_area_mm2:.0} mm² are left over"
            ),
            Self::Stopped => write!(f, "stopped before there was a first layout"),
        }
    }
}

impl std::error::Error for NestFault {}
