//! Random numbers for eight chains at once: xoshiro256++ (Blackman & Vigna 2021), one generator per
//! chain, seeded by SplitMix64 (Steele, Lea & Flood 2014). Both from memory.

use super::lanes::{LANES, Lanes};

/// One generator per lane.
pub(super) struct Random {
    state: [[u64; LANES]; 4],
}

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

impl Random {
    pub(super) fn new(seeds: &mut SplitMix) -> Self {
        let mut state = [[0; LANES]; 4];
        state.iter_mut().flatten().for_each(|word| *word = seeds.next());
        Self { state }
    }

    /// Even on [0, 1), one for each lane.
    pub(super) fn even(&mut self) -> Lanes {
        let [a, b, c, d] = &mut self.state;
        let mut out = [0.0; LANES];
        for l in 0..LANES {
            let drawn = a[l].wrapping_add(d[l]).rotate_left(23).wrapping_add(a[l]);
            let shifted = b[l] << 17;
            c[l] ^= a[l];
            d[l] ^= b[l];
            b[l] ^= c[l];
            a[l] ^= d[l];
            c[l] ^= shifted;
            d[l] = d[l].rotate_left(45);
            #[expect(clippy::cast_precision_loss, reason = "53 bits fit")]
            let number = (drawn >> 11) as f64;
            out[l] = number * (1.0 / (1_u64 << 53) as f64);
        }
        out
    }
}
