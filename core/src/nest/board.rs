//! Sheets being filled, and the search for a part's best spot on one of them.

use super::block::Block;
use super::shape::Catalogue;
use super::spot::{Stretch, Sweep};
use super::stock::Stock;

/// A part that lies on a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Item {
    /// Index of the part.
    pub part: u32,
    /// Index of its outline and turn in the catalogue.
    pub shape: u32,
    /// Where the shape's zero stands from the room's, units.
    pub x: i32,
    /// The same along y.
    pub y: i32,
}

/// A sheet that is being filled.
#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    /// Index of its stock.
    pub stock: u32,
    /// What lies on it.
    pub items: Vec<Item>,
    /// Net area of what lies on it, mm².
    pub used: f64,
}

/// What makes one free spot better than another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Aim {
    /// Its upper edge lies lowest, then it lies farthest to the left.
    Low,
    /// It can slide least: it fills a gap of its own size.
    Snug,
}

/// How spots are looked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rule {
    /// What is best.
    pub aim: Aim,
    /// Whether the sheet is filled from its left edge on instead of from its lower edge.
    pub from_left: bool,
}

/// A free spot; the smaller rank is the better one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Spot {
    /// How good it is.
    pub rank: (i64, i64),
    /// Outline and turn.
    pub shape: u32,
    /// Where the shape's zero stands, units.
    pub x: i32,
    /// The same along y.
    pub y: i32,
}

/// The job in units, and the memory that the search reuses.
#[derive(Debug)]
pub struct Bench {
    /// Outlines.
    pub catalogue: Catalogue,
    /// Sheets at hand.
    pub stocks: Vec<Stock>,
    /// The sweep.
    pub sweep: Sweep,
}

impl Bench {
    /// The best spot of any turn of `part` on `board`.
    pub fn best_spot(&mut self, board: &Board, part: u32, rule: Rule) -> Option<Spot> {
        let kind = self.catalogue.kind_of[part as usize] as usize;
        let mut best: Option<Spot> = None;
        for turn in 0..self.catalogue.kinds[kind].shapes.len() {
            let shape = self.catalogue.kinds[kind].shapes[turn];
            let spot = self.spot_of_shape(board, shape, rule);
            best = match (best, spot) {
                (Some(b), Some(s)) if b.rank <= s.rank => Some(b),
                (b, s) => s.or(b),
            };
        }
        best
    }

    fn spot_of_shape(&mut self, board: &Board, shape: u32, rule: Rule) -> Option<Spot> {
        let stock = &self.stocks[board.stock as usize];
        let moving = &self.catalogue.shapes[shape as usize];
        let (mut x_max, mut y_max) = stock.reach(moving);
        if x_max < 0 || y_max < 0 {
            return None;
        }
        let height = if rule.from_left { moving.width } else { moving.height };
        self.gather_walls(board, shape, (x_max, y_max), rule.from_left);
        if rule.from_left {
            (x_max, y_max) = (y_max, x_max);
        }
        let found = match rule.aim {
            Aim::Low => self.lowest(x_max, y_max, height),
            Aim::Snug => self.snuggest(x_max, y_max),
        };
        found.map(|(rank, x, y)| {
            let (x, y) = if rule.from_left { (y, x) } else { (x, y) };
            Spot { rank, shape, x, y }
        })
    }

    /// Boxes on `board` that the zero of `shape` must keep out of, as far as they reach into the room.
    fn gather_walls(&mut self, board: &Board, shape: u32, (x_max, y_max): (i32, i32), swap: bool) {
        let walls = &mut self.sweep.walls;
        walls.clear();
        let shapes = &self.catalogue.shapes;
        let moving = &shapes[shape as usize].blocks;
        let mut add = |fixed: &[Block], dx: i32, dy: i32| {
            for f in fixed {
                for m in moving {
                    let w = m.keeps_from(f.moved(dx, dy));
                    if w.x1 > 0 && w.x0 < x_max && w.y1 > 0 && w.y0 < y_max {
                        walls.push(if swap { w.swapped() } else { w });
                    }
                }
            }
        };
        for (keep_out, x, y) in &self.stocks[board.stock as usize].keep_outs {
            add(&keep_out.blocks, *x, *y);
        }
        for item in &board.items {
            add(&shapes[item.shape as usize].blocks, item.x, item.y);
        }
        self.sweep.work += 2 * self.sweep.walls.len() as u64 + board.items.len() as u64;
    }

    fn lowest(&mut self, x_max: i32, y_max: i32, height: i32) -> Option<((i64, i64), i32, i32)> {
        let mut found = None;
        self.sweep.stretches(x_max, y_max, |_, s| {
            found = Some(((i64::from(s.y + height), i64::from(s.x0)), s.x0, s.y));
            false
        });
        found
    }

    fn snuggest(&mut self, x_max: i32, y_max: i32) -> Option<((i64, i64), i32, i32)> {
        let mut best: Option<((i64, i64), i32, i32)> = None;
        let mut looked = 0;
        self.sweep.stretches(x_max, y_max, |walls, s| {
            for x in [s.x0, s.x1] {
                let play = (i64::from(s.x1 - s.x0), i64::from(play_up(walls, x, s, y_max)));
                let rank = (play.0.min(play.1), play.0.max(play.1));
                looked += walls.len() as u64 / 4;
                if best.is_none_or(|b| rank < b.0) {
                    best = Some((rank, x, s.y));
                }
            }
            true
        });
        self.sweep.work += looked;
        best
    }
}

/// How far a zero at `x` can rise from the stretch before it meets a box.
fn play_up(walls: &[Block], x: i32, s: Stretch, y_max: i32) -> i32 {
    let above = walls.iter().filter(|w| w.y0 >= s.y && w.x0 < x && x < w.x1).map(|w| w.y0).min();
    above.unwrap_or(y_max).min(y_max) - s.y
}
