//! Means of batches, and how far they can be from the truth.
//!
//! The spread of batch means gives the Monte Carlo standard error where batches are long beside the
//! memory of a chain (batch means; see Flegal & Jones 2010, from memory). So batches of several
//! lengths are kept, and the longest counts of which there are enough. The spread of the means of
//! whole chains gives the error always, but from few numbers. So the first counts, widened by what
//! the second says of all numbers taken together, and replaced by the second where that is far
//! larger: chains that are stuck in different places show up there.

use super::lanes::{LANES, Lanes, add, all};

/// A chain variance so many times the batch variance is no accident: the upper 1 in 1,000 of F with
/// 15 and many degrees of freedom is 2.5.
const STUCK: f64 = 2.5;
/// What comes less often than once in so many draws may never have been met, and no spread shows
/// it: "rule of three" for two standard errors, with some room for draws that are alike.
const UNSEEN: f64 = 2.0;
/// Batches of a chain before their spread is believed.
pub(super) const ENOUGH: usize = 8;
/// Lengths of batches, each so many times the one before.
const LENGTHS: usize = 3;
const LONGER: usize = 4;

/// Batch means of several chains, for each of many numbers.
pub(super) struct Tally {
    batches: usize,
    sums: Vec<Lanes>,
    levels: Vec<Level>,
}

/// Batches of one length, counted in the shortest.
struct Level {
    length: usize,
    /// The sum of the batch that is not yet full.
    open: Vec<Lanes>,
    squares: Vec<f64>,
}

/// Mean and standard error of each number.
pub(super) struct Estimates {
    pub(super) means: Vec<f64>,
    pub(super) errors: Vec<f64>,
}

impl Tally {
    pub(super) fn new(n: usize) -> Self {
        let mut length = 1;
        let level = |_| {
            let level = Level { length, open: vec![all(0.0); n], squares: vec![0.0; n] };
            length *= LONGER;
            level
        };
        Self { batches: 0, sums: vec![all(0.0); n], levels: (0..LENGTHS).map(level).collect() }
    }

    /// Takes in one batch of every chain.
    pub(super) fn add(&mut self, means: &[Lanes]) {
        self.batches += 1;
        self.sums.iter_mut().zip(means).for_each(|(sum, x)| add(sum, x));
        for level in &mut self.levels {
            level.open.iter_mut().zip(means).for_each(|(sum, x)| add(sum, x));
            if self.batches.is_multiple_of(level.length) {
                level.close();
            }
        }
    }

    /// The longest batches of which there are enough.
    fn level(&self) -> usize {
        let enough = |level: &Level| self.batches / level.length >= ENOUGH;
        self.levels.iter().rposition(enough).unwrap_or(0)
    }
}

impl Level {
    #[expect(clippy::cast_precision_loss, reason = "a small count")]
    fn close(&mut self) {
        let scale = 1.0 / self.length as f64;
        for (open, square) in self.open.iter_mut().zip(&mut self.squares) {
            for sum in open {
                *square += (*sum * scale) * (*sum * scale);
                *sum = 0.0;
            }
        }
    }
}

/// What all chains together say of numbers that rest on draws, or do not. Every tally has as many
/// batches, and there are at least two; `draws` are those of a chain.
#[expect(clippy::cast_precision_loss, reason = "counts of batches and chains are small")]
pub(super) fn estimate(tallies: &[&Tally], is_drawn: &[bool], draws: u32) -> Estimates {
    let Some(first) = tallies.first() else {
        return Estimates { means: Vec::new(), errors: Vec::new() };
    };
    let n = first.sums.len();
    let at = first.level();
    let length = first.levels[at].length;
    let chains = (tallies.len() * LANES) as f64;
    let batches = (first.batches / length) as f64 * chains;
    let whole = first.batches as f64;
    let mut means = Vec::with_capacity(n);
    let (mut by_batch, mut by_chain) = (Vec::with_capacity(n), Vec::with_capacity(n));
    for i in 0..n {
        let of_chains = || tallies.iter().flat_map(|t| &t.sums[i]).map(|sum| sum / whole);
        let mean = of_chains().sum::<f64>() / chains;
        let between: f64 = of_chains().map(|x| (x - mean) * (x - mean)).sum();
        // Less what is in the batch that is not yet full.
        let closed = |t: &Tally| {
            t.sums[i].iter().zip(&t.levels[at].open[i]).map(|(sum, open)| sum - open).sum::<f64>()
        };
        let center = tallies.iter().map(|t| closed(t)).sum::<f64>() / (batches * length as f64);
        let squares: f64 = tallies.iter().map(|t| t.levels[at].squares[i]).sum();
        let spread = (squares - batches * center * center).max(0.0) / (batches - 1.0);
        means.push(mean);
        by_batch.push(spread * length as f64 / (whole * chains));
        by_chain.push(between / (chains - 1.0) / chains);
    }
    let ratio = by_chain.iter().sum::<f64>() / by_batch.iter().sum::<f64>();
    let wider = if ratio.is_finite() { ratio.max(1.0) } else { 1.0 };
    let unseen = UNSEEN / (f64::from(draws) * chains);
    let error = |((b, c), is_drawn): ((&f64, &f64), &bool)| {
        let variance = if *c > STUCK * b { *c } else { b * wider };
        if *is_drawn { (variance + unseen * unseen).sqrt() } else { 0.0 }
    };
    Estimates { means, errors: by_batch.iter().zip(&by_chain).zip(is_drawn).map(error).collect() }
}
