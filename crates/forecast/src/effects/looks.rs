//! Many questions asked of the same records: how sure one answer must be.
//!
//! Of twenty questions without any effect behind them one shows an effect at 95 % by chance alone.
//! So an effect is called clear only where an interval excludes none whose error is shared out over
//! all looks (Bonferroni's inequality; Dunn 1961, Journal of the American Statistical Association
//! 56:52): then the chance that any answer is called clear by mere chance is at most 5 %, however
//! the answers hang together.

use super::mixture::Mixture;

/// Chance of calling anything clear by mere chance.
pub const ERROR: f64 = 0.05;

/// Coverage of the interval that must exclude none, for so many looks.
#[must_use]
pub fn coverage(looks: usize) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a handful")]
    let looks = looks.max(1) as f64;
    1.0 - ERROR / looks
}

/// Chance that the number lies on the far side of `none`, doubled: below `ERROR / looks` it is clear.
#[must_use]
pub fn doubt(of: &Mixture, none: f64) -> f64 {
    let below = of.below(none);
    2.0 * below.min(1.0 - below)
}
