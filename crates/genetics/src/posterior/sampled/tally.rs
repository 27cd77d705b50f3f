//! Means of batches, and how far they can be from the truth.
//!
//! The spread of batch means gives the Monte Carlo standard error where batches are long beside the
//! memory of a chain (batch means; see Flegal & Jones 2010, from memory). The spread of the means of
//! whole chains gives it always, but from few numbers. So the first counts, widened by what the
//! second says of all numbers taken together, and replaced by the second where that is far larger:
//! chains that are stuck in different places show up there.

use super::lanes::{LANES, Lanes};

/// A chain variance so many times the batch variance is no accident: the upper 1 in 1,000 of F with
/// 15 and many degrees of freedom is 2.5.
const STUCK: f64 = 2.5;

/// Batch means of several chains, for each of many numbers.
pub(super) struct Tally {
    batches: usize,
    chains: Vec<Lanes>,
    squares: Vec<f64>,
}

/// Mean and standard error of each number.
pub(super) struct Estimates {
    pub(super) means: Vec<f64>,
    pub(super) errors: Vec<f64>,
}

impl Tally {
    pub(super) fn new(n: usize) -> Self {
        Self { batches: 0, chains: vec![[0.0; LANES]; n], squares: vec![0.0; n] }
    }

    /// Takes in one batch of every chain.
    pub(super) fn add(&mut self, means: &[Lanes]) {
        self.batches += 1;
        for ((chain, square), mean) in self.chains.iter_mut().zip(&mut self.squares).zip(means) {
            for (sum, x) in chain.iter_mut().zip(mean) {
                *sum += x;
                *square += x * x;
            }
        }
    }
}

/// What all chains together say. Every tally has as many batches, and there are at least two.
#[expect(clippy::cast_precision_loss, reason = "counts of batches and chains are small")]
pub(super) fn estimate(tallies: &[&Tally]) -> Estimates {
    let n = tallies.first().map_or(0, |t| t.squares.len());
    let batches = tallies.first().map_or(0, |t| t.batches) as f64;
    let chains = (tallies.len() * LANES) as f64;
    let all = batches * chains;
    let mut means = Vec::with_capacity(n);
    let (mut by_batch, mut by_chain) = (Vec::with_capacity(n), Vec::with_capacity(n));
    for i in 0..n {
        let of_chains = || tallies.iter().flat_map(|t| &t.chains[i]).map(|sum| sum / batches);
        let squares: f64 = tallies.iter().map(|t| t.squares[i]).sum();
        let mean = of_chains().sum::<f64>() / chains;
        let between: f64 = of_chains().map(|x| (x - mean) * (x - mean)).sum();
        let spread = (squares - all * mean * mean).max(0.0);
        means.push(mean);
        by_batch.push(spread / (all - 1.0) / all);
        by_chain.push(between / (chains - 1.0) / chains);
    }
    let ratio = by_chain.iter().sum::<f64>() / by_batch.iter().sum::<f64>();
    let wider = if ratio.is_finite() { ratio.max(1.0) } else { 1.0 };
    let error = |(b, c): (&f64, &f64)| (if *c > STUCK * b { *c } else { b * wider }).sqrt();
    Estimates { means, errors: by_batch.iter().zip(&by_chain).map(error).collect() }
}
