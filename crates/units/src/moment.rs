//! When something happened: as exact as the keeper wrote it, no more.

use std::fmt;
use std::str::FromStr;

use jiff::Timestamp;
use jiff::tz::TimeZone;

use crate::calendar::{Day, DayError, Night};

/// A point in time, to the second, without a zone. Prints as RFC 3339 in UTC.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Instant(i64);

impl Instant {
    /// From seconds since 1970-01-01T00:00:00Z.
    #[must_use]
    pub const fn from_seconds(seconds: i64) -> Self {
        Self(seconds)
    }

    /// Seconds since 1970-01-01T00:00:00Z.
    #[must_use]
    pub const fn seconds(self) -> i64 {
        self.0
    }
}

impl fmt::Display for Instant {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match Timestamp::from_second(self.0) {
            Ok(t) => write!(f, "{t}"),
            Err(_) => write!(f, "{}", Timestamp::MAX),
        }
    }
}

impl FromStr for Instant {
    type Err = DayError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        text.parse::<Timestamp>()
            .map(|t| Self(t.as_second()))
            .map_err(|_| DayError(text.to_owned()))
    }
}

/// The zone of a room, by its name in the time-zone database (`Europe/Berlin`).
#[derive(Clone, Debug, PartialEq)]
pub struct Zone(TimeZone);

impl Zone {
    /// The zone of that name.
    ///
    /// # Errors
    /// A sentence naming the zone that is not in the database.
    pub fn named(name: &str) -> Result<Self, String> {
        TimeZone::get(name).map(Self).map_err(|_| {
            format!("\"{name}\" is no time zone: give a name like Europe/Berlin or UTC")
        })
    }

    /// The machine's own zone; UTC where it has none.
    #[must_use]
    pub fn of_this_machine() -> Self {
        let zone = TimeZone::system();
        if zone.iana_name().is_some() { Self(zone) } else { Self(TimeZone::UTC) }
    }

    /// Its name in the time-zone database.
    #[must_use]
    pub fn name(&self) -> &str {
        self.0.iana_name().unwrap_or("UTC")
    }

    /// The calendar day on which the instant falls here.
    #[must_use]
    pub fn day_of(&self, at: Instant) -> Day {
        Day::from_date(self.local(at).date())
    }

    /// The night to which the instant belongs: before noon it is still last night.
    #[must_use]
    pub fn night_of(&self, at: Instant) -> Night {
        let local = self.local(at);
        let day = Day::from_date(local.date());
        Night::beginning(if local.hour() < 12 { day - 1 } else { day })
    }

    /// The instant of a wall-clock hour here. In a gap the later side, in a fold the first.
    #[must_use]
    pub fn at_hour(&self, day: Day, hour: i8) -> Instant {
        let wall = day.date().at(hour.clamp(0, 23), 0, 0, 0);
        self.0
            .to_timestamp(wall)
            .map_or(Instant(i64::from(day.number()) * 86_400), |t| Instant(t.as_second()))
    }

    /// "21:40", the wall clock here.
    #[must_use]
    pub fn clock(&self, at: Instant) -> String {
        let local = self.local(at);
        format!("{:02}:{:02}", local.hour(), local.minute())
    }

    fn local(&self, at: Instant) -> jiff::civil::DateTime {
        let t = Timestamp::from_second(at.0).unwrap_or(Timestamp::MAX);
        self.0.to_datetime(t)
    }
}

/// When a fact happened, as exact as it was written down.
///
/// Text form: `2026-02-10` (a day), `night 2026-02-10`, `2026-02-10T20:40:00Z`, `undated`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum When {
    /// Some time on a calendar day.
    Day(Day),
    /// Some time in a night, noon to noon.
    Night(Night),
    /// A point in time.
    Instant(Instant),
    /// Nobody wrote when.
    Undated,
}

impl When {
    /// The calendar day it falls on in `zone`; a night counts for the day it begins on.
    #[must_use]
    pub fn day(self, zone: &Zone) -> Option<Day> {
        match self {
            Self::Day(day) => Some(day),
            Self::Night(night) => Some(night.evening()),
            Self::Instant(at) => Some(zone.day_of(at)),
            Self::Undated => None,
        }
    }
}

impl fmt::Display for When {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Day(day) => write!(f, "{day}"),
            Self::Night(night) => write!(f, "night {night}"),
            Self::Instant(at) => write!(f, "{at}"),
            Self::Undated => f.write_str("undated"),
        }
    }
}

impl FromStr for When {
    type Err = DayError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        if text == "undated" {
            return Ok(Self::Undated);
        }
        if let Some(night) = text.strip_prefix("night ") {
            return Ok(Self::Night(Night::beginning(night.parse()?)));
        }
        if text.contains('T') {
            return text.parse().map(Self::Instant);
        }
        text.parse().map(Self::Day)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_night_runs_from_noon_to_noon() {
        let zone = Zone::named("Europe/Berlin").unwrap();
        let night = |text: &str| zone.night_of(text.parse().unwrap()).to_string();
        assert_eq!(night("2026-02-10T20:40:00Z"), "2026-02-10");
        assert_eq!(night("2026-02-11T10:59:59Z"), "2026-02-10");
        assert_eq!(night("2026-02-11T11:00:00Z"), "2026-02-11");
    }

    #[test]
    fn nights_survive_both_clock_changes() {
        let zone = Zone::named("Europe/Berlin").unwrap();
        for evening in ["2026-03-28", "2026-10-24"] {
            let day: Day = evening.parse().unwrap();
            let noon = zone.at_hour(day, 12);
            let next = zone.at_hour(day + 1, 12);
            assert!(matches!((next.seconds() - noon.seconds()) / 3600, 23 | 25));
            for at in [noon, Instant::from_seconds(next.seconds() - 1)] {
                assert_eq!(zone.night_of(at), Night::beginning(day));
            }
            assert_eq!(zone.night_of(next), Night::beginning(day + 1));
        }
    }

    #[test]
    fn text_forms_come_back() {
        for text in ["2026-02-10", "night 2026-02-10", "2026-02-10T20:40:00Z", "undated"] {
            assert_eq!(text.parse::<When>().unwrap().to_string(), text);
        }
    }
}
