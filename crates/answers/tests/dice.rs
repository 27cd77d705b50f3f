//! Chance that is the same in every run.

/// The 64-bit linear congruential generator of Knuth (MMIX).
pub struct Dice(pub u64);

impl Dice {
    pub fn chance(&mut self) -> f64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// A sum of twelve (normal but for the far tails).
    pub fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.chance()).sum::<f64>() - 6.0
    }
}
