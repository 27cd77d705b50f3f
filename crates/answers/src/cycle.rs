//! One female's cycle, as the forecast engine wants it.

use forecast::follicle::opening::Closing;
use forecast::{Belief, Check, Cycle, CycleSpan, Event, Happening, Model, cycles};
use records::{Animal, Colony};
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
    let checks = open.map_or_else(Vec::new, |span| checks(colony, animal, &span, today));
    let model = room.model_of(animal, opened);
    let belief = model.follow(&Cycle { opened, checks: checks.clone() }, today);
    Standing { span, checks, model, belief }
}

/// What was believed on the evening of an earlier day of the same cycle, knowing no more than then.
#[must_use]
pub fn belief_then(standing: &Standing, day: Day) -> Option<Belief> {
    let opened = standing.span.filter(|s| s.closed.is_none() && s.opened <= day)?.opened;
    let checks = standing.checks.iter().filter(|c| c.day <= day).cloned().collect();
    Some(standing.model.follow(&Cycle { opened, checks }, day))
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
    let placed = nights.filter(|s| s.placed.is_some()).map(|s| s.night.evening());
    animal
        .checks
        .iter()
        .map(|c| c.day)
        .map(happening(Event::Check))
        .chain(placed.map(happening(Event::Placement)))
        .chain(animal.laid.iter().map(|l| l.day).map(happening(Event::Laying)))
        .chain(animal.resorbed.iter().map(|r| r.day).map(happening(Event::Resorption)))
        .collect()
}

/// The checks of one cycle up to `today`.
pub(crate) fn checks(colony: &Colony, animal: &Animal, span: &CycleSpan, today: Day) -> Vec<Check> {
    let last = match span.closed {
        Some(Closing::Laid(day) | Closing::Resorbed(day) | Closing::Quiet(day)) => day.min(today),
        None => today,
    };
    let own = colony.setting("felt_words");
    animal
        .checks
        .iter()
        .filter(|c| span.opened <= c.day && c.day <= last)
        .filter_map(|c| as_seen(&c.what, own).map(|found| Check { day: c.day, found }))
        .collect()
}
