//! From boards in units to a layout in millimetres.

use super::block::to_mm;
use super::board::{Bench, Board, Item};
use super::build::NoLayout;
use super::fault::NestFault;
use super::types::{Layout, NestPart, Place, Rules, SheetLayout, SheetSupply};
use crate::geom::DVec2;

/// The layout that the boards stand for, the emptiest sheet last.
pub fn write(bench: &Bench, parts: &[NestPart], sheets: &[SheetSupply], rules: &Rules, boards: &[Board]) -> Layout {
    let mut sorted: Vec<&Board> = boards.iter().filter(|b| !b.items.is_empty()).collect();
    sorted.sort_by(|a, b| bench.room_left(a).total_cmp(&bench.room_left(b)));
    Layout { sheets: sorted.into_iter().map(|b| write_sheet(bench, parts, sheets, rules, b)).collect() }
}

fn write_sheet(bench: &Bench, parts: &[NestPart], sheets: &[SheetSupply], rules: &Rules, board: &Board) -> SheetLayout {
    let supply = &sheets[board.stock as usize];
    let mut items = board.items.clone();
    items.sort_by_key(|i| i.part);
    SheetLayout {
        supply: supply.id,
        width_mm: supply.width_mm,
        height_mm: supply.height_mm,
        places: items.iter().map(|i| place(bench, parts, rules, i)).collect(),
        largest_offcut: bench.largest_offcut(board, rules, true),
        utilisation: board.used / bench.stocks[board.stock as usize].area,
    }
}

fn place(bench: &Bench, parts: &[NestPart], rules: &Rules, item: &Item) -> Place {
    let shape = &bench.catalogue.shapes[item.shape as usize];
    let d = DVec2::new(to_mm(item.x), to_mm(item.y)) + DVec2::splat(rules.margin_mm) - shape.corner;
    Place { part: parts[item.part as usize].id, turn_deg: shape.turn_deg, dx_mm: d.x, dy_mm: d.y }
}

/// Says in the caller's numbers why there is no layout.
pub fn name_fault(bench: &Bench, parts: &[NestPart], none: NoLayout) -> NestFault {
    let id = |p: &u32| parts[*p as usize].id;
    match none {
        NoLayout::Stopped => NestFault::Stopped,
        NoLayout::Blocked(list) => NestFault::Blocked { parts: list.iter().map(id).collect() },
        NoLayout::LeftOver { sheets, parts: list } => NestFault::SheetsRunOut {
            sheets,
            left: list.iter().map(id).collect(),
            left_area_mm2: list.iter().map(|&p| bench.area_of(p)).sum(),
        },
    }
}
