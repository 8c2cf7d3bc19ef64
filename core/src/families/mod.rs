//! Families of holders: one file a family, one line in the list below.
//!
//! A family reads its own spec, looks at the things and at the room it is offered, and places panels
//! and things in space. It never writes the coordinates of a finger, tab, slot or opening.
//!
//! May import: every room above.

mod boxes;
mod common;
pub mod case_liner;
pub mod compartments;
mod context;
mod deck_plan;
pub mod deck_rack;
mod lean_boards;
mod lean_choice;
mod lean_plan;
pub mod lean_rack;
mod lean_rows;
mod rows;
mod side_view;

pub use boxes::{Shell, ShellPlan};
pub use context::{Context, Room, Wanted};

use crate::assembly::Assembly;
use crate::finding::Finding;

/// What a family tells about itself.
#[derive(Clone, Copy)]
pub struct About {
    /// Its tag in a request.
    pub tag: &'static str,
    /// What it is, in a few words.
    pub title: &'static str,
    /// What it is for and how it holds, in a sentence or two.
    pub what: &'static str,
    /// A request that works, set in a bicycle workshop.
    pub example: fn() -> serde_json::Value,
    /// Its numbers with their ranges.
    pub rows: &'static [crate::units::Row],
}

/// By how much the board of a prototype is thicker than the sheets it stands for, mm; negative where it
/// is thinner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Thicker {
    /// Outer panels.
    pub panels_mm: f64,
    /// What stands or lies inside.
    pub inner_mm: f64,
}

/// What a family has to be able to do; `spec` is its own received struct.
pub trait Family {
    /// The outer size that it takes of the room it is offered: width, depth, height in mm. Called
    /// before it is placed; faults are reported by `build`.
    fn size(&self, cx: &Context) -> Room;
    /// Itself with every size and angle that it decides written out, so that it decides the same again
    /// in board that is `thicker`; what is given from inside shrinks, so that the outside stays.
    fn in_board(&self, cx: &Context, thicker: Thicker) -> HolderSpec;
    /// A smaller one that has two of its places side by side, as they are here, for the thing of this
    /// id; `None` where it cannot be had in part.
    fn sample(&self, cx: &Context, thing: Option<&str>) -> Option<HolderSpec>;
    /// Places panels and things; `None` when a fault (in `out`) leaves nothing to place.
    fn build(&self, cx: &Context, out: &mut Vec<Finding>) -> Option<Assembly>;
}

/// The list: module, variant and tag of each family.
macro_rules! families {
    ($( $(#[$doc:meta])* $tag:literal => $variant:ident in $module:ident ),* $(,)?) => {
        crate::tagged! {
            /// One holder as received: its family and what that family wants to know.
            "family": pub enum HolderSpec { $( $(#[$doc])* $tag => $variant($module::$variant) ),* }
        }
        impl HolderSpec {
            /// The family's own side of it.
            #[must_use]
            pub fn family(&self) -> &dyn Family {
                match self { $(Self::$variant(spec) => spec),* }
            }
            /// What every holder may say, whichever its family.
            #[must_use]
            pub fn common(&self) -> common::Common<'_> {
                match self { $(Self::$variant(spec) => spec.common()),* }
            }
        }
        /// All families, in the order in which they are listed to people.
        pub const ALL: &[About] = &[$($module::ABOUT),*];
    };
}

families! {
    /// Compartments for loose parts: a tray with dividers.
    "compartments" => Compartments in compartments,
    /// Upright things in the openings of a deck.
    "deck-rack" => DeckRack in deck_rack,
    /// Liner that follows a case's sloping walls.
    "case-liner" => CaseLiner in case_liner,
    /// Rows of bottles or tubes leaning nose up.
    "lean-rack" => LeanRack in lean_rack,
}

pub use common::Common;

#[cfg(test)]
mod boxes_tests;
#[cfg(test)]
mod lean_rack_tests;
