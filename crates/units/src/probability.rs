//! A chance between 0 and 1.

use std::fmt;

/// A chance, always finite and within 0..=1.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Probability(f64);

/// A number that is no chance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ProbabilityError(pub f64);

impl fmt::Display for ProbabilityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} is no chance: give a number from 0 to 1", self.0)
    }
}

impl std::error::Error for ProbabilityError {}

impl Probability {
    /// Cannot happen.
    pub const ZERO: Self = Self(0.0);
    /// Certain.
    pub const ONE: Self = Self(1.0);

    /// Checks that `p` is finite and within 0..=1.
    ///
    /// # Errors
    /// [`ProbabilityError`] carrying the number refused.
    pub fn new(p: f64) -> Result<Self, ProbabilityError> {
        if (0.0..=1.0).contains(&p) { Ok(Self(p)) } else { Err(ProbabilityError(p)) }
    }

    /// Takes the end that `p` overshot by rounding; not a number becomes 0.
    #[must_use]
    pub fn clamped(p: f64) -> Self {
        if p.is_nan() { Self::ZERO } else { Self(p.clamp(0.0, 1.0)) }
    }

    /// The number, 0..=1.
    #[must_use]
    pub const fn get(self) -> f64 {
        self.0
    }

    /// The chance that it does not happen.
    #[must_use]
    pub fn complement(self) -> Self {
        Self(1.0 - self.0)
    }
}

impl fmt::Display for Probability {
    /// Percent as a keeper reads it: never "0 %" or "100 %" for what is neither.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let percent = self.0 * 100.0;
        match percent {
            0.0 => f.write_str("0 %"),
            100.0 => f.write_str("100 %"),
            p if p < 0.1 => f.write_str("under 0.1 %"),
            p if p > 99.9 => f.write_str("over 99.9 %"),
            p if !(1.0..=99.0).contains(&p) => write!(f, "{p:.1} %"),
            p => write!(f, "{p:.0} %"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_what_is_no_chance() {
        for bad in [-0.1, 1.000_001, f64::NAN, f64::INFINITY] {
            assert!(Probability::new(bad).is_err(), "{bad}");
        }
        assert_eq!(Probability::clamped(1.000_001), Probability::ONE);
    }

    #[test]
    fn prints_no_false_certainty() {
        let shown = |p: f64| Probability::clamped(p).to_string();
        assert_eq!(shown(0.0), "0 %");
        assert_eq!(shown(0.0004), "under 0.1 %");
        assert_eq!(shown(0.004), "0.4 %");
        assert_eq!(shown(0.6667), "67 %");
        assert_eq!(shown(0.994), "99.4 %");
        assert_eq!(shown(0.9999), "over 99.9 %");
        assert_eq!(shown(1.0), "100 %");
    }
}
