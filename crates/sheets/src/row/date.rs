//! A cell into a day.

use units::Day;

use super::Reader;
use crate::column::{Plan, first_year};
use crate::date::{self, Written};
use crate::limits::{self, day_is_possible};
use crate::meaning::Meaning;
use crate::sheet::DateOrder;
use crate::words;

/// What a cell says about a day, or why nobody can tell.
pub(crate) enum Outcome {
    Day(Day),
    Held(String),
}

impl Reader<'_> {
    /// The day in a cell, where it is filled.
    pub(crate) fn day(&mut self, meaning: Meaning) -> Option<Day> {
        let (plan, cell) = self.filled(meaning)?;
        if words::is_dash(cell) {
            return None;
        }
        match read(plan, cell, self.frame.today, self.frame.epoch_1904) {
            Outcome::Day(day) => Some(day),
            Outcome::Held(why) => {
                self.hold(plan, cell, &why);
                None
            }
        }
    }

    /// A day without which the row says nothing.
    pub(crate) fn needed_day(&mut self, meaning: Meaning, what: &str) -> Option<Day> {
        let before = self.problems.len();
        let day = self.day(meaning);
        if day.is_none() && self.problems.len() == before {
            self.missing(meaning, what);
        }
        day
    }
}

/// Reads a cell of a column of dates.
pub(crate) fn read(plan: &Plan, cell: &str, today: Option<Day>, epoch_1904: bool) -> Outcome {
    if !plan.no_day.is_empty() {
        return Outcome::Held(plan.no_day.clone());
    }
    let Some(written) = date::written(cell, epoch_1904) else {
        return Outcome::Held(format!(
            "\"{cell}\" is no date: write it like 2026-02-10, with its year."
        ));
    };
    let day = match choose(plan, &written, cell, today) {
        Ok(day) => day,
        Err(why) => return Outcome::Held(why),
    };
    let year = first_year(plan.meaning);
    if plan.meaning == Meaning::Unknown || day_is_possible(day, year, today) {
        return Outcome::Day(day);
    }
    Outcome::Held(match today {
        Some(today) if day > today => {
            format!("{day} is still to come on {today}, the day of reading: correct the date.")
        }
        _ if day.year() < year => {
            format!("{day} lies before {year}: correct the year.")
        }
        _ => format!("{day} lies after {}: correct the year.", limits::LAST_YEAR),
    })
}

fn choose(plan: &Plan, written: &Written, cell: &str, today: Option<Day>) -> Result<Day, String> {
    if written.fixed {
        return written.ymd.ok_or_else(|| match written.swapped {
            Some(other) => format!(
                "\"{cell}\" is on no calendar; with day and month swapped it would be {other}: \
                 correct the date."
            ),
            None => format!("\"{cell}\" is on no calendar: correct the date."),
        });
    }
    let year = first_year(plan.meaning);
    let possible = |order| written.under(order).filter(|d| day_is_possible(*d, year, today));
    if let Some(order) = plan.dates {
        if let Some(day) = written.under(order) {
            return Ok(day);
        }
        let other = [DateOrder::Dmy, DateOrder::Mdy].into_iter().find_map(possible);
        return Err(match other {
            Some(day) => format!(
                "\"{cell}\" does not fit this column, which has the {} first; with day and month \
                 swapped it would be {day}: correct the date.",
                first_word(order)
            ),
            None => format!("\"{cell}\" is on no calendar: correct the date."),
        });
    }
    match (possible(DateOrder::Dmy), possible(DateOrder::Mdy)) {
        (Some(d), Some(m)) if d != m => Err(format!(
            "\"{cell}\" can be {d} or {m}: say whether day or month comes first (--dates dmy or mdy)."
        )),
        (Some(day), _) | (None, Some(day)) => Ok(day),
        (None, None) => [DateOrder::Dmy, DateOrder::Mdy]
            .into_iter()
            .find_map(|order| written.under(order))
            .ok_or_else(|| format!("\"{cell}\" is on no calendar: correct the date.")),
    }
}

const fn first_word(order: DateOrder) -> &'static str {
    match order {
        DateOrder::Ymd => "year",
        DateOrder::Dmy => "day",
        DateOrder::Mdy => "month",
    }
}
