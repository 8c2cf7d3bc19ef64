//! The largest rectangle that a sheet keeps.

use super::block::{Block, ceil_units, floor_units, to_mm};
use super::board::{Bench, Board};
use super::types::{Offcut, Rules};

/// An upright rectangle in units.
pub type Rect = Block;

/// The largest upright rectangle within `0..=width`, `0..=height` that no box reaches into.
///
/// Each rectangle that cannot grow rests on the lower edge of the sheet or the upper edge of a box. From
/// each such height the boxes above are taken in order of their lower edges; each of them splits the
/// stretches that are still free.
pub fn largest_empty(boxes: &[Block], width: i32, height: i32) -> Rect {
    let mut by_y0: Vec<Block> = boxes.to_vec();
    by_y0.sort_unstable();
    let mut floors: Vec<i32> = by_y0.iter().map(|b| b.y1).filter(|y| (0..height).contains(y)).collect();
    floors.push(0);
    floors.sort_unstable();
    floors.dedup();
    let mut best = Rect { x0: 0, x1: 0, y0: 0, y1: 0 };
    for &floor in &floors {
        best = rise(&by_y0, floor, width, height, best);
    }
    best
}

fn area(r: &Rect) -> i64 {
    i64::from(r.x1 - r.x0) * i64::from(r.y1 - r.y0)
}

/// The largest rectangle that rests on `floor`, or `best` if that is larger.
fn rise(by_y0: &[Block], floor: i32, width: i32, height: i32, mut best: Rect) -> Rect {
    let mut free = vec![(0, width)];
    let mut note = |free: &[(i32, i32)], top: i32| {
        for &(x0, x1) in free {
            let r = Rect { x0, x1, y0: floor, y1: top };
            if area(&r) > area(&best) {
                best = r;
            }
        }
    };
    for b in by_y0.iter().filter(|b| b.y1 > floor) {
        let top = b.y0.max(floor).min(height);
        if free.iter().any(|&(x0, x1)| b.x0 < x1 && x0 < b.x1) {
            note(&free, top);
            free = split(&free, b);
            if free.is_empty() {
                return best;
            }
        }
    }
    note(&free, height);
    best
}

fn split(free: &[(i32, i32)], b: &Block) -> Vec<(i32, i32)> {
    free.iter().flat_map(|&(x0, x1)| [(x0, x1.min(b.x0)), (x0.max(b.x1), x1)]).filter(|(a, z)| a < z).collect()
}

impl Bench {
    /// The largest rectangle of a whole sheet, to its edges, that stays a gap away from all that lies on it;
    /// from the rough covers it comes out a little smaller, and much sooner.
    pub fn largest_offcut(&self, board: &Board, rules: &Rules, finely: bool) -> Offcut {
        let stock = &self.stocks[board.stock as usize];
        let margin = ceil_units(rules.margin_mm);
        let more = ceil_units(rules.gap_mm / 2.0);
        let away = |b: &Block, x: i32, y: i32| {
            let m = b.moved(x + margin, y + margin);
            Block { x0: m.x0 - more, x1: m.x1 + more, y0: m.y0 - more, y1: m.y1 + more }
        };
        let mut boxes: Vec<Block> = vec![];
        for item in &board.items {
            let shape = &self.catalogue.shapes[item.shape as usize];
            let blocks = if finely { &shape.blocks } else { &shape.rough };
            boxes.extend(blocks.iter().map(|b| away(b, item.x, item.y)));
        }
        for (shape, x, y) in &stock.keep_outs {
            boxes.extend(shape.blocks.iter().map(|b| away(b, *x, *y)));
        }
        let whole = |room: f64| floor_units(room + 2.0 * rules.margin_mm);
        let r = largest_empty(&boxes, whole(stock.room.x), whole(stock.room.y));
        Offcut { x_mm: to_mm(r.x0), y_mm: to_mm(r.y0), width_mm: to_mm(r.x1 - r.x0), height_mm: to_mm(r.y1 - r.y0) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_empty_sheet_is_its_own_offcut() {
        assert_eq!(largest_empty(&[], 30, 20), Rect { x0: 0, x1: 30, y0: 0, y1: 20 });
    }

    #[test]
    fn agrees_with_trying_every_rectangle() {
        let mut seed = 3_u64;
        let mut roll = |n: i32| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            ((seed >> 33) % n as u64) as i32
        };
        for _ in 0..100 {
            let boxes: Vec<Block> = (0..roll(6))
                .map(|_| {
                    let (x, y) = (roll(12) - 2, roll(12) - 2);
                    Block { x0: x, x1: x + 1 + roll(5), y0: y, y1: y + 1 + roll(5) }
                })
                .collect();
            let mut most = 0;
            for (x0, y0) in (0..10).flat_map(|x| (0..9).map(move |y| (x, y))) {
                for (x1, y1) in (x0 + 1..=10).flat_map(|x| (y0 + 1..=9).map(move |y| (x, y))) {
                    if !boxes.iter().any(|b| b.x0 < x1 && x0 < b.x1 && b.y0 < y1 && y0 < b.y1) {
                        most = most.max((x1 - x0) * (y1 - y0));
                    }
                }
            }
            assert_eq!(area(&largest_empty(&boxes, 10, 9)), i64::from(most), "{boxes:?}");
        }
    }
}
