//! Single values: ids as text, days in ISO form, quantities as decimal numbers.

use records::{AnimalId, BatchId, ClutchId, Code, Place, RecordId, Tub};
use serde::{Deserialize, Serialize};
use units::{Celsius, Day, Grams, Millimetres, Night, Probability, When};

/// A value written as its text form; what does not read back to the same text is refused.
macro_rules! as_text {
    ($($name:ident($inner:ty): $read:expr, $write:expr;)+) => {$(
        #[derive(Serialize, Deserialize)]
        #[serde(try_from = "String", into = "String")]
        pub struct $name(pub $inner);

        impl TryFrom<String> for $name {
            type Error = String;

            fn try_from(text: String) -> Result<Self, String> {
                let read: fn(&str) -> Result<$inner, String> = $read;
                let value = Self(read(&text)?);
                let again = String::from(value.clone());
                if again == text { Ok(value) } else { Err(format!("\"{text}\" would read as \"{again}\"")) }
            }
        }

        impl From<$name> for String {
            fn from(value: $name) -> Self {
                let write: fn(&$inner) -> String = $write;
                write(&value.0)
            }
        }

        impl Clone for $name {
            fn clone(&self) -> Self {
                Self(self.0.clone())
            }
        }

        impl From<$inner> for $name {
            fn from(value: $inner) -> Self {
                Self(value)
            }
        }

        impl From<$name> for $inner {
            fn from(stored: $name) -> Self {
                stored.0
            }
        }
    )+};
}

as_text! {
    Id(RecordId): |t| parsed(t), |v| v.to_string();
    Animal(AnimalId): |t| parsed(t).map(AnimalId), |v| v.to_string();
    Clutch(ClutchId): |t| parsed(t).map(ClutchId), |v| v.to_string();
    Batch(BatchId): |t| parsed(t).map(BatchId), |v| v.to_string();
    IsoDay(Day): |t| parsed(t), |v| v.to_string();
    IsoNight(Night): |t| parsed(t).map(Night::beginning), |v| v.to_string();
    Moment(When): |t| parsed(t), |v| v.to_string();
    CodeText(Code): |t| Code::new(t).map_err(|e| e.to_string()), |v| v.as_str().to_owned();
    PlaceText(Place): |t| Place::new(t).map_err(|e| e.to_string()), |v| v.as_str().to_owned();
    TubText(Tub): |t| Tub::new(t).map_err(|e| e.to_string()), |v| v.as_str().to_owned();
}

fn parsed<T: std::str::FromStr<Err: std::fmt::Display>>(text: &str) -> Result<T, String> {
    text.parse().map_err(|e: T::Err| e.to_string())
}

/// A quantity written as the bare number in its unit, `1731` or `66.5`.
macro_rules! as_number {
    ($($name:ident($inner:ty);)+) => {$(
        #[derive(Clone, Copy, Serialize, Deserialize)]
        #[serde(try_from = "serde_json::Number", into = "serde_json::Number")]
        pub struct $name(pub $inner);

        impl TryFrom<serde_json::Number> for $name {
            type Error = String;

            fn try_from(number: serde_json::Number) -> Result<Self, String> {
                let value = number.as_f64().unwrap_or(f64::NAN);
                let stored = <$inner>::new(value).map_err(|e| e.to_string())?;
                // A finer number than the unit stores would be rounded unseen.
                if (stored.get() - value).abs() > 1e-9 {
                    return Err(format!("{number} is finer than {} are kept", <$inner>::UNIT));
                }
                Ok(Self(stored))
            }
        }

        impl From<$inner> for $name {
            fn from(value: $inner) -> Self {
                Self(value)
            }
        }

        impl From<$name> for $inner {
            fn from(stored: $name) -> Self {
                stored.0
            }
        }

        impl From<$name> for serde_json::Number {
            fn from(value: $name) -> Self {
                plain(value.0.get())
            }
        }
    )+};
}

as_number! {
    Mass(Grams);
    Length(Millimetres);
    Temperature(Celsius);
}

/// A whole number without ".0", any other in its shortest form.
#[expect(clippy::cast_possible_truncation, reason = "measures fit an i32 of steps")]
fn plain(value: f64) -> serde_json::Number {
    match serde_json::Number::from_f64(value) {
        Some(number) if value.fract() != 0.0 => number,
        _ => serde_json::Number::from(value as i64),
    }
}

/// How much a pair is wanted: finite, not below 0, at most 100.
#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(try_from = "serde_json::Number", into = "serde_json::Number")]
pub struct Weight(f64);

