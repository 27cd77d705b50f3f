//! What many scored forecasts add up to.

use super::error::median;
use super::fell::{Fell, distance};
use super::share::{Case, Share, clustered};

/// The intervals that are scored.
pub const COVERAGES: [f64; 3] = [0.5, 0.8, 0.95];

/// One forecast with what came of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Scored {
    /// Whose it was: forecasts of one source are not independent.
    pub source: usize,
    /// Its weight: 1, or less where it is not known whether what it was made on came true.
    pub weight: f64,
    /// Where the truth fell.
    pub fell: Fell,
    /// Truth less median, in the unit of the truth; of a truth that lies between two values from the
    /// middle of them, none where one of them is not known.
    pub off: Option<f64>,
    /// Continuous ranked probability score, where the truth is known exactly.
    pub crps: Option<f64>,
}

/// The record of many.
#[derive(Clone, Debug, PartialEq)]
pub struct Tally {
    /// Forecasts.
    pub forecasts: usize,
    /// Sources.
    pub sources: usize,
    /// Sum of their weights.
    pub weight: f64,
    /// Independent cases that would tell the share of the 80 % interval as surely.
    pub effective: f64,
    /// How many truths fell into the intervals of [`COVERAGES`].
    pub held: [Share; 3],
    /// Forecasts (by weight) of which the 80 % interval surely held, surely did not, and may have.
    pub surely: [f64; 3],
    /// Median size of the error.
    pub error: Option<f64>,
    /// Median of truth less forecast: above 0 where it came later, or was larger, than forecast.
    pub bias: Option<f64>,
    /// Mean continuous ranked probability score.
    pub crps: Option<f64>,
    /// Farthest the truths are from an even spread over their forecasts.
    pub distance: f64,
}

impl Tally {
    /// Adds up; `None` without weight.
    #[must_use]
    pub fn of(scored: &[Scored]) -> Option<Self> {
        let held = |coverage: f64| {
            let case = |s: &Scored| Case {
                source: s.source,
                weight: s.weight,
                held: s.fell.inside(coverage),
            };
            clustered(&scored.iter().map(case).collect::<Vec<_>>())
        };
        let eighty = held(COVERAGES[1])?;
        let falls: Vec<(Fell, f64)> = scored.iter().map(|s| (s.fell, s.weight)).collect();
        let off: Vec<(f64, f64)> = scored.iter().filter_map(|s| Some((s.off?, s.weight))).collect();
        let size: Vec<(f64, f64)> = off.iter().map(|(off, weight)| (off.abs(), *weight)).collect();
        let mut sources: Vec<usize> = scored.iter().map(|s| s.source).collect();
        sources.sort_unstable();
        sources.dedup();
        Some(Self {
            forecasts: scored.len(),
            sources: sources.len(),
            weight: scored.iter().map(|s| s.weight).sum(),
            effective: eighty.1,
            held: [held(COVERAGES[0])?.0, eighty.0, held(COVERAGES[2])?.0],
            surely: surely(scored),
            error: median(&size),
            bias: median(&off),
            crps: mean_crps(scored),
            distance: distance(&falls),
        })
    }
}

fn surely(scored: &[Scored]) -> [f64; 3] {
    let mut by = [0.0; 3];
    for s in scored {
        let inside = s.fell.inside(COVERAGES[1]);
        let which = if inside >= 1.0 - 1e-9 {
            0
        } else if inside <= 1e-9 {
            1
        } else {
            2
        };
        by[which] += s.weight;
    }
    by
}

fn mean_crps(scored: &[Scored]) -> Option<f64> {
    let known = || scored.iter().filter_map(|s| Some((s.crps?, s.weight)));
    let weight: f64 = known().map(|(_, weight)| weight).sum();
    (weight > 0.0).then(|| known().map(|(crps, w)| crps * w).sum::<f64>() / weight)
}
