//! How much wider intervals should have been.

use super::error::quantile;

/// How often an interval must be stretched about its median to reach the truth: 1 where the truth is
/// its end, less inside. Either side has its own length; a side without length counts as `least`.
#[must_use]
pub fn needed((low, median, high): (f64, f64, f64), truth: f64, least: f64) -> f64 {
    let (off, side) = if truth >= median {
        (truth - median, high - median)
    } else {
        (median - truth, median - low)
    };
    off / side.max(least)
}

/// Sources for which the usual width counts for beside what was seen; our own choice.
pub const USUAL_COUNTS_FOR: f64 = 20.0;

/// The factor by which intervals of that coverage are stretched after what was `needed` before (value,
/// weight), seen with so many independent `cases`.
///
/// The smallest factor with which the intervals would have held as often as they claim, with one case
/// more reckoned as a miss: split conformal prediction (Vovk, Gammerman and Shafer 2005; Lei and others
/// 2018, Journal of the American Statistical Association 113:1094). Its logarithm is then drawn
/// towards nothing as if [`USUAL_COUNTS_FOR`] cases had needed no stretching. Never below 1: an
/// interval that held too often is left as wide as the model makes it.
#[must_use]
pub fn factor(needed: &[(f64, f64)], coverage: f64, cases: f64) -> f64 {
    if cases < 1.0 {
        return 1.0;
    }
    let share = (coverage * (cases + 1.0) / cases).min(1.0);
    let Some(seen) = quantile(needed, share) else { return 1.0 };
    let drawn = seen.max(1e-9).ln() * cases / (cases + USUAL_COUNTS_FOR);
    drawn.exp().clamp(1.0, MOST)
}

/// No interval is stretched further; our own choice. What needs more is wrong, not narrow.
pub const MOST: f64 = 3.0;

/// An interval stretched about its median.
#[must_use]
pub fn stretched((low, median, high): (f64, f64, f64), factor: f64) -> (f64, f64, f64) {
    (median - factor * (median - low), median, median + factor * (high - median))
}
