//! From the start of a chain to the dates that follow.

use units::Day;

use super::start::Start;
use super::{Chain, ChainEvent};
use crate::duration::{ByDay, Duration};
use crate::durations::Durations;
use crate::timing::Timing;

/// A shed that would be ahead with less than this chance was missed, and no date is given.
const MISSED: f64 = 0.02;
/// Laying or hatching that would be ahead with less than this chance is overdue: no date is given,
/// neither of it nor of what follows. Our own choice.
const OVERDUE: f64 = 0.01;
/// Writes the dates of one chain.
pub(super) struct Writer<'a> {
    pub chain: &'a mut Chain,
    /// Only these are written.
    pub asked: &'a [ChainEvent],
    /// Days are counted from this one.
    pub from: Day,
    pub today: i32,
    pub is_learned: bool,
    pub is_by_temperature: bool,
}

impl Writer<'_> {
    /// Writes whatever comes after the start.
    pub fn write_all(&mut self, durations: &Durations, start: &Start, none_hatches: bool) {
        use ChainEvent::{FirstMeal, FirstShed, Hatch, Laying, Ovulation, Shed};
        let at = |event| (start.event == event).then(|| start.days.clone());
        if let Some(ovulation) = at(Ovulation) {
            self.follow(Shed, &ovulation, &durations.ovulation_to_shed, MISSED);
        }
        let to_laying = match start.event {
            Ovulation => Some(&durations.ovulation_to_laying),
            Shed => Some(&durations.shed_to_laying),
            _ => None,
        };
        let laying = match to_laying {
            Some(to) => self.follow(Laying, &start.days, to, OVERDUE),
            None => at(Laying),
        };
        if none_hatches {
            return;
        }
        let hatch = match &laying {
            Some(laying) => self.follow(Hatch, laying, &durations.laying_to_hatch, OVERDUE),
            None => at(Hatch),
        };
        if let Some(hatch) = &hatch {
            self.follow(FirstShed, hatch, &durations.hatch_to_first_shed, MISSED);
        }
        let meal = match start.event {
            FirstShed => Some((&start.days, &durations.first_shed_to_first_meal)),
            _ => hatch.as_ref().map(|hatch| (hatch, &durations.hatch_to_first_meal)),
        };
        if let Some((from, to)) = meal {
            self.follow(FirstMeal, from, to, 0.0);
        }
    }

    /// Writes the date of what comes that long after `from`, and hands back its days. Neither where it
    /// would be ahead with a chance below `least`, nor where nobody asks.
    fn follow(
        &mut self,
        event: ChainEvent,
        from: &ByDay,
        after: &Duration,
        least: f64,
    ) -> Option<ByDay> {
        self.is_learned |= after.seen > 0;
        self.is_by_temperature |= after.is_by_temperature();
        if !self.is_needed(event) {
            return None;
        }
        let days = from.then(after.by_day());
        (self.chance_ahead(&days) >= least).then(|| self.write(event, &days))
    }

    /// Whether it is asked, or something that is reckoned from it.
    fn is_needed(&self, event: ChainEvent) -> bool {
        let leads_on = matches!(event, ChainEvent::Laying | ChainEvent::Hatch);
        self.asked.iter().any(|asked| *asked == event || leads_on && *asked > event)
    }

    fn chance_ahead(&self, days: &ByDay) -> f64 {
        days.iter().filter(|(day, _)| *day > self.today).map(|(_, p)| p).sum()
    }

    /// Writes the date and hands back the days, on condition that none of them is over.
    fn write(&mut self, event: ChainEvent, days: &ByDay) -> ByDay {
        let days = days.still_ahead(self.today);
        if !self.asked.contains(&event) {
            return days;
        }
        let method = if self.is_by_temperature {
            "development of the eggs by the temperatures written down"
        } else if self.is_learned {
            "durations of the breeding year, learned from this room"
        } else {
            "durations of the breeding year, prior"
        };
        self.chain.set(event, Timing::of(days.iter(), self.from, method));
        days
    }
}
