//! Where a part can stand on a sheet: a sweep over what its zero must keep out of.
//!
//! The free positions of a part are what is left of a rectangle after open shapes are taken away. A
//! position that cannot slide down rests on an upper edge of one of them, so only those heights are
//! looked at. At each of them what is taken is merged from left to right; what lies between are the free
//! stretches. Exact in both directions, and the cost does not depend on the size of the sheet.

use super::block::Block;
use super::nofit::NoFit;
use super::slabs::Span;

/// A free stretch of one height: the part's zero may stand at `y` and anywhere from `x0` to `x1`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// Height.
    pub y: i32,
    /// Left end, included.
    pub x0: i32,
    /// Right end, included.
    pub x1: i32,
}

/// A worked-out pair where it stands.
#[derive(Clone, Copy, Debug)]
pub struct Standing {
    /// Number of the pair.
    pub pair: u32,
    /// Where the fixed shape's zero stands.
    pub x: i32,
    /// The same along y.
    pub y: i32,
    /// Level reached by the sweep.
    level: u32,
}

impl Standing {
    /// A pair with its fixed shape at a place.
    pub fn new(pair: u32, x: i32, y: i32) -> Self {
        Self { pair, x, y, level: 0 }
    }
}

/// Reusable memory of the sweep, and the count of what it did.
#[derive(Debug, Default)]
pub struct Sweep {
    /// Boxes that the part's zero must keep out of; the caller fills it.
    pub boxes: Vec<Block>,
    /// Worked-out pairs that it must keep out of; the caller fills it.
    pub shapes: Vec<Standing>,
    heights: Vec<i32>,
    taken: Vec<Span>,
    /// Units of work done so far: about the things touched.
    pub work: u64,
}

impl Sweep {
    /// Forgets what is in the way.
    pub fn clear(&mut self) {
        self.boxes.clear();
        self.shapes.clear();
    }

    /// Calls `found` for each free stretch within `0..=x_max`, `0..=y_max`, from the lowest upwards and
    /// from left to right, until it returns `false`.
    pub fn stretches(&mut self, pairs: &[NoFit], (x_max, y_max): (i32, i32), mut found: impl FnMut(Stretch) -> bool) {
        if x_max < 0 || y_max < 0 {
            return;
        }
        self.collect_heights(pairs, y_max);
        let Self { boxes, shapes, heights, taken, work } = self;
        for &y in heights.iter() {
            taken.clear();
            taken.extend(boxes.iter().filter(|b| b.y0 < y && y < b.y1).map(|b| (b.x0, b.x1)));
            for s in shapes.iter_mut() {
                let no_fit = &pairs[s.pair as usize];
                taken.extend(no_fit.taken_at(y - s.y, &mut s.level).iter().map(|t| (t.0 + s.x, t.1 + s.x)));
            }
            *work += 4 + (boxes.len() / 4 + shapes.len() + taken.len()) as u64;
            taken.sort_unstable();
            let mut x = 0;
            for &(x0, x1) in taken.iter() {
                if x0 > x_max {
                    break;
                }
                if x0 >= x && !found(Stretch { y, x0: x, x1: x0 }) {
                    return;
                }
                x = x.max(x1);
            }
            if x <= x_max && !found(Stretch { y, x0: x, x1: x_max }) {
                return;
            }
        }
    }

    fn collect_heights(&mut self, pairs: &[NoFit], y_max: i32) {
        let Self { boxes, shapes, heights, work, .. } = self;
        heights.clear();
        heights.push(0);
        heights.extend(boxes.iter().map(|w| w.y1).filter(|y| (1..=y_max).contains(y)));
        for s in shapes.iter() {
            heights.extend(pairs[s.pair as usize].lids.iter().map(|l| l + s.y).filter(|y| (1..=y_max).contains(y)));
        }
        heights.sort_unstable();
        heights.dedup();
        *work += 2 * heights.len() as u64;
    }

