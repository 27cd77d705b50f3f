//! An estimate: never a bare number, always with its interval, its coverage and its method.

use crate::probability::Probability;

/// A median with an interval that holds the truth with the stated coverage.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate<T> {
    /// As likely above as below.
    pub median: T,
    /// Lower end of the interval.
    pub low: T,
    /// Upper end of the interval.
    pub high: T,
    /// Chance that the interval holds the truth, as the method claims it.
    pub coverage: Probability,
    /// How it was computed, in a few words.
    pub method: &'static str,
}

impl<T> Estimate<T> {
    /// The same estimate in another unit.
    pub fn map<U>(self, mut f: impl FnMut(T) -> U) -> Estimate<U> {
        Estimate {
            median: f(self.median),
            low: f(self.low),
            high: f(self.high),
            coverage: self.coverage,
            method: self.method,
        }
    }
}
