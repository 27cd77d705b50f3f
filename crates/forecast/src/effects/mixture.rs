//! What is believed of one number: a mixture of shifted Student or normal distributions.

use super::special::solve;
use crate::student::below;

/// One part of a mixture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Part {
    /// Share of the whole.
    pub weight: f64,
    /// Middle.
    pub centre: f64,
    /// Scale; the standard deviation where `degrees` is infinite.
    pub scale: f64,
    /// Degrees of freedom of Student's t; infinite for a normal part.
    pub degrees: f64,
}

/// A mixture whose weights sum to 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Mixture(pub Vec<Part>);

/// Median and ends of an interval that leaves as much above as below.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}

impl Interval {
    /// Whether the value lies outside.
    #[must_use]
    pub fn excludes(&self, value: f64) -> bool {
        value < self.low || self.high < value
    }

    /// Both ends on another scale, which must rise.
    #[must_use]
    pub fn map(self, f: impl Fn(f64) -> f64) -> Self {
        Self { low: f(self.low), high: f(self.high) }
    }
}

impl Mixture {
    /// Chance that the number lies below `x`.
    #[must_use]
    pub fn below(&self, x: f64) -> f64 {
        let part = |p: &Part| {
            if p.scale > 0.0 {
                p.weight * below((x - p.centre) / p.scale, p.degrees)
            } else if x < p.centre {
                0.0
            } else {
                p.weight
            }
        };
        self.0.iter().map(part).sum()
    }

    /// The number below which `share` lies.
    #[must_use]
    pub fn quantile(&self, share: f64) -> f64 {
        let ends = self.0.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
            (low.min(p.centre - 4.0 * p.scale), high.max(p.centre + 4.0 * p.scale))
        });
        solve(share, ends, |x| self.below(x))
    }

    /// As likely above as below.
    #[must_use]
    pub fn median(&self) -> f64 {
        self.quantile(0.5)
    }

    /// The middle interval that holds the number with that chance.
    #[must_use]
    pub fn interval(&self, coverage: f64) -> Interval {
        let tail = 0.5 * (1.0 - coverage);
        Interval { low: self.quantile(tail), high: self.quantile(1.0 - tail) }
    }

    /// Mean, where every part has one.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.0.iter().map(|p| p.weight * p.centre).sum()
    }

    /// Variance, where every part has one (more than two degrees of freedom).
    #[must_use]
    pub fn variance(&self) -> f64 {
        let mean = self.mean();
        let own = |p: &Part| {
            let widen = if p.degrees.is_infinite() { 1.0 } else { p.degrees / (p.degrees - 2.0) };
            p.weight * (p.scale * p.scale * widen + (p.centre - mean).powi(2))
        };
        self.0.iter().map(own).sum()
    }

    /// The number times `factor`, which must be above zero.
    #[must_use]
    pub fn scaled(&self, factor: f64) -> Self {
        let part = |p: &Part| Part { centre: p.centre * factor, scale: p.scale * factor, ..*p };
        Self(self.0.iter().map(part).collect())
    }
}
