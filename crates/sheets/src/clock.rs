//! A time of day as written in a cell, by itself or behind a date.

use std::fmt;

use units::{Day, Instant, When, Zone};

/// Seconds of a day.
const DAY_SECONDS: u32 = 86_400;

/// A time of day, by the room's clock unless it says how far that clock is from UTC.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TimeOfDay {
    /// Seconds since midnight, below 86,400.
    pub seconds: u32,
    /// Minutes east of UTC, where written.
    pub offset: Option<i32>,
}

impl TimeOfDay {
    /// Reads `08:30`, `8:30:15 pm`, `07:30:00Z`, `08:30+01:00`, or the share of a day that a
    /// spreadsheet stores.
    #[must_use]
    pub fn written(text: &str) -> Option<Self> {
        let lower = text.trim().trim_start_matches(['t', 'T']).to_lowercase();
        if lower.len() > 40 {
            return None;
        }
        if let Some(share) = lower.strip_prefix("0.") {
            return of_share(share);
        }
        let end = lower.find(|c: char| !c.is_ascii_digit() && c != ':' && c != '.');
        let (clock, behind) = lower.split_at(end.unwrap_or(lower.len()));
        let mut parts = clock.trim_end_matches('.').split(':');
        let mut part = |most: u32| -> Option<Option<u32>> {
            let Some(text) = parts.next() else { return Some(None) };
            let whole = text.split('.').next().filter(|t| (1..=2).contains(&t.len()))?;
            whole.parse().ok().filter(|n| *n <= most).map(Some)
        };
        let (hours, minutes, seconds) = (part(23)??, part(59)??, part(59)?.unwrap_or(0));
        if parts.next().is_some() {
            return None;
        }
        let (half, offset) = behind_clock(behind.trim())?;
        let hours = match half {
            None => hours,
            Some(is_after_noon) if (1..=12).contains(&hours) => {
                hours % 12 + if is_after_noon { 12 } else { 0 }
            }
            Some(_) => return None,
        };
        Some(Self { seconds: hours * 3600 + minutes * 60 + seconds, offset })
    }

    /// The time behind a date in one cell, where there is one.
    ///
    /// # Errors
    /// What stands there and is no time.
    pub fn behind_date(cell: &str) -> Result<Option<Self>, String> {
        let Some(colon) = cell.find(':') else {
            let share = cell.trim().split_once('.').filter(|(days, share)| {
                let is_number = |t: &str| t.bytes().all(|b| b.is_ascii_digit());
                days.len() == 5 && is_number(days) && is_number(share)
            });
            return Ok(share.and_then(|(_, share)| of_share(share)));
        };
        let from = cell[..colon].trim_end_matches(|c: char| c.is_ascii_digit()).len();
        let text = &cell[from..];
        Self::written(text).map(Some).ok_or_else(|| text.to_owned())
    }

    /// The moment on a day, by a room's clock.
    #[must_use]
    pub fn on(self, day: Day, zone: &Zone) -> When {
        let seconds = i64::from(self.seconds);
        When::Instant(Instant::from_seconds(match self.offset {
            Some(minutes) => {
                i64::from(day.number()) * i64::from(DAY_SECONDS) + seconds - i64::from(minutes) * 60
            }
            None => {
                let hour = i8::try_from(seconds / 3600).unwrap_or(0);
                zone.at_hour(day, hour).seconds() + seconds % 3600
            }
        }))
    }

    /// Day and time in UTC of a moment.
    #[must_use]
    pub fn of(at: Instant) -> (Day, Self) {
        let length = i64::from(DAY_SECONDS);
        let (days, seconds) = (at.seconds().div_euclid(length), at.seconds().rem_euclid(length));
        let day = Day::from_number(i32::try_from(days).unwrap_or(i32::MAX / 2));
        (day, Self { seconds: u32::try_from(seconds).unwrap_or(0), offset: Some(0) })
    }
}

impl fmt::Display for TimeOfDay {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { seconds, offset } = *self;
        write!(f, "{:02}:{:02}", seconds / 3600, seconds / 60 % 60)?;
        if seconds % 60 != 0 {
            write!(f, ":{:02}", seconds % 60)?;
        }
        match offset {
            None => Ok(()),
            Some(0) => f.write_str("Z"),
            Some(minutes) => {
                let sign = if minutes < 0 { '-' } else { '+' };
                write!(f, "{sign}{:02}:{:02}", minutes.abs() / 60, minutes.abs() % 60)
            }
        }
    }
}

