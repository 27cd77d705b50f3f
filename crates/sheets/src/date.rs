//! A date as written in a cell: every day it can stand for, one for each order of its numbers.

use units::Day;

use crate::sheet::DateOrder;

/// What a cell says about a day.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Written {
    /// Read year, month, day.
    pub ymd: Option<Day>,
    /// Read day, month, year.
    pub dmy: Option<Day>,
    /// Read month, day, year.
    pub mdy: Option<Day>,
    /// Only one order is possible by its form: a year of four digits in front, or a named month.
    pub fixed: bool,
    /// Year in front, but month and day stand the wrong way round for a calendar.
    pub swapped: Option<Day>,
}

impl Written {
    const fn certain(day: Option<Day>) -> Self {
        Self { ymd: day, dmy: day, mdy: day, fixed: true, swapped: None }
    }

    /// The day under one order.
    #[must_use]
    pub const fn under(self, order: DateOrder) -> Option<Day> {
        match order {
            DateOrder::Ymd => self.ymd,
            DateOrder::Dmy => self.dmy,
            DateOrder::Mdy => self.mdy,
        }
    }
}

/// First names of months, enough letters to tell them apart, in the languages of those who keep
/// such sheets (English, German, Dutch, French, Spanish).
const MONTHS: [&[&str]; 12] = [
    &["jan", "jän", "ene"],
    &["feb", "fév", "fev"],
    &["mar", "mär", "mrz", "maa", "mrt"],
    &["apr", "avr", "abr"],
    &["may", "mai", "mei"],
    &["jun", "juin"],
    &["jul", "juil"],
    &["aug", "aou", "aoû", "ago"],
    &["sep"],
    &["oct", "okt"],
    &["nov"],
    &["dec", "dez", "déc", "dic"],
];

/// Days after Monday of a named weekday.
pub(crate) fn weekday_named(word: &str) -> Option<i8> {
    const WEEKDAYS: [&[&str]; 7] = [
        &["mon", "monday", "mo", "montag"],
        &["tue", "tues", "tuesday", "di", "dienstag"],
        &["wed", "wednesday", "mi", "mittwoch"],
        &["thu", "thur", "thurs", "thursday", "do", "donnerstag"],
        &["fri", "friday", "fr", "freitag"],
        &["sat", "saturday", "sa", "samstag"],
        &["sun", "sunday", "so", "sonntag"],
    ];
    let at = WEEKDAYS.iter().position(|names| names.contains(&word))?;
    i8::try_from(at).ok()
}

/// Serial day numbers of spreadsheet programs that are taken for dates: 1954 to 2064.
const SERIALS: std::ops::RangeInclusive<u32> = 20_000..=60_000;

/// Reads a cell; none where it has not the form of a date.
///
/// `epoch_1904`: the workbook counts days from 1904 instead of 1900.
#[must_use]
pub fn written(text: &str, epoch_1904: bool) -> Option<Written> {
    let text = text.trim();
    if text.is_empty() || text.len() > 64 {
        return None;
    }
    if let Ok(day) = text.parse::<Day>() {
        return Some(Written::certain(Some(day)));
    }
    if let Some(serial) = serial(text, epoch_1904) {
        return Some(Written::certain(Some(serial)));
    }
    let lower = text.to_lowercase();
    let lower = without_clock(&lower);
    let mut numbers: Vec<&str> = Vec::new();
    let mut month = None;
    for word in lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty()) {
        for part in split_digits(word) {
            if part.as_bytes()[0].is_ascii_digit() {
                numbers.push(part);
            } else if let Some(m) = month_named(part) {
                if month.replace(m).is_some() {
                    return None;
                }
            } else if weekday_named(part).is_none()
                && !matches!(part, "st" | "nd" | "rd" | "th" | "of" | "de")
            {
                return None;
            }
        }
    }
    match (month, numbers.as_slice()) {
        (Some(month), [a, b]) => Some(Written::certain(with_month(month, a, b)?)),
        (None, [a, b, c]) => of_numbers(a, b, c),
        (None, [a]) if a.len() == 8 => {
            let (year, rest) = a.split_at(4);
            let (month, day) = rest.split_at(2);
            of_numbers(year, month, day).filter(|w| w.ymd.is_some_and(|d| d.year() >= 1950))
        }
        _ => None,
    }
}

