//! What earlier cycles of a female say of her rate of growth in the next.

use super::hyper::Hyper;
use super::track::{State, Track};

/// By how much her rate lies off the room's, as far as it comes back in each of her cycles.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OwnRate {
    /// Mean, mm a week.
    pub mean: f64,
    /// Variance, (mm a week)².
    pub variance: f64,
}

impl OwnRate {
    /// Before anything is known of her.
    #[must_use]
    pub fn unknown(hyper: &Hyper) -> Self {
        let variance = hyper.same_female * hyper.rate_spread * hyper.rate_spread;
        Self { mean: 0.0, variance }
    }

    /// Mean and spread of the rate to expect in her next cycle, mm a week; `fed` as in
    /// [`super::fit::Season`].
    #[must_use]
    pub fn expects(&self, hyper: &Hyper, fed: f64) -> (f64, f64) {
        let mean = hyper.rate + hyper.food_effect * fed + self.mean;
        (mean, (self.variance + of_season(hyper)).max(1e-9).sqrt())
    }

    /// What is known after a cycle that left these tracks.
    ///
    /// What the cycle alone says of its rate is the belief after it less the belief before it, both
    /// taken as Gaussian; for one track that is exact. The rate of a cycle that never began is what
    /// was believed before, and so says nothing.
    #[must_use]
    pub fn after(self, hyper: &Hyper, fed: f64, tracks: &[Track]) -> Self {
        let (before, spread) = self.expects(hyper, fed);
        let Some((mean, variance)) = rate_of(tracks) else { return self };
        let told = 1.0 / variance.max(1e-9) - 1.0 / (spread * spread);
        if told <= 1e-9 {
            return self;
        }
        let alone = (mean / variance.max(1e-9) - before / (spread * spread)) / told;
        let off = alone - hyper.rate - hyper.food_effect * fed - self.mean;
        let total = self.variance + of_season(hyper) + 1.0 / told;
        let gain = self.variance / total;
        Self { mean: self.mean + gain * off, variance: self.variance * (1.0 - gain) }
    }
}

/// Variance of the rate between cycles of one female.
fn of_season(hyper: &Hyper) -> f64 {
    (1.0 - hyper.same_female) * hyper.rate_spread * hyper.rate_spread
}

/// Mean and variance of the rate over all tracks.
fn rate_of(tracks: &[Track]) -> Option<(f64, f64)> {
    let total: f64 = tracks.iter().map(|t| t.weight).sum();
    if total <= 0.0 {
        return None;
    }
    let mean = tracks.iter().map(|t| t.weight * t.v).sum::<f64>() / total;
    let square = |t: &Track| t.weight * (t.vv + (t.v - mean) * (t.v - mean));
    let variance = tracks.iter().map(square).sum::<f64>() / total;
    let has_grown = tracks.iter().any(|t| !matches!(t.state, State::Never | State::Resting));
    has_grown.then_some((mean, variance))
}