impl TryFrom<serde_json::Number> for Weight {
    type Error = String;

    fn try_from(number: serde_json::Number) -> Result<Self, String> {
        match number.as_f64() {
            Some(value) if (0.0..=100.0).contains(&value) => Ok(Self(value)),
            _ => Err(format!("{number} is no weight of a pair: from 0 to 100")),
        }
    }
}

impl From<Weight> for serde_json::Number {
    fn from(weight: Weight) -> Self {
        plain(weight.0)
    }
}

impl From<f64> for Weight {
    fn from(value: f64) -> Self {
        Self(value)
    }
}

impl From<Weight> for f64 {
    fn from(weight: Weight) -> Self {
        weight.0
    }
}

/// Relative humidity, whole percent.
#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(try_from = "serde_json::Number", into = "serde_json::Number")]
pub struct Humidity(u8);

impl TryFrom<serde_json::Number> for Humidity {
    type Error = String;

    fn try_from(number: serde_json::Number) -> Result<Self, String> {
        let percent = number.as_u64().and_then(|n| u8::try_from(n).ok()).filter(|n| *n <= 100);
        percent.map(Self).ok_or_else(|| format!("{number} % is no humidity: from 0 to 100"))
    }
}

impl From<Humidity> for serde_json::Number {
    fn from(humidity: Humidity) -> Self {
        humidity.0.into()
    }
}

impl From<Humidity> for u8 {
    fn from(humidity: Humidity) -> Self {
        humidity.0
    }
}

impl From<u8> for Humidity {
    fn from(percent: u8) -> Self {
        Self(percent)
    }
}

/// A chance to be wrong: from 0, below a half.
#[derive(Clone, Copy, Serialize, Deserialize)]
#[serde(try_from = "serde_json::Number", into = "serde_json::Number")]
pub struct ErrorRate(Probability);

impl TryFrom<serde_json::Number> for ErrorRate {
    type Error = String;

    fn try_from(number: serde_json::Number) -> Result<Self, String> {
        let value = number.as_f64().filter(|value| (0.0..0.5).contains(value));
        let value = value.and_then(|value| Probability::new(value).ok());
        value.map(Self).ok_or_else(|| format!("{number} is no error rate: from 0, below 0.5"))
    }
}

impl From<ErrorRate> for serde_json::Number {
    fn from(rate: ErrorRate) -> Self {
        plain(rate.0.get())
    }
}

impl From<Probability> for ErrorRate {
    fn from(value: Probability) -> Self {
        Self(value)
    }
}

impl From<ErrorRate> for Probability {
    fn from(rate: ErrorRate) -> Self {
        rate.0
    }
}

/// A closed vocabulary with the words of this version: screens may change theirs, these stay.
macro_rules! words {
    ($($name:ident: $theirs:ty { $($variant:ident = $word:literal),+ $(,)? })+) => {$(
        #[derive(Clone, Copy, Serialize, Deserialize)]
        pub enum $name { $(#[serde(rename = $word)] $variant),+ }

        impl From<$theirs> for $name {
            fn from(value: $theirs) -> Self {
                match value { $(<$theirs>::$variant => Self::$variant),+ }
            }
        }

        impl From<$name> for $theirs {
            fn from(value: $name) -> Self {
                match value { $($name::$variant => Self::$variant),+ }
            }
        }
    )+};
}

words! {
    Sex: records::Sex { Male = "male", Female = "female" }
    Meal: records::Meal { Taken = "taken", Refused = "refused" }
    EggsKept: records::EggsKept { WithHer = "with her", Incubator = "in an incubator" }
    ReadingKind: records::ReadingKind { Measured = "measured", Set = "set" }
    LabFound: records::LabFound {
        Lacks = "does not carry", Carries = "carries", OneCopy = "one copy",
        TwoCopies = "two copies",
    }
    ShedKind: records::ShedKind { PreLay = "pre-lay", Ordinary = "ordinary", CannotTell = "can't tell" }
    Lock: records::Lock {
        Seen = "seen", Suspected = "suspected", NoneSeen = "none seen", NotLooked = "not looked",
    }
    StayEnd: records::StayEnd { NextNoon = "next noon", Open = "open" }
    Leaving: records::Leaving {
        Died = "died", Sold = "sold", Traded = "traded", Lent = "lent", Returned = "returned",
    }
    Certainty: records::words::Certainty { Seen = "seen", Suspected = "suspected" }
    Choice: records::words::Choice { First = "first", Second = "second" }
}