fn serial(text: &str, epoch_1904: bool) -> Option<Day> {
    let whole = match text.split_once('.') {
        Some((whole, part)) if part.bytes().all(|b| b.is_ascii_digit()) => whole,
        Some(_) => return None,
        None => text,
    };
    if whole.len() != 5 || !whole.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let number: u32 = whole.parse().ok().filter(|n| SERIALS.contains(n))?;
    Some(of_serial(number, epoch_1904))
}

/// The day of a serial number. 25,569 is 1970-01-01 in the 1900 system, 24,107 in that of 1904.
#[must_use]
pub fn of_serial(number: u32, epoch_1904: bool) -> Day {
    let origin = if epoch_1904 { 24_107 } else { 25_569 };
    Day::from_number(i32::try_from(number).unwrap_or(0) - origin)
}

/// Cuts off a time of day: from the number before the first colon on, and an ISO `T`.
fn without_clock(lower: &str) -> &str {
    let Some(colon) = lower.find(':') else {
        return lower;
    };
    let before = lower[..colon].trim_end_matches(|c: char| c.is_ascii_digit());
    before.strip_suffix('t').filter(|b| b.ends_with(|c: char| c.is_ascii_digit())).unwrap_or(before)
}

/// `12feb` into `12` and `feb`, `10th` into `10` and `th`.
pub(crate) fn split_digits(word: &str) -> impl Iterator<Item = &str> {
    let mut rest = word;
    std::iter::from_fn(move || {
        let digit = rest.chars().next()?.is_ascii_digit();
        let end = rest.find(|c: char| c.is_ascii_digit() != digit).unwrap_or(rest.len());
        let (part, left) = rest.split_at(end);
        rest = left;
        Some(part)
    })
}

pub(crate) fn month_named(word: &str) -> Option<i8> {
    if word.chars().count() < 3 || word.chars().count() > 10 {
        return None;
    }
    let at = MONTHS.iter().position(|names| names.iter().any(|n| word.starts_with(n)))?;
    i8::try_from(at + 1).ok()
}

/// The outer option: has the form of a date. The inner: is on the calendar.
fn with_month(month: i8, a: &str, b: &str) -> Option<Option<Day>> {
    let (day, year) = if a.len() == 4 { (b, a) } else { (a, b) };
    if day.len() > 2 || !matches!(year.len(), 2 | 4) {
        return None;
    }
    Some(calendar(full_year(year)?, month, day.parse().ok()?))
}

fn of_numbers(a: &str, b: &str, c: &str) -> Option<Written> {
    let short = |t: &str| t.len() <= 2;
    if a.len() == 4 && short(b) && short(c) {
        let (year, b, c) = (full_year(a)?, b.parse().ok()?, c.parse().ok()?);
        let day = calendar(year, b, c);
        let swapped = if day.is_none() { calendar(year, c, b) } else { None };
        return Some(Written { ymd: day, dmy: day, mdy: day, fixed: true, swapped });
    }
    if !short(a) || !short(b) || !(c.len() == 4 || c.len() == 2) {
        return None;
    }
    let (first, second): (i8, i8) = (a.parse().ok()?, b.parse().ok()?);
    let year = full_year(c)?;
    let ymd = if c.len() == 2 && a.len() == 2 {
        calendar(full_year(a)?, second, c.parse().ok()?)
    } else {
        None
    };
    Some(Written {
        ymd,
        dmy: calendar(year, second, first),
        mdy: calendar(year, first, second),
        fixed: false,
        swapped: None,
    })
}

