//! Random numbers for eight chains at once: xoshiro256++ (Blackman & Vigna 2021, from memory), one
//! generator per chain.

use super::lanes::{LANES, Lanes};
use crate::posterior::split_mix::SplitMix;

/// One generator per lane.
pub(super) struct Random {
    state: [[u64; LANES]; 4],
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
