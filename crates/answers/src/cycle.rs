//! One female's cycle, as the forecast engine wants it.

use forecast::follicle::opening::Closing;
use forecast::{Belief, Check, Cycle, CycleSpan, Event, Happening, Model, cycles};
use records::words::ShedKind;
use records::{Animal, Colony, Lock, RecordId};
use units::Day;

use crate::felt::as_seen;
use crate::room_forecasts::RoomForecasts;

/// Where a female stands in her cycle.
#[derive(Clone, Debug)]
pub struct Standing {
    /// The last cycle, where there ever was one.
    pub span: Option<CycleSpan>,
    /// Its checks, up to the day asked about.
    pub checks: Vec<Check>,
    /// Evenings of nights in it in which a lock was seen.
    pub locks: Vec<Day>,
    /// The follicle model with what earlier cycles say of her.
    pub model: Model,
    /// What is believed tonight; for a female without an open cycle, what the season's opening
    /// alone lets expect.
    pub belief: Belief,
}

impl Standing {
    /// Whether a cycle is under way.
    #[must_use]
    pub fn is_open(&self) -> bool {
        self.span.is_some_and(|span| span.closed.is_none())
    }

    /// The day she laid, where that is what closed her last cycle.
    #[must_use]
    pub fn laid(&self) -> Option<Day> {
        match self.span.and_then(|span| span.closed) {
            Some(Closing::Laid(day)) => Some(day),
            _ => None,
        }
    }

    /// Whether her last cycle was closed by a resorption that was written down.
    #[must_use]
    pub fn resorbed(&self) -> bool {
        matches!(self.span.and_then(|span| span.closed), Some(Closing::Resorbed(_)))
    }
}

/// Follows the animal at `place` up to the evening of `today`.
#[must_use]
pub fn standing(colony: &Colony, room: &RoomForecasts, place: usize, today: Day) -> Standing {
    let animal = &colony.animals[place];
    let span = cycles_of(colony, animal, today).pop();
    let open = span.filter(|s| s.closed.is_none());
    let opened = open.map_or(colony.season().opens().min(today), |s| s.opened);
    let checks =
        open.map_or_else(Vec::new, |span| room.growth.hands.read(colony, animal, &span, today));
    let locks = open.map_or_else(Vec::new, |span| locks(colony, animal, &span, today));
    let model = room.model_of(animal, opened);
    let cycle = Cycle { opened, checks, locks };
    let belief = model.follow(&cycle, today);
    let Cycle { checks, locks, .. } = cycle;
    Standing { span, checks, locks, model, belief }
}

/// What was believed on the evening of an earlier day of the same cycle, knowing no more than then.
#[must_use]
pub fn belief_then(standing: &Standing, day: Day) -> Option<Belief> {
    let opened = standing.span.filter(|s| s.closed.is_none() && s.opened <= day)?.opened;
    let checks = standing.checks.iter().filter(|c| c.day <= day).cloned().collect();
    let locks = standing.locks.iter().copied().filter(|l| *l <= day).collect();
    Some(standing.model.follow(&Cycle { opened, checks, locks }, day))
}

/// Every cycle of a female up to `today`, in order of time.
#[must_use]
pub fn cycles_of(colony: &Colony, animal: &Animal, today: Day) -> Vec<CycleSpan> {
    cycles(&happenings(colony, animal), today)
}

/// Everything that opens, carries on or closes a cycle of hers.
pub(crate) fn happenings(colony: &Colony, animal: &Animal) -> Vec<Happening> {
    let happening = |event| move |day| Happening { day, event };
    let nights = animal.stays.iter().map(|at| &colony.stays[*at]);
    let pre_lay = animal.sheds.iter().filter(|s| s.what == ShedKind::PreLay).map(|s| s.day);
    let placed = nights.filter(|s| s.placed.is_some()).map(|s| s.night.evening());
    animal
        .checks
        .iter()
        .map(|c| c.day)
        .map(happening(Event::Check))
        .chain(placed.map(happening(Event::Placement)))
        .chain(animal.ovulated.iter().map(|o| o.day).map(happening(Event::Ovulation)))
        .chain(pre_lay.map(happening(Event::Ovulation)))
        .chain(animal.laid.iter().map(|l| l.day).map(happening(Event::Laying)))
        .chain(animal.resorbed.iter().map(|r| r.day).map(happening(Event::Resorption)))
        .collect()
}

/// First and last day of each cycle of hers that is over by `today`, oldest first.
pub(crate) fn past_cycles(colony: &Colony, place: usize, today: Day) -> Vec<(Day, Day)> {
    let all = cycles(&happenings(colony, &colony.animals[place]), today).into_iter();
    let over = all.filter_map(|span| match span.closed? {
        Closing::Laid(day) | Closing::Resorbed(day) | Closing::Quiet(day) => {
            Some((span.opened, day))
        }
    });
    over.collect()
}

/// The checks of one cycle up to `today`.
pub(crate) fn checks(colony: &Colony, animal: &Animal, span: &CycleSpan, today: Day) -> Vec<Check> {
    checks_with_record(colony, animal, span, today).map(|(check, _)| check).collect()
}

/// The same with the record of each.
pub(crate) fn checks_with_record<'a>(
    colony: &'a Colony,
    animal: &'a Animal,
    span: &CycleSpan,
    today: Day,
) -> impl Iterator<Item = (Check, RecordId)> + 'a {
    let (opened, last) = (span.opened, last_day(span, today));
    let own = colony.setting("felt_words");
    let in_cycle = animal.checks.iter().filter(move |c| opened <= c.day && c.day <= last);
    in_cycle.filter_map(move |c| {
        as_seen(&c.what, own).map(|found| (Check { day: c.day, found }, c.record))
    })
}

/// Evenings of nights of one cycle in which a lock was seen, up to `today`.
pub(crate) fn locks(colony: &Colony, animal: &Animal, span: &CycleSpan, today: Day) -> Vec<Day> {
    let last = last_day(span, today);
    let nights = animal.stays.iter().map(|at| &colony.stays[*at]);
    let seen = nights.filter(|s| matches!(s.lock, Some((Lock::Seen, _))));
    let mut days: Vec<Day> = seen.map(|s| s.night.evening()).collect();
    days.retain(|day| span.opened <= *day && *day <= last);
    days.sort_unstable();
    days.dedup();
    days
}

fn last_day(span: &CycleSpan, today: Day) -> Day {
    match span.closed {
        Some(Closing::Laid(day) | Closing::Resorbed(day) | Closing::Quiet(day)) => day.min(today),
        None => today,
    }
}
