//! Rates of several groups, each drawn towards what is usual among them.
//!
//! `k` of `n` per group, binomial with a rate that is beta distributed among the groups. The prior
//! is flat in the mean of that beta distribution and in one over the root of its two parameters'
//! sum, cut at 1 (Gelman et al. 2013, Bayesian Data Analysis, 5.3); both are integrated on a grid.

use super::mixture::Interval;
use super::special::{ln_beta, solve};
use super::spreads::shares;
use crate::student::beta_share;

/// Points of the grid along each of the two.
const POINTS: usize = 40;

/// What is believed of every group's rate.
#[derive(Clone, Debug)]
pub struct Pooled {
    /// Share of the whole, mean and sum of parameters of each beta distribution.
    grid: Vec<(f64, f64, f64)>,
    groups: Vec<(f64, f64)>,
}

impl Pooled {
    /// From hits and tries of each group.
    #[must_use]
    pub fn of(groups: &[(f64, f64)]) -> Self {
        let mut points = Vec::with_capacity(POINTS * POINTS);
        #[expect(clippy::cast_precision_loss, reason = "a handful")]
        let share = |i: usize| (i as f64 + 0.5) / POINTS as f64;
        for i in 0..POINTS {
            for j in 0..POINTS {
                points.push((share(i), share(j).powi(-2)));
            }
        }
        let log = |(mean, sum): &(f64, f64)| {
            let (a, b) = (mean * sum, (1.0 - mean) * sum);
            let of = |(k, n): &(f64, f64)| ln_beta(a + k, b + n - k) - ln_beta(a, b);
            groups.iter().map(of).sum::<f64>()
        };
        let logs: Vec<f64> = points.iter().map(log).collect();
        let weights = shares(&logs);
        let grid = weights.into_iter().zip(points).map(|(w, (mean, sum))| (w, mean, sum));
        Self { grid: grid.filter(|g| g.0 > 1e-9).collect(), groups: groups.to_vec() }
    }

    /// Mean of a group's rate.
    #[must_use]
    pub fn mean(&self, group: usize) -> f64 {
        let (k, n) = self.groups[group];
        let part = |(w, mean, sum): &(f64, f64, f64)| w * (mean * sum + k) / (sum + n);
        self.grid.iter().map(part).sum::<f64>() / self.total()
    }

    /// Chance that a group's rate lies below `rate`.
    #[must_use]
    pub fn below(&self, group: usize, rate: f64) -> f64 {
        let (k, n) = self.groups[group];
        let part = |(w, mean, sum): &(f64, f64, f64)| {
            w * beta_share(rate, mean * sum + k, (1.0 - mean) * sum + n - k)
        };
        self.grid.iter().map(part).sum::<f64>() / self.total()
    }

    /// The middle interval that holds a group's rate with that chance.
    #[must_use]
    pub fn interval(&self, group: usize, coverage: f64) -> Interval {
        let at = |share| solve(share, (0.0, 1.0), |rate| self.below(group, rate));
        let tail = 0.5 * (1.0 - coverage);
        Interval { low: at(tail), high: at(1.0 - tail) }
    }

    fn total(&self) -> f64 {
        self.grid.iter().map(|g| g.0).sum()
    }
}
