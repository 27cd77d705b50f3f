//! When one event comes: its chances by day.

use units::{Day, Estimate, Probability};

use crate::follicle::quantile::EIGHTY;

/// When an event comes, on condition that it does: the chance of each day.
#[derive(Clone, Debug, PartialEq)]
pub struct Timing {
    first: Day,
    /// Chance that it has come by the evening of each day from `first` on; rises to one.
    by: Vec<f64>,
    method: &'static str,
}

/// Chances below this at either end are cut off.
const CUT: f64 = 1e-7;

impl Timing {
    /// From chances of days counted from `from`; they need not sum to one.
    pub(crate) fn of(
        days: impl Iterator<Item = (i32, f64)>,
        from: Day,
        method: &'static str,
    ) -> Self {
        let mut days: Vec<(i32, f64)> = days.collect();
        let total: f64 = days.iter().map(|(_, p)| p).sum();
        let small = |(_, p): &(i32, f64)| *p < CUT * total;
        days.truncate(days.len() - days.iter().rev().take_while(|d| small(d)).count());
        days.drain(..days.iter().take_while(|d| small(d)).count());
        let total: f64 = days.iter().map(|(_, p)| p).sum();
        let first = days.first().map_or(from, |(day, _)| from + *day);
        let mut by = Vec::with_capacity(days.len());
        let mut sum = 0.0;
        for (_, p) in &days {
            sum += p / total;
            by.push(sum.min(1.0));
        }
        if let Some(last) = by.last_mut() {
            *last = 1.0;
        } else {
            by.push(1.0);
        }
        Self { first, by, method }
    }

    /// Chance that it has come by the evening of `day`.
    #[must_use]
    pub fn cdf(&self, day: Day) -> f64 {
        match usize::try_from(day.days_since(self.first)) {
            Ok(at) => self.by.get(at).copied().unwrap_or(1.0),
            Err(_) => 0.0,
        }
    }

    /// Chance that it comes on `day` itself.
    #[must_use]
    pub fn on(&self, day: Day) -> f64 {
        self.cdf(day) - self.cdf(day + -1)
    }

    /// The first day by which it has come with a chance of at least `share`.
    #[must_use]
    pub fn quantile(&self, share: f64) -> Day {
        let at = self.by.partition_point(|by| *by < share - 1e-9).min(self.by.len() - 1);
        #[expect(clippy::cast_possible_wrap, clippy::cast_possible_truncation, reason = "days")]
        let at = at as i32;
        self.first + at
    }

    /// The days between which it lies with that chance, as likely before as after.
    #[must_use]
    pub fn interval(&self, coverage: f64) -> (Day, Day) {
        let outside = 0.5 * (1.0 - coverage);
        (self.quantile(outside), self.quantile(1.0 - outside))
    }

    /// First and last day that it may come on.
    #[must_use]
    pub fn ends(&self) -> (Day, Day) {
        (self.first, self.quantile(1.0))
    }

    /// Median and 80 % interval.
    #[must_use]
    pub fn estimate(&self) -> Estimate<Day> {
        let [low, median, high] = EIGHTY.map(|share| self.quantile(share));
        Estimate {
            median,
            low,
            high,
            coverage: Probability::clamped(EIGHTY[2] - EIGHTY[0]),
            method: self.method,
        }
    }
}
