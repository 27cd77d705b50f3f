//! Temperatures by place.

use units::{Celsius, Day};

use crate::ids::RecordId;
use crate::words::ReadingKind;

/// One temperature of a place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlaceReading {
    /// The day.
    pub day: Day,
    /// Seconds after noon of that day, negative in the morning; a reading of a day alone is at noon.
    pub seconds_from_noon: i32,
    /// The record.
    pub record: RecordId,
    /// Read, or set.
    pub kind: ReadingKind,
    /// The temperature.
    pub celsius: Celsius,
    /// Relative humidity, percent.
    pub humidity: Option<u8>,
}

impl PlaceReading {
    /// Days since noon of that day.
    #[must_use]
    pub fn days_since_noon_of(&self, day: Day) -> f64 {
        f64::from(self.day.days_since(day)) + f64::from(self.seconds_from_noon) / 86_400.0
    }
}
