//! Days, spans of days, and nights that run from noon to noon.

use std::fmt;
use std::ops::{Add, Sub};
use std::str::FromStr;

use jiff::civil::Date;

/// A calendar day in the room's zone. Prints and parses as ISO 8601 (`2026-02-10`).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(Date);

/// Text or numbers that name no day.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DayError(pub String);

impl fmt::Display for DayError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "\"{}\" is no day: write it like 2026-02-10", self.0)
    }
}

impl std::error::Error for DayError {}

impl Day {
    /// From year, month 1..=12 and day of the month.
    ///
    /// # Errors
    /// [`DayError`] when the calendar has no such day.
    pub fn new(year: i16, month: i8, day: i8) -> Result<Self, DayError> {
        Date::new(year, month, day)
            .map(Self)
            .map_err(|_| DayError(format!("{year:04}-{month:02}-{day:02}")))
    }

    /// From the date library's own type.
    #[must_use]
    pub const fn from_date(date: Date) -> Self {
        Self(date)
    }

    /// The date library's own type.
    #[must_use]
    pub const fn date(self) -> Date {
        self.0
    }

    /// Year.
    #[must_use]
    pub fn year(self) -> i16 {
        self.0.year()
    }

    /// Month, 1..=12.
    #[must_use]
    pub fn month(self) -> i8 {
        self.0.month()
    }

    /// Day of the month, 1..=31.
    #[must_use]
    pub fn day_of_month(self) -> i8 {
        self.0.day()
    }

    /// Whole days since 1970-01-01 (negative before).
    #[must_use]
    pub fn number(self) -> i32 {
        self.0.since(Date::constant(1970, 1, 1)).map_or(0, |span| span.get_days())
    }

    /// The day that many days after 1970-01-01; the calendar's end where it does not exist.
    #[must_use]
    pub fn from_number(days: i32) -> Self {
        Self(Date::constant(1970, 1, 1).saturating_add(jiff::Span::new().days(days)))
    }

    /// Whole days from `earlier` to this day; negative when this day comes first.
    #[must_use]
    pub fn days_since(self, earlier: Self) -> i32 {
        self.number() - earlier.number()
    }

    /// "10 February", as read aloud.
    #[must_use]
    pub fn spoken(self) -> String {
        self.0.strftime("%-d %B").to_string()
    }

    /// "Tuesday 10 February", as read aloud.
    #[must_use]
    pub fn spoken_with_weekday(self) -> String {
        self.0.strftime("%A %-d %B").to_string()
    }

    /// "10 February 2026".
    #[must_use]
    pub fn spoken_with_year(self) -> String {
        format!("{} {}", self.spoken(), self.year())
    }

    /// "10 Feb 2026".
    #[must_use]
    pub fn short_with_year(self) -> String {
        format!("{} {}", self.short(), self.year())
    }

    /// "10 Feb", for tight places.
    #[must_use]
    pub fn short(self) -> String {
        self.0.strftime("%-d %b").to_string()
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

impl FromStr for Day {
    type Err = DayError;

    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let strict = text.len() == 10 && text.as_bytes()[4] == b'-' && text.as_bytes()[7] == b'-';
        if !strict {
            return Err(DayError(text.to_owned()));
        }
        text.parse::<Date>().map(Self).map_err(|_| DayError(text.to_owned()))
    }
}

impl Add<i32> for Day {
    type Output = Self;

    fn add(self, days: i32) -> Self {
        Self(self.0.saturating_add(jiff::Span::new().days(i64::from(days))))
    }
}

impl Sub<i32> for Day {
    type Output = Self;

    fn sub(self, days: i32) -> Self {
        self + (-days)
    }
}

/// A run of days, both ends included; the first never lies after the last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct DaySpan {
    first: Day,
    last: Day,
}

impl DaySpan {
    /// The span between two days, in whichever order they are given.
    #[must_use]
    pub fn between(a: Day, b: Day) -> Self {
        Self { first: a.min(b), last: a.max(b) }
    }

    /// First day.
    #[must_use]
    pub const fn first(self) -> Day {
        self.first
    }

    /// Last day.
    #[must_use]
    pub const fn last(self) -> Day {
        self.last
    }

    /// Whether the day lies within.
    #[must_use]
    pub fn contains(self, day: Day) -> bool {
        self.first <= day && day <= self.last
    }
}

impl fmt::Display for DaySpan {
    /// "9–16 Feb", "28 Jan – 3 Feb", "10 Feb".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (a, b) = (self.first, self.last);
        if a == b {
            f.write_str(&a.short())
        } else if (a.year(), a.month()) == (b.year(), b.month()) {
            write!(f, "{}–{}", a.day_of_month(), b.short())
        } else {
            write!(f, "{} – {}", a.short(), b.short())
        }
    }
}

/// A night, from noon to noon, named by the day on which it begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Night(Day);

impl Night {
    /// The night that begins on that day's evening.
    #[must_use]
    pub const fn beginning(day: Day) -> Self {
        Self(day)
    }

    /// The day on whose evening it begins.
    #[must_use]
    pub const fn evening(self) -> Day {
        self.0
    }

    /// The day on whose morning it ends.
    #[must_use]
    pub fn morning(self) -> Day {
        self.0 + 1
    }

    /// Whole nights from `earlier` to this one; negative when this one comes first.
    #[must_use]
    pub fn nights_since(self, earlier: Self) -> i32 {
        self.0.days_since(earlier.0)
    }

    /// "Night of 10 to 11 February".
    #[must_use]
    pub fn spoken(self) -> String {
        let (a, b) = (self.evening(), self.morning());
        if a.month() == b.month() {
            format!("{} to {}", a.day_of_month(), b.spoken())
        } else {
            format!("{} to {}", a.spoken(), b.spoken())
        }
    }
}

impl fmt::Display for Night {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn days_are_read_strictly() {
        for bad in ["2026-2-10", "20260210", "2026-02-30", "10.02.2026", "", "2026-02-10T00"] {
            assert!(bad.parse::<Day>().is_err(), "{bad}");
        }
        assert_eq!("2024-02-29".parse::<Day>().unwrap().number(), 19_782);
    }

    #[test]
    fn spans_read_as_written_by_hand() {
        let day = |m, d| Day::new(2026, m, d).unwrap();
        assert_eq!(DaySpan::between(day(2, 16), day(2, 9)).to_string(), "9–16 Feb");
        assert_eq!(DaySpan::between(day(1, 28), day(2, 3)).to_string(), "28 Jan – 3 Feb");
        assert_eq!(Night::beginning(day(2, 10)).spoken(), "10 to 11 February");
        assert_eq!(Night::beginning(day(1, 31)).spoken(), "31 January to 1 February");
    }

    proptest! {
        #[test]
        fn day_numbers_and_text_come_back(n in -100_000i32..100_000, k in -4000i32..4000) {
            let day = Day::from_number(n);
            prop_assert_eq!(day.number(), n);
            prop_assert_eq!(day.to_string().parse::<Day>().unwrap(), day);
            prop_assert_eq!((day + k).days_since(day), k);
        }
    }
}
