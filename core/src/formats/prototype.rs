//! The report's part on a prototype: what it is, what it proves, and what it does not.

use super::numbers::mm;
use crate::prototype::{CellNote, Note, OutsideNote, Softened};
use serde::Serialize;

/// As it stands in report.json.
#[derive(Serialize)]
pub struct Entry<'a> {
    board: &'a str,
    thickness_mm: f64,
    /// A slot square to what enters it.
    square_slot_mm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    narrowest_slot_mm: Option<Both<f64>>,
    made: &'a str,
    proves: &'a [String],
    does_not_prove: &'a [String],
    things_higher_mm: f64,
    outsides: Vec<Outside<'a>>,
    cells: Vec<Cell<'a>>,
    /// Checks that refused and say nothing about board.
    softened: Vec<SoftenedEntry<'a>>,
}

#[derive(Serialize)]
struct Both<T> {
    design: T,
    board: T,
}

#[derive(Serialize)]
struct Outside<'a> {
    holder: &'a str,
    size_mm: Both<[f64; 3]>,
}

#[derive(Serialize)]
struct Cell<'a> {
    holder: &'a str,
    cell: usize,
    clear_mm: Both<[f64; 2]>,
    narrower_mm: f64,
    shallower_mm: f64,
}

#[derive(Serialize)]
struct SoftenedEntry<'a> {
    check: &'a str,
    code: &'a str,
    #[serde(rename = "where")]
    place: &'a str,
    reason: &'a str,
}

/// The entry of a note.
pub fn entry(note: &Note) -> Entry<'_> {
    let slots = note.narrowest_slot_design_mm.zip(note.narrowest_slot_board_mm);
    Entry {
        board: &note.board,
        thickness_mm: mm(note.thickness_mm),
        square_slot_mm: mm(note.square_slot_mm),
        narrowest_slot_mm: slots.map(|(design, board)| Both { design: mm(design), board: mm(board) }),
        made: &note.made,
        proves: &note.proves,
        does_not_prove: &note.does_not_prove,
        things_higher_mm: mm(note.things_higher_mm),
        outsides: note.outsides.iter().map(outside).collect(),
        cells: note.cells.iter().map(cell).collect(),
        softened: note.softened.iter().map(softened).collect(),
    }
}

fn outside(o: &OutsideNote) -> Outside<'_> {
    Outside { holder: &o.holder, size_mm: Both { design: o.design_mm.map(mm), board: o.board_mm.map(mm) } }
}

fn cell(c: &CellNote) -> Cell<'_> {
    Cell {
        holder: &c.holder,
        cell: c.cell,
        clear_mm: Both { design: c.design_mm.map(mm), board: c.board_mm.map(mm) },
        narrower_mm: mm(c.design_mm[0] - c.board_mm[0]),
        shallower_mm: mm(c.design_mm[1] - c.board_mm[1]),
    }
}

fn softened(s: &Softened) -> SoftenedEntry<'_> {
    SoftenedEntry { check: s.check, code: s.code, place: &s.place, reason: s.reason }
}
