//! Dates without a year across the top of a grid: "12 Nov", "3.2.", "02/10", "Tue 10 Feb". The year
//! is taken where something decides it, and what decided it is said; else it is asked for.

use units::Day;

use crate::date;
use crate::limits;
use crate::sheet::DateOrder;

/// A date without its year.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Partial {
    /// Month and day where the day stands first.
    pub dmy: Option<(i8, i8)>,
    /// Month and day where the month stands first.
    pub mdy: Option<(i8, i8)>,
    /// Days after Monday, where a weekday is named.
    weekday: Option<i8>,
}

impl Partial {
    fn under(self, order: Option<DateOrder>) -> Option<(i8, i8)> {
        match order {
            Some(DateOrder::Dmy) => self.dmy,
            Some(DateOrder::Mdy) => self.mdy,
            _ => self.dmy.filter(|_| self.dmy == self.mdy),
        }
    }
}

/// Reads a date that has no year; none where it has not that form.
#[must_use]
pub fn partial(text: &str) -> Option<Partial> {
    let text = text.trim();
    if text.is_empty() || text.len() > 32 || date::written(text, false).is_some() {
        return None;
    }
    let lower = text.to_lowercase();
    let (mut numbers, mut month, mut weekday) = (Vec::new(), None, None);
    for word in lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()) {
        for part in date::split_digits(word) {
            if part.as_bytes()[0].is_ascii_digit() {
                numbers.push(part);
            } else if let Some(found) = date::weekday_named(part) {
                weekday = Some(found);
            } else if let Some(found) = date::month_named(part).filter(|_| month.is_none()) {
                month = Some(found);
            } else if !matches!(part, "st" | "nd" | "rd" | "th" | "of") {
                return None;
            }
        }
    }
    if numbers.iter().any(|n| n.len() > 2) {
        return None;
    }
    let numbers: Vec<i8> = numbers.iter().filter_map(|n| n.parse().ok()).collect();
    let (dmy, mdy) = match (month, numbers.as_slice()) {
        (Some(month), [day]) => (real(month, *day), real(month, *day)),
        // Two numbers between points are a number, but for a point behind them.
        (None, [a, b]) if lower.ends_with('.') && !lower.contains(['/', '-']) => {
            (real(*b, *a), None)
        }
        (None, [a, b]) if lower.contains(['/', '-']) => (real(*b, *a), real(*a, *b)),
        _ => return None,
    };
    (dmy.is_some() || mdy.is_some()).then_some(Partial { dmy, mdy, weekday })
}

/// Month and day, where some year has them.
fn real(month: i8, day: i8) -> Option<(i8, i8)> {
    Day::new(2024, month, day).is_ok().then_some((month, day))
}

/// What can decide the years of one grid.
pub struct Clues<'a> {
    /// The year of the first date across, as the keeper says.
    pub told: Option<i16>,
    /// Day of reading.
    pub today: Option<Day>,
    /// Order of day and month, where it is decided.
    pub order: Option<DateOrder>,
    /// Titles above the table, its sheet's and its file's name.
    pub titles: &'a [String],
}

/// The days of such headings, and why they have these years.
pub type Dated = (Vec<Day>, String);

/// A date across, as far as it is known.
enum Across {
    Full(Day),
    Partial(Partial, (i8, i8)),
}

impl Across {
    fn month_and_day(&self) -> (i8, i8) {
        match self {
            Self::Full(day) => (day.month(), day.day_of_month()),
            Self::Partial(_, at) => *at,
        }
    }
}

/// Gives the headings their years.
///
/// # Errors
/// The question to ask, as a sentence.
pub fn decide(headings: &[&str], clues: &Clues<'_>) -> Result<Dated, String> {
    let across = headings.iter().map(|h| read(h, clues.order)).collect::<Result<Vec<_>, _>>()?;
    let is_forward = runs_forward(&across)?;
    let run = |start: i16| dated(&across, start, is_forward);
    if let Some(year) = clues.told {
        let days = run(year).ok_or_else(|| format!("{year} has no such day. {ASK}"))?;
        return Ok((days, "you said so.".to_owned()));
    }
    let newest = clues.today.map_or(limits::LAST_YEAR, Day::year);
    let mut fits: Vec<Vec<Day>> = (limits::FIRST_YEAR..=newest)
        .filter_map(run)
        .filter(|days| days.iter().all(|day| clues.today.is_none_or(|today| *day <= today)))
        .filter(|days| days.iter().zip(&across).all(|(day, across)| agrees(*day, across)))
        .collect();
    if across.iter().any(|a| matches!(a, Across::Full(_))) {
        let days = fits.pop().ok_or_else(|| format!("They fit no one run of days. {ASK}"))?;
        return Ok((days, "the dates beside them have it.".to_owned()));
    }
    by_weekdays(&across, &mut fits, newest)
        .or_else(|| by_titles(clues.titles, &mut fits))
        .unwrap_or_else(|| {
            let days = fits.pop().filter(|_| clues.today.is_some());
            let days = days.ok_or_else(|| format!("Nothing tells which. {ASK}"))?;
            Ok((days, "they run on, and no later year lies wholly before today.".to_owned()))
        })
}

