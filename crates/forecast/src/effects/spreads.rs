//! How far levels of a grouping may differ: a few equally likely values to integrate over.

use super::special::solve;
use crate::follicle::normal::below;

/// `n` equally likely values of a half-normal spread: the middles of as many slices of equal chance.
///
/// A half-normal prior keeps a spread finite and lets it be nothing (Gelman 2006, Bayesian Analysis
/// 1:515, discusses it beside others); its scale is the caller's own choice.
#[must_use]
pub fn half_normal(n: usize, scale: f64) -> Vec<f64> {
    (0..n)
        .map(|i| {
            #[expect(clippy::cast_precision_loss, reason = "a handful")]
            let share = 0.5 + 0.5 * (i as f64 + 0.5) / n as f64;
            scale * solve(share, (0.0, 6.0), below)
        })
        .collect()
}

/// Values per grouping, fewer where there are many groupings: their product is gone through.
#[must_use]
pub const fn values_for(groupings: usize) -> usize {
    match groupings {
        0 | 1 => 9,
        2 => 7,
        3 => 5,
        _ => 3,
    }
}

/// Every combination of one value per grouping.
#[must_use]
pub fn combinations(groupings: usize, values: &[f64]) -> Vec<Vec<f64>> {
    (0..groupings).fold(vec![vec![]], |all, _| {
        let longer = |one: &Vec<f64>| {
            let one = one.clone();
            values.iter().map(move |v| one.iter().copied().chain([*v]).collect())
        };
        all.iter().flat_map(longer).collect()
    })
}

/// Shares of the whole from logarithms of weights.
pub fn shares(logs: &[f64]) -> Vec<f64> {
    let most = logs.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let raw: Vec<f64> = logs.iter().map(|log| (log - most).exp()).collect();
    let sum: f64 = raw.iter().sum();
    raw.iter().map(|w| w / sum).collect()
}
