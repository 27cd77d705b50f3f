//! Evidence about the order of day and month in a column.

use super::{Setting, first_year};
use crate::date;
use crate::limits::day_is_possible;
use crate::meaning::Meaning;
use crate::sheet::DateOrder;
use crate::yearless;

/// How many cells fit one order only.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct DateVotes {
    /// Year, month, day.
    pub ymd: usize,
    /// Day, month, year.
    pub dmy: usize,
    /// Month, day, year.
    pub mdy: usize,
    /// Cells that fit more than one order, with different days.
    pub open: usize,
}

/// A minority of typing errors does not undo what all other cells say: one, or one in twenty; our
/// choice.
const SLIPS: usize = 20;

impl DateVotes {
    /// Counts the cells of a column.
    #[must_use]
    pub fn of(cells: &[&str], meaning: Meaning, setting: &Setting<'_>) -> Self {
        let mut votes = Self::default();
        for cell in cells {
            votes.count(cell, meaning, setting);
        }
        votes
    }

    fn count(&mut self, cell: &str, meaning: Meaning, setting: &Setting<'_>) {
        let Some(written) = date::written(cell, setting.epoch_1904) else {
            if meaning == Meaning::GridDay {
                self.count_yearless(cell);
            }
            return;
        };
        if written.fixed {
            return;
        }
        let year = first_year(meaning);
        let fits =
            |order| written.under(order).filter(|day| day_is_possible(*day, year, setting.today));
        let (d, m, y) = (fits(DateOrder::Dmy), fits(DateOrder::Mdy), fits(DateOrder::Ymd));
        match (d, m) {
            (Some(_), None) => self.dmy += 1,
            (None, Some(_)) => self.mdy += 1,
            (None, None) => self.ymd += usize::from(y.is_some()),
            (Some(d), Some(m)) => self.open += usize::from(d != m),
        }
    }

    fn count_yearless(&mut self, cell: &str) {
        let Some(partial) = yearless::partial(cell) else { return };
        match (partial.dmy, partial.mdy) {
            (Some(_), None) => self.dmy += 1,
            (None, Some(_)) => self.mdy += 1,
            (d, m) => self.open += usize::from(d != m),
        }
    }

    /// Adds the evidence of another column.
    pub fn add(&mut self, other: Self) {
        self.ymd += other.ymd;
        self.dmy += other.dmy;
        self.mdy += other.mdy;
        self.open += other.open;
    }

    /// The column has dates that are written in numbers with the year behind.
    #[must_use]
    pub const fn needs_order(self) -> bool {
        self.ymd + self.dmy + self.mdy + self.open > 0
    }

    /// The order that its cells agree on.
    #[must_use]
    pub fn winner(self) -> Option<DateOrder> {
        let all =
            [(self.dmy, DateOrder::Dmy), (self.mdy, DateOrder::Mdy), (self.ymd, DateOrder::Ymd)];
        let (most, order) = all.into_iter().max_by_key(|(n, _)| *n)?;
        let others = self.ymd + self.dmy + self.mdy - most;
        let slips = usize::from(most >= 5).max(most / SLIPS);
        (most > 0 && others <= slips).then_some(order)
    }

    /// Why the winner won.
    #[must_use]
    pub fn sentence(self) -> &'static str {
        match self.winner() {
            Some(DateOrder::Dmy) => "Day first: some of its dates fit no other order.",
            Some(DateOrder::Mdy) => "Month first: some of its dates fit no other order.",
            Some(DateOrder::Ymd) => "Year first: some of its dates fit no other order.",
            None => "",
        }
    }
}
