//! First layouts: parts in a fixed order, each to the best spot of the first sheet that takes it.

use super::board::{Aim, Bench, Board, Item, Rule};
use super::dice::Dice;
use super::open::{OPEN_SHEETS, OpenSheets};
use super::stock::Stock;
use super::types::Rules;

/// Work that first tries may cost before no further one is begun: at sixty parts all of them, at a thousand
/// two or three. The second number is for each part.
const TRIES_WORK: (u64, u64) = (2_000_000, 30_000);

/// What sorts the parts, largest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SortBy {
    /// Area of the bounds.
    Area,
    /// Longer side.
    LongSide,
    /// Shorter side.
    ShortSide,
    /// Sum of the sides.
    Girth,
}

/// Why there is no first layout; parts by index.
#[derive(Clone, Debug, PartialEq)]
pub enum NoLayout {
    /// The caller said stop.
    Stopped,
    /// Keep-outs leave these no spot even on an empty sheet.
    Blocked(Vec<u32>),
    /// The sheets ran out.
    LeftOver {
        /// Sheets filled.
        sheets: usize,
        /// What is left.
        parts: Vec<u32>,
    },
}

impl Bench {
    /// The parts in an order, largest first.
    fn sorted(&self, parts: impl Iterator<Item = u32>, by: SortBy) -> Vec<u32> {
        let mut keyed: Vec<(u64, u32)> = parts.map(|p| (u64::MAX - self.sort_key(p, by), p)).collect();
        keyed.sort_unstable();
        keyed.into_iter().map(|(_, p)| p).collect()
    }

    fn sort_key(&self, part: u32, by: SortBy) -> u64 {
        let kind = &self.catalogue.kinds[self.catalogue.kind_of[part as usize] as usize];
        let Some(&first) = kind.shapes.first() else { return 0 };
        let shape = &self.catalogue.shapes[first as usize];
        let (w, h) = (shape.width as u64, shape.height as u64);
        match by {
            SortBy::Area => w * h,
            SortBy::LongSide => (w.max(h) << 30) + w.min(h),
            SortBy::ShortSide => (w.min(h) << 30) + w.max(h),
            SortBy::Girth => w + h,
        }
    }

    /// Puts the parts down one after the other.
    pub fn build(&mut self, order: &[u32], rule: Rule) -> Result<Vec<Board>, NoLayout> {
        let mut boards: Vec<Board> = vec![];
        let mut open = OpenSheets::default();
        let mut taken = vec![0_usize; self.stocks.len()];
        let mut left = vec![];
        for &part in order {
            if self.put_on_open(&mut boards, &mut open, part, rule) {
                continue;
            }
            match self.fresh_board(&mut taken, part, rule) {
                Some(board) => {
                    boards.push(board);
                    open.open(boards.len() - 1, |b| self.room_left(&boards[b]));
                }
                None => left.push(part),
            }
        }
        if left.is_empty() { Ok(boards) } else { Err(self.why_left(boards.len(), left, rule)) }
    }

    /// All of these parts on one new board of a stock, if one of the first tries gets them there.
    pub fn pack_one(&mut self, stock: u32, parts: &[u32]) -> Option<Board> {
        for (sort, rule) in first_tries() {
            let mut board = Board { stock, items: vec![], used: 0.0 };
            let order = self.sorted(parts.iter().copied(), sort);
            if order.iter().all(|&p| self.put(&mut board, p, rule)) {
                return Some(board);
            }
        }
        None
    }

    /// The boards with some or all of what lies on `last` taken off and laid anew, first on the other
    /// boards; nothing when it does not all find a spot.
    pub fn relay(&mut self, boards: &[Board], last: usize, dice: &mut Dice) -> Option<Vec<Board>> {
        let mut boards = boards.to_vec();
        let from_left = dice.below(2) == 0;
        let aim = if dice.below(3) == 0 { Aim::Snug } else { Aim::Low };
        let rule = Rule { aim, from_left, holes_first: true };
        let all = boards[last].items.len();
        let off = if dice.below(2) == 0 { all } else { 1 + dice.below(all.max(1)) };
        let mut parts = vec![];
        for _ in 0..off.min(all) {
            let at = dice.below(boards[last].items.len());
            let item = boards[last].items.swap_remove(at);
            boards[last].used -= self.area_of(item.part);
            parts.push(item.part);
        }
        let mut keyed: Vec<(f64, u32)> =
            parts.into_iter().map(|p| (self.weight(p) * (1.0 - dice.share() * dice.share()), p)).collect();
        keyed.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
        let others: Vec<usize> = (0..boards.len().min(OPEN_SHEETS)).filter(|&b| b != last).collect();
        for (_, part) in keyed {
            if !self.put_on_any(&mut boards, &others, part, rule) && !self.put(&mut boards[last], part, rule) {
                return None;
            }
        }
        boards.retain(|b| !b.items.is_empty());
        Some(boards)
    }

    /// How hard a part is to place: the area of its bounds, mm².
    pub fn weight(&self, part: u32) -> f64 {
        let kind = &self.catalogue.kinds[self.catalogue.kind_of[part as usize] as usize];
        kind.shapes.first().map_or(0.0, |&s| {
            let size = self.catalogue.shapes[s as usize].size;
            size.x * size.y
        })
    }

