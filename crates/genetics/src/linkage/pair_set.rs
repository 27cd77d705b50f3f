//! Sets of pairs of states as bits.

use super::group::Mask;

/// Equally large sets of pairs (sire state, dam state); pair (s, d) is bit `s * states + d`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct PairSets {
    states: usize,
    words: usize,
    bits: Vec<u64>,
}

impl PairSets {
    /// `count` empty sets over so many states.
    pub(crate) fn none(count: usize, states: usize) -> Self {
        let words = (states * states).div_ceil(64);
        Self { states, words, bits: vec![0; count * words] }
    }

    /// Words per set.
    pub(crate) const fn words(&self) -> usize {
        self.words
    }

    pub(crate) fn insert(&mut self, set: usize, (sire, dam): (usize, usize)) {
        let bit = sire * self.states + dam;
        self.bits[set * self.words + bit / 64] |= 1 << (bit % 64);
    }

    pub(crate) fn get(&self, set: usize) -> &[u64] {
        &self.bits[set * self.words..(set + 1) * self.words]
    }

    pub(crate) fn get_mut(&mut self, set: usize) -> &mut [u64] {
        &mut self.bits[set * self.words..(set + 1) * self.words]
    }

    /// Adds to `into` every set that `mask` names.
    pub(crate) fn unite(&self, mask: Mask, into: &mut [u64]) {
        for set in states_in(mask) {
            into.iter_mut().zip(self.get(set)).for_each(|(a, b)| *a |= b);
        }
    }
}

/// The states of a mask, upwards.
pub(crate) fn states_in(mut mask: Mask) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        (mask != 0).then(|| {
            let state = mask.trailing_zeros() as usize;
            mask &= mask - 1;
            state
        })
    })
}

/// The states of either parent that some pair of the set still has.
pub(crate) fn sides(pairs: &[u64], states: usize) -> (Mask, Mask) {
    let (mut sires, mut dams): (Mask, Mask) = (0, 0);
    let whole: Mask = if states >= 128 { Mask::MAX } else { (1 << states) - 1 };
    for sire in 0..states {
        let row = cut(pairs, sire * states) & whole;
        if row != 0 {
            sires |= 1 << sire;
            dams |= row;
        }
    }
    (sires, dams)
}

/// Keeps the pairs of which both sides are allowed.
pub(crate) fn restrict(pairs: &mut [u64], states: usize, sires: Mask, dams: Mask) {
    for (word, bits) in pairs.iter_mut().enumerate() {
        let mut left = *bits;
        while left != 0 {
            let bit = word * 64 + left.trailing_zeros() as usize;
            let allowed = sires >> (bit / states) & dams >> (bit % states) & 1;
            if allowed == 0 {
                *bits &= !(1 << (bit % 64));
            }
            left &= left - 1;
        }
    }
}

// The 128 bits that begin at `from`, as far as they are there.
fn cut(bits: &[u64], from: usize) -> Mask {
    let (word, shift) = (from / 64, from % 64);
    let at = |i: usize| Mask::from(bits.get(word + i).copied().unwrap_or(0));
    let low = at(0) >> shift | at(1) << (64 - shift);
    if shift == 0 { low } else { low | at(2) << (128 - shift) }
}
