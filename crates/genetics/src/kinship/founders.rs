//! Which founders an animal goes back to, roughly: quick proof that two animals are unrelated.

const WORDS: usize = 4;

/// A set of founders in 256 bits that several founders share: never too small, so that two sets
/// without a common bit have no common founder.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) struct Founders([u64; WORDS]);

impl Founders {
    /// The founder of that number alone.
    pub(super) fn one(number: u32) -> Self {
        let mut words = [0; WORDS];
        words[(number as usize / 64) % WORDS] = 1 << (number % 64);
        Self(words)
    }

    pub(super) fn and(self, other: Self) -> Self {
        Self(std::array::from_fn(|i| self.0[i] | other.0[i]))
    }

    /// Whether a founder may be common to both.
    pub(super) fn may_meet(&self, other: &Self) -> bool {
        (0..WORDS).fold(0, |met, i| met | (self.0[i] & other.0[i])) != 0
    }
}