    /// Sheets that the parts need by area alone, gaps included.
    pub fn least_sheets(&self) -> usize {
        let area = |s: &u32| {
            let blocks = &self.catalogue.shapes[*s as usize].blocks;
            blocks.iter().map(|b| f64::from(b.x1 - b.x0) * f64::from(b.y1 - b.y0)).sum::<f64>()
        };
        let cover = |k: &u32| {
            let kind = &self.catalogue.kinds[*k as usize];
            kind.shapes.iter().map(area).fold(f64::INFINITY, f64::min)
        };
        let all: f64 = self.catalogue.kind_of.iter().map(cover).sum();
        let largest = self.stocks.iter().map(Stock::grown_room).fold(0.0, f64::max);
        if all > 0.0 { (all / largest - 1e-9).ceil() as usize } else { 0 }
    }

    fn why_left(&mut self, sheets: usize, parts: Vec<u32>, rule: Rule) -> NoLayout {
        let empty = |s: usize| Board { stock: s as u32, items: vec![], used: 0.0 };
        let stocks = self.stocks.len();
        let blocked: Vec<u32> = parts
            .iter()
            .copied()
            .filter(|&p| !(0..stocks).any(|s| self.best_spot(&empty(s), p, rule).is_some()))
            .collect();
        if blocked.is_empty() { NoLayout::LeftOver { sheets, parts } } else { NoLayout::Blocked(blocked) }
    }

    /// The best of the first tries.
    pub fn first_layout(&mut self, rules: &Rules, stop: &dyn Fn() -> bool) -> Result<Vec<Board>, NoLayout> {
        let mut best: Result<Vec<Board>, NoLayout> = Err(NoLayout::Stopped);
        let mut best_rank = None;
        let enough = TRIES_WORK.0 + TRIES_WORK.1 * self.catalogue.kind_of.len() as u64;
        for (sort, rule) in first_tries() {
            if stop() || best.is_ok() && self.sweep.work > enough {
                break;
            }
            let order = self.sorted(0..self.catalogue.kind_of.len() as u32, sort);
            match self.build(&order, rule) {
                Ok(boards) => {
                    let rank = self.rank(&boards, rules, false);
                    if best_rank.is_none_or(|b| rank < b) {
                        (best, best_rank) = (Ok(boards), Some(rank));
                    }
                }
                Err(e) if best.is_err() => best = Err(e),
                Err(_) => {}
            }
        }
        best
    }

    /// What is compared: sheets, then their area, then the largest offcut of the emptiest; less is better.
    pub fn rank(&self, boards: &[Board], rules: &Rules, finely: bool) -> (usize, f64, f64) {
        let area = boards.iter().map(|b| self.stocks[b.stock as usize].area).sum();
        let emptiest = boards.iter().max_by(|a, b| self.room_left(a).total_cmp(&self.room_left(b)));
        let offcut = emptiest.map_or(0.0, |b| self.largest_offcut(b, rules, finely).area_mm2());
        (boards.len(), area, -offcut)
    }

    fn put_on_open(&mut self, boards: &mut [Board], open: &mut OpenSheets, part: u32, rule: Rule) -> bool {
        let mut from = 0;
        while let Some((at, board)) = open.next(from) {
            if self.room_left(&boards[board]) >= self.area_of(part) {
                let took_it = self.put(&mut boards[board], part, rule);
                open.note(at, took_it);
                if took_it {
                    return true;
                }
            }
            from = at + 1;
        }
        false
    }

    fn put_on_any(&mut self, boards: &mut [Board], of: &[usize], part: u32, rule: Rule) -> bool {
        of.iter().any(|&b| self.room_left(&boards[b]) >= self.area_of(part) && self.put(&mut boards[b], part, rule))
    }

    /// Puts a part on a board if it has a spot there.
    pub fn put(&mut self, board: &mut Board, part: u32, rule: Rule) -> bool {
        let Some(spot) = self.best_spot(board, part, rule) else { return false };
        board.items.push(Item { part, shape: spot.shape, x: spot.x, y: spot.y });
        board.used += self.area_of(part);
        true
    }

    /// A new board with the part on it, from the largest stock that is left and takes it.
    fn fresh_board(&mut self, taken: &mut [usize], part: u32, rule: Rule) -> Option<Board> {
        let mut by_size: Vec<usize> = (0..self.stocks.len()).filter(|&s| taken[s] < self.stocks[s].count).collect();
        by_size.sort_by(|&a, &b| self.stocks[b].area.total_cmp(&self.stocks[a].area));
        for s in by_size {
            let mut board = Board { stock: s as u32, items: vec![], used: 0.0 };
            if self.put(&mut board, part, rule) {
                taken[s] += 1;
                return Some(board);
            }
        }
        None
    }

    /// Net area of one part, mm².
    pub fn area_of(&self, part: u32) -> f64 {
        self.catalogue.kinds[self.catalogue.kind_of[part as usize] as usize].area
    }

    /// Area of a board's room that no part covers, mm².
    pub fn room_left(&self, board: &Board) -> f64 {
        let room = self.stocks[board.stock as usize].room;
        room.x * room.y - board.used
    }
}

/// The ways in which a first layout is tried.
pub fn first_tries() -> impl Iterator<Item = (SortBy, Rule)> {
    let sorts = [SortBy::Area, SortBy::LongSide, SortBy::ShortSide, SortBy::Girth];
    let aims = [Aim::Low, Aim::Snug];
    sorts.into_iter().flat_map(move |sort| {
        aims.into_iter().flat_map(move |aim| {
            [false, true].into_iter().map(move |from_left| (sort, Rule { aim, from_left, holes_first: true }))
        })
    })
}
