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

    /// Percent to a tenth where a tenth says more: "25 %", "12.5 %", "< 0.1 %".
    ///
    /// For chances of young, where the difference of 0.4 % and 0.04 % is worth a keeper's while.
    /// What is certain but for the rounding of sums reads "100 %".
    #[must_use]
    pub fn to_a_tenth(self) -> String {
        let tenths = (self.0 * 1000.0).round();
        if self.0 == 0.0 {
            "0 %".to_owned()
        } else if self.0 > 1.0 - ROUNDING {
            "100 %".to_owned()
        } else if self.0 < 0.001 {
            "< 0.1 %".to_owned()
        } else if self.0 > 0.999 {
            "> 99.9 %".to_owned()
        } else if tenths % 10.0 == 0.0 {
            format!("{:.0} %", tenths / 10.0)
        } else {
            format!("{:.1} %", tenths / 10.0)
        }
    }

    /// As a keeper says it aloud: "1 in 4", "3 in 16", else "about 1 in 23".
    ///
    /// Fractions up to 64ths are exact; other chances are rounded, small ones to one in a whole
    /// number, large ones to tenths.
    #[must_use]
    pub fn one_in(self) -> String {
        if self.0 == 0.0 {
            return "none".to_owned();
        }
        if self.0 > 1.0 - ROUNDING {
            return "every one".to_owned();
        }
        let exact = (2..=64_u8).find_map(|of| {
            let n = (self.0 * f64::from(of)).round();
            let fits = n >= 1.0 && (self.0 - n / f64::from(of)).abs() < ROUNDING;
            fits.then(|| format!("{n} in {of}"))
        });
        exact.unwrap_or_else(|| match self.0 {
            p if p <= 1.0 / 1.5 => self.about_one_in(),
            p if p < 0.95 => format!("about {:.0} in 10", p * 10.0),
            _ => "nearly every one".to_owned(),
        })
    }

    /// "about 1 in 23": the whole number that is nearest to 1/p.
    #[must_use]
    pub fn about_one_in(self) -> String {
        format!("about 1 in {:.0}", 1.0 / self.0)
    }
}

/// What sums of chances may be off by.
const ROUNDING: f64 = 1e-12;

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

    #[test]
    fn chances_of_young_read_to_a_tenth_and_as_one_in_so_many() {
        for (p, percent, one_in) in [
            (0.0, "0 %", "none"),
            (1e-7, "< 0.1 %", "about 1 in 10000000"),
            (0.004, "0.4 %", "about 1 in 250"),
            (1.0 / 64.0, "1.6 %", "1 in 64"),
            (0.0625, "6.3 %", "1 in 16"),
            (0.125, "12.5 %", "1 in 8"),
            (3.0 / 16.0, "18.8 %", "3 in 16"),
            (0.25, "25 %", "1 in 4"),
            (2.0 / 3.0, "66.7 %", "2 in 3"),
            (0.6234, "62.3 %", "about 1 in 2"),
            (0.8512, "85.1 %", "about 9 in 10"),
            (0.999_95, "> 99.9 %", "nearly every one"),
            (1.0 - 1e-15, "100 %", "every one"),
            (1.0, "100 %", "every one"),
        ] {
            let p = Probability::clamped(p);
            assert_eq!((p.to_a_tenth().as_str(), p.one_in().as_str()), (percent, one_in));
        }
    }
}