/// Two digits: 70 to 99 are of the last century.
fn full_year(text: &str) -> Option<i16> {
    let year: i16 = text.parse().ok()?;
    Some(match text.len() {
        4 => year,
        _ if year >= 70 => 1900 + year,
        _ => 2000 + year,
    })
}

fn calendar(year: i16, month: i8, day: i8) -> Option<Day> {
    Day::new(year, month, day).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn day(text: &str) -> Day {
        text.parse().unwrap()
    }

    #[test]
    fn plain_forms_have_one_reading() {
        for text in [
            "2026-02-10",
            "2026/2/10",
            "2026.02.10",
            "20260210",
            "10 Feb 2026",
            "10-Feb-26",
            "Feb 10, 2026",
            "February 10th, 2026",
            "Feb 10, 26",
            "10. Februar 2026",
            "10feb2026",
            "Tue 10 Feb 2026",
            "Tuesday, February 10, 2026",
            "Di 10. Feb. 2026",
            "2026 Feb 10",
            "2026-02-10 21:30",
            "2026-02-10T21:30:00",
            "2026-02-10T21:30:00Z",
            "46063",
            "46063.75",
            "10 févr. 2026",
            "2026-02-10 9:15 PM",
        ] {
            assert_eq!(
                written(text, false),
                Some(Written::certain(Some(day("2026-02-10")))),
                "{text}"
            );
        }
        assert_eq!(written("44601", true).unwrap().ymd, Some(day("2026-02-10")));
    }

    #[test]
    fn numbers_have_one_reading_for_each_order() {
        let w = written("3/4/2024", false).unwrap();
        assert_eq!((w.dmy, w.mdy, w.ymd), (Some(day("2024-04-03")), Some(day("2024-03-04")), None));
        let w = written("13.2.24 08:00", false).unwrap();
        assert_eq!((w.dmy, w.mdy), (Some(day("2024-02-13")), None));
        let w = written("24-02-10", false).unwrap();
        assert_eq!(w.ymd, Some(day("2024-02-10")));
        assert_eq!(written("1/2/98", false).unwrap().dmy, Some(day("1998-02-01")));
    }

    #[test]
    fn what_is_on_no_calendar_keeps_its_form() {
        let w = written("2026-02-30", false).unwrap();
        assert!(w.fixed && w.ymd.is_none() && w.swapped.is_none());
        assert_eq!(written("2026-13-02", false).unwrap().swapped, Some(day("2026-02-13")));
        assert!(written("31 Feb 2026", false).unwrap().ymd.is_none());
    }

    #[test]
    fn other_things_are_no_dates() {
        for text in [
            "",
            "F03",
            "small rat",
            "C21-01-1",
            "R1-03",
            "1731",
            "16.0",
            "0.1",
            "Feb 2026",
            "marble",
            "12 Feb",
            "2,279",
            "1/2",
            "99999",
            "1.0.0.0",
            "may",
            "M10 F10",
        ] {
            assert_eq!(written(text, false), None, "{text}");
        }
    }

    proptest! {
        #[test]
        fn every_day_comes_back_in_every_form(n in 7_500i32..30_000) {
            let d = Day::from_number(n);
            let (y, m, dd) = (d.year(), d.month(), d.day_of_month());
            let read = |text: String| written(&text, false).unwrap();
            prop_assert_eq!(read(format!("{y}/{m}/{dd}")).ymd, Some(d));
            prop_assert_eq!(read(format!("{dd}.{m}.{y}")).dmy, Some(d));
            prop_assert_eq!(read(format!("{m}/{dd}/{y}")).mdy, Some(d));
            prop_assert_eq!(read(d.date().strftime("%A, %-d %B %Y").to_string()).dmy, Some(d));
            prop_assert_eq!(read(d.date().strftime("%b %d, %Y").to_string()).mdy, Some(d));
        }

        #[test]
        fn any_text_is_read_or_not(text in "\\PC{0,40}") {
            let _ = written(&text, false);
        }
    }
}
