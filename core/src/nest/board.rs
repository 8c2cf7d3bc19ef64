//! Sheets being filled, and the search for a part's best spot on one of them.

use super::block::Block;
use super::nofit::NoFits;
use super::shape::Catalogue;
use super::spot::{Standing, Stretch, Sweep};
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
    /// Whether a spot in another part's hole comes before any other.
    pub holes_first: bool,
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

/// Puts a rank before every plain one: more than any length in units.
const BEFORE_ALL: i64 = 1 << 40;

/// The job in units, and the memory that the search reuses.
#[derive(Debug)]
pub struct Bench {
    /// Outlines.
    pub catalogue: Catalogue,
    /// Sheets at hand.
    pub stocks: Vec<Stock>,
    /// The sweep.
    pub sweep: Sweep,
    /// Pairs of shapes worked out so far.
    pub no_fits: NoFits,
    /// Holes being looked at.
    pub windows: Vec<Block>,
    /// Free stretches of the spot being looked for.
    pub stretches: Vec<Stretch>,
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
        let moving = &self.catalogue.shapes[shape as usize];
        let (x_max, y_max) = self.stocks[board.stock as usize].reach(moving);
        if x_max < 0 || y_max < 0 {
            return None;
        }
        if rule.holes_first && self.catalogue.has_holes {
            let mut windows = std::mem::take(&mut self.windows);
            windows.clear();
            self.holes_for(board, shape, &mut windows);
            let best = windows.iter().filter_map(|w| self.spot_in(board, shape, *w, rule)).min_by_key(|s| s.rank);
            self.windows = windows;
            if let Some(mut spot) = best {
                spot.rank.0 -= BEFORE_ALL;
                return Some(spot);
            }
        }
        self.spot_in(board, shape, Block { x0: 0, x1: x_max, y0: 0, y1: y_max }, rule)
    }

    /// Where the zero of `shape` may roughly stand so that it lies in a hole of a part on the board.
    fn holes_for(&self, board: &Board, shape: u32, out: &mut Vec<Block>) {
        let moving = &self.catalogue.shapes[shape as usize];
        let (x_max, y_max) = self.stocks[board.stock as usize].reach(moving);
        for item in &board.items {
            for h in &self.catalogue.shapes[item.shape as usize].holes {
                let w = Block {
                    x0: (h.x0 + item.x).max(0),
                    x1: (h.x1 + item.x - moving.width).min(x_max),
                    y0: (h.y0 + item.y).max(0),
                    y1: (h.y1 + item.y - moving.height).min(y_max),
                };
                if w.x0 <= w.x1 && w.y0 <= w.y1 {
                    out.push(w);
                }
            }
        }
    }

    /// The best spot with the shape's zero within a window (borders included).
    fn spot_in(&mut self, board: &Board, shape: u32, window: Block, rule: Rule) -> Option<Spot> {
        let moving = &self.catalogue.shapes[shape as usize];
        let lying = rule.from_left;
        let window = if lying { window.swapped() } else { window };
        let height = if lying { moving.width } else { moving.height };
        self.gather(board, shape, window, lying);
        let reach = (window.x1 - window.x0, window.y1 - window.y0);
        let found = match rule.aim {
            Aim::Low => self.lowest(reach, height),
            Aim::Snug => self.snuggest(reach),
        };
        found.map(|(rank, x, y)| {
            let (x, y) = (x + window.x0, y + window.y0);
            let (x, y) = if lying { (y, x) } else { (x, y) };
            Spot { rank, shape, x, y }
        })
    }

    /// What the zero of `shape` must keep out of on `board`, as far as it reaches into the room.
    fn gather(&mut self, board: &Board, shape: u32, window: Block, lying: bool) {
        let Self { catalogue, stocks, sweep, no_fits, .. } = self;
        sweep.clear();
        no_fits.make_room();
        let shapes = &catalogue.shapes;
        let moving = &shapes[shape as usize];
        let reach = (window.x1 - window.x0, window.y1 - window.y0);
        let mut add_box = |w: Block| {
            let w = if lying { w.swapped() } else { w }.moved(-window.x0, -window.y0);
            if w.x1 > 0 && w.x0 < reach.0 && w.y1 > 0 && w.y0 < reach.1 {
                sweep.boxes.push(w);
            }
        };
        for (keep_out, x, y) in &stocks[board.stock as usize].keep_outs {
            for f in &keep_out.blocks {
                moving.blocks.iter().for_each(|m| add_box(m.keeps_from(f.moved(*x, *y))));
            }
        }
        for item in &board.items {
            let fixed = &shapes[item.shape as usize];
            if let ([m], [f]) = (&moving.blocks[..], &fixed.blocks[..]) {
                add_box(m.keeps_from(f.moved(item.x, item.y)));
                continue;
            }
            let (x, y) = if lying { (item.y, item.x) } else { (item.x, item.y) };
            let (x, y) = (x - window.x0, y - window.y0);
            let pair = no_fits.number((shape, moving), (item.shape, fixed), lying, &mut sweep.work);
            let no_fit = &no_fits.all[pair as usize];
            let (width, height) = (no_fit.width, no_fit.height());
            if width.1 + x > 0 && width.0 + x < reach.0 && height.1 + y > 0 && height.0 + y < reach.1 {
                sweep.shapes.push(Standing::new(pair, x, y));
            }
        }
        sweep.work += board.items.len() as u64;
    }

    fn lowest(&mut self, reach: (i32, i32), height: i32) -> Option<((i64, i64), i32, i32)> {
        let mut found = None;
        self.sweep.stretches(&self.no_fits.all, reach, |s| {
            found = Some(((i64::from(s.y + height), i64::from(s.x0)), s.x0, s.y));
            false
        });
        found
    }

    fn snuggest(&mut self, reach: (i32, i32)) -> Option<((i64, i64), i32, i32)> {
        let mut stretches = std::mem::take(&mut self.stretches);
        stretches.clear();
        self.sweep.stretches(&self.no_fits.all, reach, |s| {
            stretches.push(s);
            true
        });
        let mut best: Option<((i64, i64), i32, i32)> = None;
        for s in &stretches {
            for x in [s.x0, s.x1] {
                let along = i64::from(s.x1 - s.x0);
                let up = i64::from(self.sweep.play_up(&self.no_fits.all, x, s.y, reach.1));
                let rank = (along.min(up), along.max(up));
                if best.is_none_or(|b| rank < b.0) {
                    best = Some((rank, x, s.y));
                }
            }
        }
        self.stretches = stretches;
        best
    }
}
