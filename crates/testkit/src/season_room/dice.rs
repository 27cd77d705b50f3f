//! Draws that come out alike on every machine: whole-number output of ChaCha8, then only exact
//! arithmetic.

use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// A stream of draws. Each idea of the room has its own, so that a change in one leaves the draws
/// of the others as they were.
#[derive(Debug)]
pub(super) struct Dice(ChaCha8Rng);

impl Dice {
    pub fn new(seed: u64, stream: u64) -> Self {
        let mut source = ChaCha8Rng::seed_from_u64(seed);
        source.set_stream(stream);
        Self(source)
    }

    /// From 0 to below 1, in steps of 2^-53.
    #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
    pub fn unit(&mut self) -> f64 {
        (self.0.next_u64() >> 11) as f64 / 9_007_199_254_740_992.0
    }

    pub fn chance(&mut self, p: f64) -> bool {
        self.unit() < p
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.unit()
    }

    /// A whole number, both ends included.
    pub fn whole(&mut self, low: i32, high: i32) -> i32 {
        let span = u64::from((high - low).max(0).unsigned_abs()) + 1;
        low + i32::try_from((self.0.next_u64() >> 32) % span).unwrap_or(0)
    }

    /// Nearly normal, mean 0 and spread 1, never beyond 6: the sum of twelve even draws.
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.unit()).sum::<f64>() - 6.0
    }

    /// One of these; `items` is not empty.
    pub fn pick<T: Copy>(&mut self, items: &[T]) -> T {
        let last = i32::try_from(items.len()).unwrap_or(1) - 1;
        items[usize::try_from(self.whole(0, last)).unwrap_or(0)]
    }

    pub fn shuffle<T>(&mut self, items: &mut [T]) {
        for last in (1..items.len()).rev() {
            let other = self.whole(0, i32::try_from(last).unwrap_or(0));
            items.swap(last, usize::try_from(other).unwrap_or(0));
        }
    }
}