const ASK: &str = "Give the year of the first of them (--year 2025, or on the Import page).";

fn read(heading: &str, order: Option<DateOrder>) -> Result<Across, String> {
    if let Some(day) =
        date::written(heading, false).and_then(|w| w.under(order.unwrap_or(DateOrder::Ymd)))
    {
        return Ok(Across::Full(day));
    }
    let partial = partial(heading).ok_or_else(|| format!("\"{heading}\" is no date."))?;
    let at = partial.under(order).ok_or_else(|| {
        format!(
            "\"{heading}\" can be read with day or month first: say which (--dates dmy or mdy, or \
             on the Import page)."
        )
    })?;
    Ok(Across::Partial(partial, at))
}

fn agrees(day: Day, across: &Across) -> bool {
    match across {
        Across::Full(full) => *full == day,
        Across::Partial(partial, _) => {
            partial.weekday.is_none_or(|weekday| weekday == weekday_of(day))
        }
    }
}

/// Days after Monday.
fn weekday_of(day: Day) -> i8 {
    day.date().weekday().to_monday_zero_offset()
}

/// Whether the dates run on from column to column; else they run back. The shorter way is meant
/// where the other is at least three times as long; our choice.
fn runs_forward(across: &[Across]) -> Result<bool, String> {
    let at = across.iter().map(|a| {
        let (month, day) = a.month_and_day();
        i64::from(month) * 31 + i64::from(day)
    });
    let at: Vec<i64> = at.collect();
    let steps = || at.windows(2).map(|w| w[1] - w[0]);
    let on: i64 = steps().map(|step| step.rem_euclid(12 * 31)).sum();
    let back: i64 = steps().map(|step| (-step).rem_euclid(12 * 31)).sum();
    if 3 * on <= back {
        Ok(true)
    } else if 3 * back <= on {
        Ok(false)
    } else {
        Err(format!("Its dates across run neither on nor back. {ASK}"))
    }
}

fn dated(across: &[Across], start: i16, is_forward: bool) -> Option<Vec<Day>> {
    let mut year = start;
    let mut before: Option<(i8, i8)> = None;
    let days = across.iter().map(|a| {
        let at = a.month_and_day();
        if let Some(before) = before {
            match is_forward {
                true if at < before => year += 1,
                false if at > before => year -= 1,
                _ => {}
            }
        }
        before = Some(at);
        Day::new(year, at.0, at.1).ok()
    });
    days.collect()
}

/// Years in which the named weekdays fall on these days come back after five or six; our choice is
/// to look no further back than that.
fn by_weekdays(
    across: &[Across],
    fits: &mut Vec<Vec<Day>>,
    newest: i16,
) -> Option<Result<Dated, String>> {
    let named = across.iter().any(|a| matches!(a, Across::Partial(p, _) if p.weekday.is_some()));
    if !named {
        return None;
    }
    if fits.is_empty() {
        return Some(Err(format!("The weekdays in its headings fit no year. {ASK}")));
    }
    fits.retain(|days| days.iter().all(|day| day.year() >= newest - 5));
    let only = (fits.len() == 1).then(|| fits.pop()).flatten()?;
    Some(Ok((only, "the weekdays in its headings fit no other of the last five.".to_owned())))
}

/// A year in a title, or a season such as 2025/26.
fn by_titles(titles: &[String], fits: &mut Vec<Vec<Day>>) -> Option<Result<Dated, String>> {
    let (years, season) = years_in(titles);
    let first = *years.first()?;
    if let Some(season) = season {
        let (from, to) = (Day::new(season, 7, 1).ok()?, Day::new(season + 1, 6, 30).ok()?);
        fits.retain(|days| days.iter().all(|day| (from..=to).contains(day)));
    } else if years.len() == 1 {
        fits.retain(|days| days.iter().any(|day| day.year() == first));
    } else {
        return Some(Err(format!("Several years stand above it or in its name. {ASK}")));
    }
    let name = season.map_or_else(|| first.to_string(), |y| format!("{y}/{:02}", (y + 1) % 100));
    Some(match fits.len() {
        1 => Ok((fits.pop()?, format!("{name} stands above them or in a name."))),
        0 => Err(format!("{name} stands above it or in its name, but does not fit. {ASK}")),
        _ => Err(format!("{name} can be the year of the first or of the last of them. {ASK}")),
    })
}

/// The different years named, and a season where two that follow each other are meant.
fn years_in(titles: &[String]) -> (Vec<i16>, Option<i16>) {
    let mut years: Vec<i16> = Vec::new();
    let mut season = None;
    for title in titles {
        let words: Vec<&str> =
            title.split(|c: char| !c.is_ascii_digit()).filter(|w| !w.is_empty()).collect();
        for (at, word) in words.iter().enumerate() {
            let Some(year) = year(word) else { continue };
            if !years.contains(&year) {
                years.push(year);
            }
            let next = words.get(at + 1).copied().unwrap_or_default();
            if year_after(year, next) && title.contains(&format!("{year}")) {
                season = Some(year);
            }
        }
    }
    years.sort_unstable();
    if let (None, [a, b]) = (season, years.as_slice())
        && *b == a + 1
    {
        season = Some(*a);
    }
    (years, season)
}

