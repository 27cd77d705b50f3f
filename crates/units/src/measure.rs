//! Masses, lengths and temperatures, stored in whole steps so that text in equals text out.

use std::fmt;

/// A number outside what the unit can hold.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasureError {
    /// What was given.
    pub value: f64,
    /// The unit, as printed.
    pub unit: &'static str,
}

impl fmt::Display for MeasureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {} cannot be stored", self.value, self.unit)
    }
}

impl std::error::Error for MeasureError {}

macro_rules! measure {
    ($(#[$doc:meta])* $name:ident, $unit:literal, $steps:literal, $places:literal) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(i32);

        impl $name {
            /// The unit as printed behind the number.
            pub const UNIT: &'static str = $unit;

            /// Rounds to the nearest step the type stores.
            ///
            /// # Errors
            /// [`MeasureError`] for a number that is not finite or does not fit.
            pub fn new(value: f64) -> Result<Self, MeasureError> {
                let steps = (value * f64::from($steps)).round();
                if steps.is_finite() && steps.abs() < f64::from(i32::MAX) {
                    #[expect(clippy::cast_possible_truncation, reason = "checked just above")]
                    Ok(Self(steps as i32))
                } else {
                    Err(MeasureError { value, unit: $unit })
                }
            }

            /// From whole steps, as stored.
            #[must_use]
            pub const fn from_steps(steps: i32) -> Self {
                Self(steps)
            }

            /// Whole steps, as stored.
            #[must_use]
            pub const fn steps(self) -> i32 {
                self.0
            }

            /// The number in the unit.
            #[must_use]
            pub fn get(self) -> f64 {
                f64::from(self.0) / f64::from($steps)
            }
        }

        impl fmt::Display for $name {
            /// The bare number without needless zeros; the caller adds the unit.
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                let text = format!("{:.*}", $places, self.get());
                f.write_str(text.trim_end_matches('0').trim_end_matches('.'))
            }
        }
    };
}

measure!(
    /// Mass in grams, stored to a tenth of a gram.
    Grams, "g", 10, 1
);
measure!(
    /// Length in millimetres, stored to a hundredth of a millimetre.
    Millimetres, "mm", 100, 2
);
measure!(
    /// Temperature in degrees Celsius, stored to a hundredth of a degree.
    Celsius, "°C", 100, 2
);

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn prints_what_was_typed() {
        assert_eq!(Grams::new(1731.0).unwrap().to_string(), "1731");
        assert_eq!(Grams::new(66.5).unwrap().to_string(), "66.5");
        assert_eq!(Grams::new(1500.0).unwrap().to_string(), "1500");
        assert_eq!(Millimetres::new(16.0).unwrap().to_string(), "16");
        assert_eq!(Millimetres::new(13.25).unwrap().to_string(), "13.25");
        assert_eq!(Celsius::new(-0.5).unwrap().to_string(), "-0.5");
        assert_eq!(Grams::new(0.0).unwrap().to_string(), "0");
    }

    #[test]
    fn refuses_what_cannot_be_stored() {
        assert!(Grams::new(f64::NAN).is_err());
        assert!(Millimetres::new(1e12).is_err());
    }

    proptest! {
        #[test]
        fn text_comes_back_equal(steps in -10_000_000i32..10_000_000) {
            let g = Grams::from_steps(steps);
            let back: f64 = g.to_string().parse().unwrap();
            prop_assert_eq!(Grams::new(back).unwrap(), g);
        }
    }
}
