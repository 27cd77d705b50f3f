//! What earlier cycles of a female say of her rate of growth in the next.

use super::hyper::Hyper;
use super::number::Number;
use super::track::{State, Track};

/// By how much her rate lies off the room's, as far as it comes back in each of her cycles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OwnRate<S = f64> {
    /// Mean, mm a week.
    pub mean: S,
    /// Variance, (mm a week)².
    pub variance: S,
}

impl<S: Number> OwnRate<S> {
    /// Before anything is known of her.
    #[must_use]
    pub fn unknown(hyper: &Hyper<S>) -> Self {
        let variance = hyper.same_female * hyper.rate_spread * hyper.rate_spread;
        Self { mean: S::of(0.0), variance }
    }

    /// Mean and spread of the rate to expect in her next cycle, mm a week; `fed` as in
    /// [`super::fit::Season`].
    #[must_use]
    pub fn expects(&self, hyper: &Hyper<S>, fed: f64) -> (S, S) {
        let mean = hyper.rate + hyper.food_effect * fed + self.mean;
        (mean, (self.variance + of_season(hyper)).at_least(1e-9).sqrt())
    }

    /// What is known after a cycle that left these tracks.
    ///
    /// What the cycle alone says of its rate is the belief after it less the belief before it, both
    /// taken as Gaussian; for one track that is exact. The rate of a cycle that never began is what
    /// was believed before, and so says nothing.
    #[must_use]
    pub fn after(self, hyper: &Hyper<S>, fed: f64, tracks: &[Track<S>]) -> Self {
        let (before, spread) = self.expects(hyper, fed);
        let Some((mean, variance)) = rate_of(tracks) else { return self };
        let told = S::of(1.0) / variance.at_least(1e-9) - S::of(1.0) / (spread * spread);
        if told.value() <= 1e-9 {
            return self;
        }
        let alone = (mean / variance.at_least(1e-9) - before / (spread * spread)) / told;
        let off = alone - hyper.rate - hyper.food_effect * fed - self.mean;
        let total = self.variance + of_season(hyper) + S::of(1.0) / told;
        let gain = self.variance / total;
        Self { mean: self.mean + gain * off, variance: self.variance * gain.rest() }
    }
}

/// Variance of the rate between cycles of one female.
fn of_season<S: Number>(hyper: &Hyper<S>) -> S {
    hyper.same_female.rest() * hyper.rate_spread * hyper.rate_spread
}

/// Mean and variance of the rate over all tracks.
fn rate_of<S: Number>(tracks: &[Track<S>]) -> Option<(S, S)> {
    let total: S = tracks.iter().map(|t| t.weight).sum();
    if total.value() <= 0.0 {
        return None;
    }
    let mean = tracks.iter().map(|t| t.weight * t.v).sum::<S>() / total;
    let square = |t: &Track<S>| t.weight * (t.vv + (t.v - mean) * (t.v - mean));
    let variance = tracks.iter().map(square).sum::<S>() / total;
    let has_grown = tracks.iter().any(|t| !matches!(t.state, State::Never | State::Resting));
    has_grown.then_some((mean, variance))
}
