//! A breeding season, named by the day on which it opens.

use crate::calendar::Day;

/// One breeding season: from its opening day to the day before the next one opens.
///
/// Common practice, no source: it opens at the beginning of November (northern hemisphere).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Season {
    opens: Day,
}

impl Season {
    /// Month and day of the month on which a season opens unless the keeper sets another.
    pub const DEFAULT_OPENING: (i8, i8) = (11, 1);

    /// Reads month and day of an opening, such as `11-01`; none for a day that no year has.
    #[must_use]
    pub fn read_opening(text: &str) -> Option<(i8, i8)> {
        let (month, day) = text.trim().split_once('-')?;
        let opening = (month.parse().ok()?, day.parse().ok()?);
        Day::new(2024, opening.0, opening.1).ok().map(|_| opening)
    }

    /// The season that holds `day`, when seasons open on `opening` (month, day) each year.
    ///
    /// An opening of 29 February opens on 28 February in other years.
    #[must_use]
    pub fn holding(day: Day, opening: (i8, i8)) -> Self {
        let opens_in = |year: i16| {
            Day::new(year, opening.0, opening.1)
                .or_else(|_| Day::new(year, opening.0, 28))
                .unwrap_or(day)
        };
        let this_year = opens_in(day.year());
        let opens = if this_year <= day { this_year } else { opens_in(day.year() - 1) };
        Self { opens }
    }

    /// First day of the season.
    #[must_use]
    pub const fn opens(self) -> Day {
        self.opens
    }

    /// "2025/26".
    #[must_use]
    pub fn name(self) -> String {
        let year = self.opens.year();
        format!("{year}/{:02}", (year + 1) % 100)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_season_turns_on_its_opening_day() {
        let name =
            |text: &str| Season::holding(text.parse().unwrap(), Season::DEFAULT_OPENING).name();
        assert_eq!(name("2025-10-31"), "2024/25");
        assert_eq!(name("2025-11-01"), "2025/26");
        assert_eq!(name("2026-02-10"), "2025/26");
    }
}
