//! Numbers for random cases: the same seed gives the same cases everywhere.

use berth_core::units::dice;

/// Chance that starts at a seed.
pub struct Dice(dice::Dice);

impl Dice {
    /// From a seed.
    pub fn new(seed: u64) -> Self {
        Self(dice::Dice::new(seed))
    }
    /// From 0 to 1.
    pub fn next(&mut self) -> f64 {
        self.0.share()
    }
    /// Between two numbers.
    pub fn within(&mut self, lo: f64, hi: f64) -> f64 {
        lo + (hi - lo) * self.next()
    }
    /// One of several.
    pub fn pick<T: Copy>(&mut self, of: &[T]) -> T {
        of[self.index(of.len())]
    }
    /// A place in a list of `n`.
    pub fn index(&mut self, n: usize) -> usize {
        ((self.next() * n as f64) as usize).min(n.saturating_sub(1))
    }
    /// +1 or −1.
    pub fn sign(&mut self) -> f64 {
        if self.next() < 0.5 { -1.0 } else { 1.0 }
    }
}
