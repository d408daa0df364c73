//! Numbers by chance that are the same on every machine for the same seed.

use swingtie_core::units::float::{cos, ln, sqrt};

/// A small generator: SplitMix64 (G. Steele, D. Lea, C. Flood, Fast Splittable Pseudorandom Number
/// Generators, 2014; constants from the paper).
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    /// Seeded; `purpose` keeps streams of the same seed apart.
    #[must_use]
    pub fn new(purpose: u64, seed: u64) -> Self {
        let mut dice = Self(seed ^ purpose.rotate_left(40));
        dice.bits();
        dice
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// From 0 to below 1.
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Between the two.
    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// From 0 to below `count`.
    pub fn below(&mut self, count: usize) -> usize {
        ((self.unit() * count as f64) as usize).min(count.saturating_sub(1))
    }

    /// Normally distributed about 0 (G. Box and M. Muller's transformation).
    pub fn gauss(&mut self, sd: f64) -> f64 {
        let (radius, turn) = (1.0 - self.unit(), self.unit());
        sd * sqrt(-2.0 * ln(radius)) * cos(std::f64::consts::TAU * turn)
    }

    /// Some of the list, in order.
    pub fn some<T: Clone>(&mut self, list: &[T], count: usize) -> Vec<T> {
        let mut left: Vec<usize> = (0..list.len()).collect();
        let mut taken: Vec<usize> =
            (0..count.min(list.len())).map(|_| left.swap_remove(self.below(left.len()))).collect();
        taken.sort_unstable();
        taken.into_iter().map(|i| list[i].clone()).collect()
    }
}