fn year(word: &str) -> Option<i16> {
    let year: i16 = word.parse().ok().filter(|_| word.len() == 4)?;
    (limits::FIRST_YEAR..=limits::LAST_YEAR).contains(&year).then_some(year)
}

fn year_after(year: i16, word: &str) -> bool {
    word.parse() == Ok(if word.len() == 4 { year + 1 } else { (year + 1) % 100 })
        && matches!(word.len(), 2 | 4)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(text: &str) -> Day {
        text.parse().unwrap()
    }

    fn asked(headings: &[&str], titles: &[&str], told: Option<i16>) -> Result<Vec<String>, String> {
        let titles: Vec<String> = titles.iter().map(|t| (*t).to_owned()).collect();
        let today = Some(day("2026-02-10"));
        let clues = Clues { told, today, order: Some(DateOrder::Dmy), titles: &titles };
        decide(headings, &clues).map(|(days, _)| days.iter().map(ToString::to_string).collect())
    }

    #[test]
    fn forms_without_a_year() {
        let same = |m, d| Partial { dmy: Some((m, d)), mdy: Some((m, d)), weekday: None };
        assert_eq!(partial("12 Nov"), Some(same(11, 12)));
        assert_eq!(partial("Nov 12th"), Some(same(11, 12)));
        assert_eq!(partial("3.2."), Some(Partial { dmy: Some((2, 3)), mdy: None, weekday: None }));
        let slash = Partial { dmy: Some((10, 2)), mdy: Some((2, 10)), weekday: None };
        assert_eq!(partial("02/10"), Some(slash));
        assert_eq!(partial("17/2").unwrap().mdy, None);
        assert_eq!(partial("Tue 10 Feb").unwrap().weekday, Some(1));
        for other in ["3.2", "22.5", "R1-03", "F12", "2025-26", "Nov", "31 Feb", "12", "", "1/2/24"]
        {
            assert_eq!(partial(other), None, "{other}");
        }
    }

    #[test]
    fn years_are_taken_only_where_something_decides_them() {
        let season = ["12 Nov", "10 Dec", "3 Feb"];
        let read = Ok(vec!["2025-11-12".to_owned(), "2025-12-10".into(), "2026-02-03".into()]);
        assert_eq!(asked(&season, &[], None), read);
        assert_eq!(asked(&season, &["Weights 2025/26"], None), read);
        assert_eq!(asked(&season, &[], Some(2023)).unwrap()[2], "2024-02-03");
        assert_eq!(asked(&season, &["season 2022-23"], None).unwrap()[0], "2022-11-12");
        // One year can be that of its beginning or of its end.
        assert!(
            asked(&season, &["Weights 2024"], None).unwrap_err().contains("first or of the last")
        );
        // In 2025 it can only be the first: the other end is still to come.
        assert_eq!(asked(&["12 Nov", "10 Dec"], &["2024"], None).unwrap()[0], "2024-11-12");
        assert!(asked(&season, &["2031"], None).is_err());
        assert!(asked(&season, &["2019 and 2022"], None).is_err());
    }

    #[test]
    fn weekdays_and_full_dates_decide() {
        // 10 February was a Tuesday in 2026 and in 2015, a Saturday in 2024.
        assert_eq!(asked(&["Tue 3 Feb", "Tue 10 Feb"], &[], None).unwrap()[1], "2026-02-10");
        assert_eq!(asked(&["Sat 3 Feb", "Sat 10 Feb"], &[], None).unwrap()[1], "2024-02-10");
        assert!(asked(&["Tue 3 Feb", "Wed 4 Feb", "Wed 11 Feb", "Tue 12 Feb"], &[], None).is_err());
        let beside = ["12.11.2023", "3.12.", "7.1."];
        assert_eq!(asked(&beside, &[], None).unwrap()[2], "2024-01-07");
    }

    #[test]
    fn columns_may_run_back_but_not_about() {
        let back = ["3 Feb", "10 Jan", "12 Nov"];
        assert_eq!(asked(&back, &[], None).unwrap(), ["2026-02-03", "2026-01-10", "2025-11-12"]);
        assert_eq!(asked(&["10 Feb", "3 Feb"], &[], None).unwrap()[1], "2026-02-03");
        let about =
            ["3 Feb", "10 Jan", "12 Nov", "2 Mar", "1 Jan", "5 May", "4 Apr", "9 Sep", "8 Aug"];
        assert!(asked(&about, &[], None).is_err());
        assert!(asked(&["11 Feb", "12 Feb"], &[], None).unwrap()[0].starts_with("2025"));
    }
}
