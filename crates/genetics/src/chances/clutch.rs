//! How many eggs a clutch has.

use std::fmt;

use units::Probability;

use super::hits::Hits;

/// Chances of 0, 1, 2, ... eggs.
#[derive(Clone, Debug, PartialEq)]
pub struct ClutchSize {
    chances: Vec<f64>,
}

/// Mean of a ball python's clutch: 5,344 eggs in 783 clutches (Morrill et al. 2011, Herpetological
/// Review 42:226).
pub const USUAL_MEAN: f64 = 5_344.0 / 783.0;

/// Most eggs a clutch may have here; far above what is known of any python.
pub const MOST_EGGS: usize = 200;

/// Why a clutch size was refused.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ClutchError {
    /// More than [`MOST_EGGS`].
    TooMany {
        /// The number given.
        eggs: usize,
    },
    /// Weights that are negative, not finite, or all zero.
    NoWeights,
}

impl fmt::Display for ClutchError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooMany { eggs } => write!(f, "{eggs} eggs are no clutch: give 0 to {MOST_EGGS}"),
            Self::NoWeights => {
                f.write_str("no clutch size has a weight: give weights from 0, one above 0")
            }
        }
    }
}

impl std::error::Error for ClutchError {}

impl ClutchSize {
    /// Exactly so many eggs.
    ///
    /// # Errors
    /// [`ClutchError::TooMany`] above [`MOST_EGGS`].
    pub fn fixed(eggs: usize) -> Result<Self, ClutchError> {
        if eggs > MOST_EGGS {
            return Err(ClutchError::TooMany { eggs });
        }
        let mut chances = vec![0.0; eggs + 1];
        if let Some(last) = chances.last_mut() {
            *last = 1.0;
        }
        Ok(Self { chances })
    }

    /// From how often 0, 1, 2, ... eggs were laid, as counts or chances.
    ///
    /// # Errors
    /// [`ClutchError`] when there are too many sizes or no usable weight.
    pub fn from_weights(weights: &[f64]) -> Result<Self, ClutchError> {
        if weights.len() > MOST_EGGS + 1 {
            return Err(ClutchError::TooMany { eggs: weights.len() - 1 });
        }
        let sum: f64 = weights.iter().sum();
        let usable =
            weights.iter().all(|w| w.is_finite() && *w >= 0.0) && sum.is_finite() && sum > 0.0;
        if !usable {
            return Err(ClutchError::NoWeights);
        }
        Ok(Self { chances: weights.iter().map(|w| w / sum).collect() })
    }

    /// A ball python's clutch before the room has its own numbers.
    ///
    /// Its mean is [`USUAL_MEAN`]. The spread is our own choice: Poisson, kept within 1..=15 eggs.
    #[must_use]
    pub fn usual() -> Self {
        Self::about(USUAL_MEAN)
    }

    /// A clutch of about so many eggs: Poisson, at least 1 egg and at most twice the mean and two.
    ///
    /// Means outside 1..=90 count as the end they overshot.
    #[must_use]
    pub fn about(mean: f64) -> Self {
        let mean = if mean.is_finite() { mean.clamp(1.0, 90.0) } else { USUAL_MEAN };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1..=182")]
        let most = (2.0 * mean + 2.0) as u32;
        let mut chances = vec![0.0];
        let mut weight = 1.0;
        for n in 1..=most {
            weight *= mean / f64::from(n);
            chances.push(weight);
        }
        let sum: f64 = chances.iter().sum();
        Self { chances: chances.into_iter().map(|w| w / sum).collect() }
    }

    /// The smallest number of eggs that at least `share` of the clutches do not exceed.
    #[must_use]
    pub fn quantile(&self, share: f64) -> usize {
        let mut sum = 0.0;
        let reached = self.chances.iter().position(|p| {
            sum += p;
            sum >= share - 1e-12
        });
        reached.unwrap_or(self.chances.len().saturating_sub(1))
    }

    /// The clutch of which each egg counts with chance `p` only: fertile and hatched, say.
    #[must_use]
    pub fn thinned(&self, p: Probability) -> Self {
        let p = p.get();
        let mut chances = vec![0.0; self.chances.len()];
        for (n, weight) in self.chances.iter().enumerate() {
            for (k, chance) in binomial(n, p).into_iter().enumerate() {
                if let Some(slot) = chances.get_mut(k) {
                    *slot += weight * chance;
                }
            }
        }
        Self { chances }
    }

    /// Expected number of eggs.
    #[must_use]
    pub fn mean(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "at most MOST_EGGS")]
        self.chances.iter().enumerate().map(|(n, p)| n as f64 * p).sum()
    }

    /// Chances of 0, 1, 2, ... eggs.
    #[must_use]
    pub fn chances(&self) -> &[f64] {
        &self.chances
    }

    /// Chance of at least one success: 1 - G(1 - p), G being the generating function of the size.
    ///
    /// A `p` that overshot 0..=1 by rounding counts as the end it overshot.
    #[must_use]
    pub fn at_least_one(&self, p: f64) -> f64 {
        self.hits(1).at_least(p)
    }

    /// Chance of at least `k` successes, each egg with chance `p` on its own; `p` as there.
    #[must_use]
    pub fn at_least(&self, k: usize, p: f64) -> f64 {
        self.hits(k).at_least(p)
    }

    /// Ready to give the chance of at least `k` successes for many `p`.
    #[must_use]
    pub fn hits(&self, k: usize) -> Hits {
        Hits::new(&self.chances, k)
    }
}

/// Chances of 0..=n successes, built egg by egg so that nothing overflows.
fn binomial(n: usize, p: f64) -> Vec<f64> {
    let mut chances = vec![1.0];
    for _ in 0..n {
        chances.push(0.0);
        for k in (1..chances.len()).rev() {
            chances[k] = chances[k] * (1.0 - p) + chances[k - 1] * p;
        }
        chances[0] *= 1.0 - p;
    }
    chances
}
