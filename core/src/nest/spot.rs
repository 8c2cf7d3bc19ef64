//! Where a part can stand on a sheet: a sweep over the boxes that its zero must keep out of.
//!
//! The free positions of a part are what is left of a rectangle after open boxes are taken away. A
//! position that cannot slide down rests on the upper edge of a box, so only those heights are looked at.
//! At each of them the boxes in force are merged from left to right; what lies between are the free
//! stretches. Exact in both directions, and its cost does not depend on the size of the sheet.

use super::block::Block;

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

/// Reusable memory of the sweep, and the count of what it did.
#[derive(Debug, Default)]
pub struct Sweep {
    /// Boxes that the part's zero must keep out of; the caller fills it.
    pub walls: Vec<Block>,
    heights: Vec<i32>,
    active: Vec<Block>,
    /// Units of work done so far: boxes touched.
    pub work: u64,
}

impl Sweep {
    /// Calls `found` for each free stretch within `0..=x_max`, `0..=y_max`, from the lowest upwards and
    /// from left to right, until it returns `false`.
    pub fn stretches(&mut self, x_max: i32, y_max: i32, mut found: impl FnMut(&[Block], Stretch) -> bool) {
        if x_max < 0 || y_max < 0 {
            return;
        }
        self.walls.sort_unstable();
        self.heights.clear();
        self.heights.push(0);
        self.heights.extend(self.walls.iter().map(|w| w.y1).filter(|y| (1..=y_max).contains(y)));
        self.heights.sort_unstable();
        self.heights.dedup();
        self.active.clear();
        let mut next = 0;
        for &y in &self.heights {
            self.active.retain(|w| w.y1 > y);
            while let Some(w) = self.walls.get(next).filter(|w| w.y0 < y) {
                if w.y1 > y {
                    let at = self.active.partition_point(|a| a.x0 <= w.x0);
                    self.active.insert(at, *w);
                }
                next += 1;
            }
            self.work += 2 + self.active.len() as u64;
            let mut x = 0;
            for a in &self.active {
                if a.x0 >= x && !found(&self.walls, Stretch { y, x0: x, x1: a.x0.min(x_max) }) {
                    return;
                }
                x = x.max(a.x1);
                if x > x_max {
                    break;
                }
            }
            if x <= x_max && !found(&self.walls, Stretch { y, x0: x, x1: x_max }) {
                return;
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn all(walls: &[Block], x_max: i32, y_max: i32) -> Vec<Stretch> {
        let mut s = Sweep { walls: walls.to_vec(), ..Sweep::default() };
        let mut out = vec![];
        s.stretches(x_max, y_max, |_, f| {
            out.push(f);
            true
        });
        out
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

    /// Against trying every position: the first stretch found is the lowest, then leftmost free one.
    #[test]
    fn agrees_with_trying_every_position() {
        let mut seed = 7_u64;
        let mut roll = |n: i32| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            ((seed >> 33) % n as u64) as i32
        };
        for _ in 0..300 {
            let walls: Vec<Block> = (0..roll(9))
                .map(|_| {
                    let (x, y) = (roll(20) - 5, roll(20) - 5);
                    b(x, x + 1 + roll(9), y, y + 1 + roll(9))
                })
                .collect();
            let free = |x: i32, y: i32| !walls.iter().any(|w| w.x0 < x && x < w.x1 && w.y0 < y && y < w.y1);
            let plain = (0..=12).flat_map(|y| (0..=14).map(move |x| (x, y))).find(|&(x, y)| free(x, y));
            let found = all(&walls, 14, 12);
            assert_eq!(found.first().map(|f| (f.x0, f.y)), plain, "{walls:?}");
            for f in found {
                assert!((f.x0..=f.x1).all(|x| free(x, f.y)), "{walls:?} {f:?}");
            }
        }
    }
}
