//! When a growing size first reaches a level.

use super::normal::{below, scaled_tail, share_below};
use super::number::Number;
use super::track::Track;

/// Chance that growth of known `rate` (mm a week) and `wobble` (mm per root week) has covered a
/// known `distance` (mm) within `weeks`: the inverse Gaussian distribution.
///
/// Schroedinger (1915); in the form of Folks and Chhikara (1978), with the exponentials of the
/// second term joined so that nothing overflows. A distance of zero or less is covered at once.
#[must_use]
pub fn reached(distance: f64, rate: f64, wobble: f64, weeks: f64) -> f64 {
    if distance <= 0.0 {
        return 1.0;
    }
    if weeks <= 0.0 {
        return 0.0;
    }
    let spread = wobble * weeks.sqrt();
    let ahead = (rate * weeks - distance) / spread;
    let behind = (rate * weeks + distance) / spread;
    let mirrored = if behind >= 0.0 {
        (-0.5 * ahead * ahead).exp() * scaled_tail(behind)
    } else {
        (2.0 * rate * distance / (wobble * wobble)).exp() * below(-behind)
    };
    (below(ahead) + mirrored).clamp(0.0, 1.0)
}

/// A level on the size axis, sharp or (as ovulation is) spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Level<S = f64> {
    /// Mean, mm.
    pub size: S,
    /// Variance between females, mm²; 0 for a plain size.
    pub variance: S,
}

impl<S: Number> Level<S> {
    /// Chance that the largest size `weeks` ahead, growth going on all the time, is beyond it.
    ///
    /// Size and rate are jointly Gaussian and so is the size after `weeks`; the inverse Gaussian
    /// is integrated over them in closed form but for its second term, which is what the wobble
    /// adds to the running maximum. That is drawn into a shift of the level by
    /// `wobble² / (2 rate)`, the mean of what a drifting wobble later takes back
    /// (exponential with rate `2 v / wobble²`).
    #[must_use]
    pub fn passed_after(&self, t: &Track<S>, weeks: f64, wobble: S) -> S {
        let mean = t.x + t.v * weeks;
        let variance = t.xx + (t.xv * 2.0 + t.vv * weeks + wobble * wobble) * weeks + self.variance;
        let shift = excess(t, wobble);
        share_below((mean - self.size + shift) / variance.at_least(1e-12).sqrt())
    }

    /// Chance that a size of this mean and variance is beyond it.
    #[must_use]
    pub fn passed(&self, mean: S, variance: S) -> S {
        share_below((mean - self.size) / (variance + self.variance).at_least(1e-12).sqrt())
    }
}

impl Level {
    /// [`Level::passed_after`] for several moments at once, as how many spreads she is beyond the level by each:
    /// `below` of it is the chance.
    #[must_use]
    pub fn beyond_after<const N: usize>(
        &self,
        t: &Track,
        weeks: &[f64; N],
        wobble: f64,
    ) -> [f64; N] {
        let shift = excess(t, wobble);
        let mut beyond = *weeks;
        for at in &mut beyond {
            let weeks = *at;
            let mean = t.x + t.v * weeks;
            let variance =
                t.xx + weeks * (2.0 * t.xv + weeks * t.vv + wobble * wobble) + self.variance;
            *at = (mean - self.size + shift) / variance.max(1e-12).sqrt();
        }
        beyond
    }
}

/// How far, on average, the largest size so far exceeds the present one while she grows.
#[must_use]
pub fn excess<S: Number>(t: &Track<S>, wobble: S) -> S {
    let least = wobble * wobble * 2.0;
    let rate = if t.v.value() < least.value() { least } else { t.v };
    wobble * wobble / (rate * 2.0)
}
