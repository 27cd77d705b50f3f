//! Learning the follicle model's settings from a room's finished cycles.
//!
//! The marginal likelihood of a cycle is what the filter gives beside its belief: growth, states
//! and errors are summed out. A female's cycles are taken in order, each foreseen from those before
//! it, so that what comes back in each of her cycles is told from what does not. Weak priors make
//! a room without history the usual one. Statement and worked example: `docs/methods/growth_fit.md`.

mod bend;
mod climb;
mod learning;
mod likelihood;
mod parameter;
mod season;
mod spread;

pub use climb::{Care, Score, Summit};
pub use likelihood::{of_female, own_rate};
pub use parameter::{Parameter, Prior};
pub use season::{Outcome, Season, Seasons};
pub use spread::{Posterior, posterior};

use super::hyper::Hyper;
use super::number::Number;
use climb::Ground;

/// What is asked of the fit.
#[derive(Clone, Debug)]
pub struct Asked {
    /// What every setting stands at that is not learned.
    pub base: Hyper,
    /// What is learned, with the belief about it beforehand.
    pub free: Vec<(Parameter, Prior)>,
    /// How hard to look.
    pub care: Care,
}

impl Asked {
    /// Everything that can be learned, from our weak priors.
    #[must_use]
    pub fn everything() -> Self {
        let free = Parameter::ALL.map(|p| (p, p.prior())).to_vec();
        Self { base: Hyper::default(), free, care: Care::USUAL }
    }

    /// The settings with what is learned put at a place.
    #[must_use]
    pub fn settings<S: Number>(&self, at: &[S]) -> Hyper<S> {
        let mut hyper = self.base.lifted();
        for ((parameter, _), at) in self.free.iter().zip(at) {
            parameter.write(&mut hyper, *at);
        }
        hyper
    }

    /// What each cycle says of a place, with its slopes.
    #[must_use]
    pub fn scores(&self, females: &[Seasons], at: &[f64]) -> Vec<Score> {
        learning::scores(females, self, at)
    }

    /// From the priors' means: what is learned must not depend on what was learned before.
    fn ground(&self) -> Ground {
        Ground {
            start: self.free.iter().map(|(_, prior)| prior.mean).collect(),
            edges: self.free.iter().map(|(parameter, _)| parameter.edge()).collect(),
        }
    }

    fn priors(&self) -> Vec<Prior> {
        self.free.iter().map(|(_, prior)| *prior).collect()
    }

    /// Logarithm of the posterior at a place, the prior's constant left out.
    #[must_use]
    pub fn ln_posterior(&self, females: &[Seasons], at: &[f64]) -> f64 {
        let hyper = self.settings(at);
        let sum: f64 = females.iter().map(|seasons| of_female(&hyper, seasons)).sum();
        sum + climb::ln_prior(at, &self.priors())
    }
}

/// What was learned.
#[derive(Clone, Debug)]
pub struct Learned {
    /// The settings.
    pub hyper: Hyper,
    /// Each setting learned: where it stands and how uncertain that is, on its own scale.
    pub found: Vec<Found>,
    /// Finished cycles behind it.
    pub n_seasons: usize,
    /// Females they are of.
    pub n_females: usize,
    /// Where the search ended.
    pub summit: Summit,
}

/// One setting learned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// Which.
    pub parameter: Parameter,
    /// The likeliest value.
    pub value: f64,
    /// Ends of its 80 % interval.
    pub low: f64,
    /// Upper end.
    pub high: f64,
    /// Share of the prior's variance that the records took away, 0..=1: 0 says that the value is the
    /// prior's.
    pub told: f64,
}

/// Standard deviations from the middle of a normal distribution to the ends of its 80 %.
const TO_EIGHTY: f64 = 1.281_551_565_544_600_4;

/// Learns the settings from females' finished cycles.
#[must_use]
pub fn fit(females: &[Seasons], asked: &Asked) -> Learned {
    let priors = asked.priors();
    let summit = climb::climb(&priors, &asked.ground(), asked.care, |at| asked.scores(females, at));
    let p = priors.len();
    let found = asked.free.iter().enumerate().map(|(k, (parameter, prior))| {
        let variance = summit.covariance.get(k * p + k).copied().unwrap_or(prior.spread.powi(2));
        let (at, reach) = (summit.at[k], TO_EIGHTY * variance.max(0.0).sqrt());
        Found {
            parameter: *parameter,
            value: parameter.value(at),
            low: parameter.value(at - reach),
            high: parameter.value(at + reach),
            told: (1.0 - variance / prior.spread.powi(2)).clamp(0.0, 1.0),
        }
    });
    Learned {
        hyper: asked.settings(&summit.at),
        found: found.collect(),
        n_seasons: females.iter().map(Vec::len).sum(),
        n_females: females.iter().filter(|seasons| !seasons.is_empty()).count(),
        summit,
    }
}
