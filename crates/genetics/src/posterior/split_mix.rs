//! A sequence of well-mixed numbers out of one seed: SplitMix64 (Steele, Lea & Flood 2014, from
//! memory).

/// A sequence of well-mixed numbers out of one seed.
pub(super) struct SplitMix(u64);

impl SplitMix {
    pub(super) const fn new(seed: u64) -> Self {
        Self(seed)
    }

    pub(super) const fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A number from 0 to `below`, which is not 0. Its bias, below / 2^64, does not matter here.
    pub(super) const fn below(&mut self, below: usize) -> usize {
        #[expect(clippy::cast_possible_truncation, reason = "smaller than below")]
        let at = (self.next() % below as u64) as usize;
        at
    }
}