/// The digits behind the point of a share of a day.
fn of_share(digits: &str) -> Option<TimeOfDay> {
    let share: f64 = format!("0.{digits}").parse().ok()?;
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 86,400")]
    let seconds = (share * f64::from(DAY_SECONDS)).round() as u32;
    Some(TimeOfDay { seconds: seconds.min(DAY_SECONDS - 1), offset: None })
}

/// Whether it is after noon, and minutes east of UTC, where either is told; none where it is neither.
fn behind_clock(text: &str) -> Option<(Option<bool>, Option<i32>)> {
    match text.replace('.', "").as_str() {
        "" | "h" | "uhr" => Some((None, None)),
        "am" => Some((Some(false), None)),
        "pm" => Some((Some(true), None)),
        "z" | "utc" | "gmt" => Some((None, Some(0))),
        other => {
            let (sign, digits) = match other.chars().next()? {
                '+' => (1, &other[1..]),
                '-' => (-1, &other[1..]),
                _ => return None,
            };
            let digits = digits.replace(':', "");
            let is_number = digits.bytes().all(|b| b.is_ascii_digit());
            let (hours, minutes) = match digits.len() {
                2 if is_number => (digits.as_str(), "0"),
                4 if is_number => digits.split_at(2),
                _ => return None,
            };
            let hours: i32 = hours.parse().ok().filter(|h| *h <= 14)?;
            let minutes: i32 = minutes.parse().ok().filter(|m| *m < 60)?;
            Some((None, Some(sign * (hours * 60 + minutes))))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn read(text: &str) -> String {
        TimeOfDay::written(text).map_or_else(|| "-".to_owned(), |t| t.to_string())
    }

    #[test]
    fn times_of_day() {
        for (text, wanted) in [
            ("08:30", "08:30"),
            ("8:30", "08:30"),
            ("8:30:15", "08:30:15"),
            ("T08:30:00.000Z", "08:30Z"),
            ("8:30 PM", "20:30"),
            ("12:05 a.m.", "00:05"),
            ("12:05pm", "12:05"),
            ("08:30+01:00", "08:30+01:00"),
            ("08:30 -0530", "08:30-05:30"),
            ("0.354167", "08:30"),
            ("23:59:59", "23:59:59"),
            ("24:00", "-"),
            ("8:60", "-"),
            ("13:00 pm", "-"),
            ("8", "-"),
            ("noon", "-"),
            ("8:30:15:1", "-"),
            ("", "-"),
        ] {
            assert_eq!(read(text), wanted, "{text}");
        }
        let behind = |cell: &str| TimeOfDay::behind_date(cell).map(|t| t.map(|t| t.to_string()));
        assert_eq!(behind("2026-02-10"), Ok(None));
        assert_eq!(behind("2026-02-10 08:30"), Ok(Some("08:30".to_owned())));
        assert_eq!(behind("2026-02-10T08:30:00Z"), Ok(Some("08:30Z".to_owned())));
        assert_eq!(behind("46063.5"), Ok(Some("12:00".to_owned())));
        assert_eq!(behind("2026-02-10 25:00"), Err("25:00".to_owned()));
    }

    proptest! {
        #[test]
        fn what_is_shown_comes_back(seconds in 0u32..86_400, offset in prop::option::of(-840i32..=840)) {
            let time = TimeOfDay { seconds, offset };
            prop_assert_eq!(TimeOfDay::written(&time.to_string()), Some(time));
        }

        #[test]
        fn a_moment_comes_back(seconds in 0i64..4_000_000_000) {
            let at = Instant::from_seconds(seconds);
            let (day, time) = TimeOfDay::of(at);
            let zone = Zone::named("Europe/Berlin").unwrap();
            prop_assert_eq!(time.on(day, &zone), When::Instant(at));
        }

        #[test]
        fn any_text_is_read_or_not(text in "\\PC{0,30}") {
            let _ = TimeOfDay::written(&text);
            let _ = TimeOfDay::behind_date(&text);
        }
    }
}
