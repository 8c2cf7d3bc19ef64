//! Chance from a seed: the same rolls on every machine.

/// A small generator (SplitMix64: Steele, Lea, Flood, «Fast splittable pseudorandom number generators»,
/// OOPSLA 2014). Good enough to vary a search; nothing is kept secret by it.
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    /// Chance that starts at a seed.
    #[must_use]
    pub fn new(seed: u64) -> Self {
        Self(seed)
    }
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
    /// A whole number from 0 to `n` − 1; 0 when `n` is 0.
    pub fn below(&mut self, n: usize) -> usize {
        ((u128::from(self.next()) * n as u128) >> 64) as usize
    }
    /// A number from 0 up to 1.
    pub fn share(&mut self) -> f64 {
        (self.next() >> 11) as f64 / (1_u64 << 53) as f64
    }
}