    /// How far a zero at `x` can rise from `y` before it meets something, at most to `y_max`.
    pub fn play_up(&mut self, pairs: &[NoFit], x: i32, y: i32, y_max: i32) -> i32 {
        let above = self.boxes.iter().filter(|w| w.y0 >= y && w.x0 < x && x < w.x1).map(|w| w.y0);
        let mut top = above.min().unwrap_or(y_max).min(y_max);
        for s in &self.shapes {
            let no_fit = &pairs[s.pair as usize];
            if let Some(t) = no_fit.next_above(x - s.x, y - s.y) {
                top = top.min(t + s.y);
            }
        }
        self.work += 4 + (self.boxes.len() / 4 + 2 * self.shapes.len()) as u64;
        top - y
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nest::slabs::stack_of;

    fn sweep_all(s: &mut Sweep, pairs: &[NoFit], x_max: i32, y_max: i32) -> Vec<Stretch> {
        let mut out = vec![];
        s.stretches(pairs, (x_max, y_max), |f| {
            out.push(f);
            true
        });
        out
    }
    fn all(walls: &[Block], x_max: i32, y_max: i32) -> Vec<Stretch> {
        sweep_all(&mut Sweep { boxes: walls.to_vec(), ..Sweep::default() }, &[], x_max, y_max)
    }
    fn b(x0: i32, x1: i32, y0: i32, y1: i32) -> Block {
        Block { x0, x1, y0, y1 }
    }

    #[test]
    fn nothing_in_the_way_gives_the_whole_lowest_line() {
        assert_eq!(all(&[], 10, 5), [Stretch { y: 0, x0: 0, x1: 10 }]);
        assert!(all(&[], -1, 5).is_empty());
    }

    #[test]
    fn a_slot_of_exactly_the_right_width_is_found() {
        // open boxes: their common border line is free, a true overlap of one unit is not
        let tight = all(&[b(-5, 4, -5, 9), b(4, 20, -5, 9)], 10, 5);
        assert_eq!(tight, [Stretch { y: 0, x0: 4, x1: 4 }]);
        assert!(all(&[b(-5, 5, -5, 9), b(4, 20, -5, 9)], 10, 5).is_empty());
    }

    fn random_walls(roll: &mut impl FnMut(i32) -> i32) -> Vec<Block> {
        (0..roll(9))
            .map(|_| {
                let (x, y) = (roll(20) - 5, roll(20) - 5);
                b(x, x + 1 + roll(9), y, y + 1 + roll(9))
            })
            .collect()
    }
    fn dice() -> impl FnMut(i32) -> i32 {
        let mut dice = crate::nest::dice::Dice::new(7);
        move |n| dice.below(n as usize) as i32
    }

    /// Against trying every position: the first stretch found is the lowest, then leftmost free one.
    #[test]
    fn agrees_with_trying_every_position() {
        let mut roll = dice();
        for _ in 0..300 {
            let walls = random_walls(&mut roll);
            let free = |x: i32, y: i32| !walls.iter().any(|w| w.x0 < x && x < w.x1 && w.y0 < y && y < w.y1);
            let plain = (0..=12).flat_map(|y| (0..=14).map(move |x| (x, y))).find(|&(x, y)| free(x, y));
            let found = all(&walls, 14, 12);
            assert_eq!(found.first().map(|f| (f.x0, f.y)), plain, "{walls:?}");
            for f in found {
                assert!((f.x0..=f.x1).all(|x| free(x, f.y)), "{walls:?} {f:?}");
            }
        }
    }

    /// The same walls as one worked-out shape: it may rule out a line that is free between two boxes, but
    /// never lets in what is taken; on heights between whole numbers of a doubled scale it is exact.
    #[test]
    fn a_worked_out_shape_is_as_strict_as_its_boxes() {
        let mut roll = dice();
        for _ in 0..300 {
            let walls: Vec<Block> =
                random_walls(&mut roll).iter().map(|w| b(w.x0 * 2, w.x1 * 2, w.y0 * 2, w.y1 * 2)).collect();
            let pairs = [NoFit::new(&stack_of(&mut walls.clone(), 1))];
            let mut s = Sweep { shapes: vec![Standing::new(0, 0, 0)], ..Sweep::default() };
            let taken = |x: i32, y: i32| walls.iter().any(|w| w.x0 < x && x < w.x1 && w.y0 < y && y < w.y1);
            for f in sweep_all(&mut s, &pairs, 28, 24) {
                assert!((f.x0..=f.x1).all(|x| !taken(x, f.y)), "{walls:?} {f:?}");
            }
            let mut level = 0;
            for y in (-11..40).step_by(2) {
                let spans = pairs[0].taken_at(y, &mut level);
                for x in (-11..40).step_by(2) {
                    assert_eq!(spans.iter().any(|t| t.0 < x && x < t.1), taken(x, y), "{walls:?} {x} {y}");
                }
            }
        }
    }
}
