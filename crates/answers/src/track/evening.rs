//! What was forecast of one female on one evening of the past, with what was known then.

use forecast::{Chain, ChainEvent, Closing, Cycle, CycleSpan, Milestone, Model, Outlook};
use records::Colony;
use records::colony::Presence;
use units::Day;

use super::came::Came;
use super::curve::Curve;
use super::kind::{Horizon, Kind};
use super::past::Truth;
use crate::cycle::{Standing, locks};
use crate::follicles::seen;
use crate::incubation::durations_of;
use crate::room_forecasts::RoomForecasts;

/// Beyond this chance of having passed a size no date is given, as on the pages.
const PASSED_FOR_SURE: f64 = 0.95;

/// Evenings between checks and events: one in so many. Our own choice.
const EVERY: i32 = 14;

/// Evenings on which her forecasts are asked: those of checks and of what was seen, and every
/// fourteenth from the opening on. None is chosen by what came later; evenings on which she was not
/// in the house, or on which nobody could know yet that a cycle had opened, are left out.
pub fn evenings(colony: &Colony, came: &Came) -> Vec<Day> {
    let (first, last) = (came.span.opened, came.last_evening());
    let seen = [came.ovulated, came.shed, came.laid].into_iter().flatten();
    let mut days: Vec<Day> = came.checks.iter().map(|c| c.day).chain(seen).collect();
    days.extend((0..=last.days_since(first) / EVERY).map(|n| first + n * EVERY));
    days.retain(|day| {
        let is_here = || colony.animals[came.female].presence(*day) == Presence::InHouse;
        first <= *day && *day <= last && is_here()
    });
    days.sort_unstable();
    days.dedup();
    days
}

/// One forecast with what came of it.
pub struct Asked {
    /// What was forecast.
    pub kind: Kind,
    /// How far ahead it looked.
    pub horizon: Horizon,
    /// The forecast.
    pub curve: Curve,
    /// What came.
    pub truth: Truth,
    /// How surely that on which it was made came true.
    pub weight: f64,
}

/// One cycle as what is learned of a season reads it: her model, her checks by whoever made them, her
/// locks.
pub struct Reading {
    model: Model,
    cycle: Cycle,
}

impl Reading {
    /// Reads the whole cycle; evenings take of it what was known then.
    pub fn of(colony: &Colony, room: &RoomForecasts, came: &Came) -> Self {
        let animal = &colony.animals[came.female];
        let (span, last) = (&came.span, came.known);
        let checks = room.growth.hands.read(colony, animal, span, last);
        let locks = locks(colony, animal, span, last);
        let cycle = Cycle { opened: span.opened, checks, locks };
        Self { model: room.model_of(animal, span.opened), cycle }
    }

    /// What was known on an evening. A lock is seen on the morning after its night.
    fn by(&self, day: Day) -> Cycle {
        let checks = self.cycle.checks.iter().filter(|c| c.day <= day).cloned().collect();
        let locks = self.cycle.locks.iter().copied().filter(|lock| *lock < day).collect();
        Cycle { opened: self.cycle.opened, checks, locks }
    }
}

/// How she stood on an evening, as the pages would have shown it.
pub struct Evening {
    standing: Standing,
    chain: Chain,
    ovulation: Outlook,
    is_behind: bool,
    day: Day,
}

impl Evening {
    /// Asks again, knowing no more than on that evening.
    pub fn of(
        colony: &Colony,
        room: &RoomForecasts,
        reading: &Reading,
        came: &Came,
        day: Day,
    ) -> Self {
        let closed = came.span.closed.filter(|closed| match closed {
            Closing::Laid(on) | Closing::Resorbed(on) => *on <= day,
            Closing::Quiet(_) => false,
        });
        let opened = came.span.opened;
        let cycle = if closed.is_none() { reading.by(day) } else { Cycle::new(opened, vec![]) };
        let belief = reading.model.follow(&cycle, day);
        let Cycle { checks, locks, .. } = cycle;
        let span = Some(CycleSpan { opened, closed });
        let standing = Standing { span, checks, locks, model: reading.model.clone(), belief };
        let seen = seen(colony, &colony.animals[came.female], &standing, day);
        let ovulation = standing.belief.outlook(Milestone::Ovulation);
        let from = (!standing.resorbed()).then_some(&ovulation);
        let durations = durations_of(colony, room, came.female, &seen, day);
        let chain = Chain::ahead(&durations, &seen, from, day);
        Self { standing, chain, ovulation, is_behind: seen.last().is_some(), day }
    }

    /// Chance that she ovulates in this cycle, or has since her last check.
    pub fn chance_of_ovulation(&self) -> f64 {
        let passage = self.ovulation.passage;
        (passage.passed.get() + passage.ahead.get()).min(1.0)
    }

    /// Every forecast of that evening of which it is known what came.
    pub fn asked(&self, came: &Came) -> Vec<Asked> {
        let mut asked = Vec::new();
        if !self.is_behind && !self.standing.resorbed() {
            asked.extend(self.scan(came));
            asked.extend(Kind::SIZES.iter().filter_map(|(kind, mm)| self.size(came, *kind, *mm)));
        }
        let events = [
            (Kind::Ovulation, ChainEvent::Ovulation),
            (Kind::Shed, ChainEvent::Shed),
            (Kind::Laying, ChainEvent::Laying),
            (Kind::Hatch, ChainEvent::Hatch),
        ];
        asked.extend(events.iter().filter_map(|(kind, event)| self.event(came, *kind, *event)));
        asked
    }

    /// The first scan after that evening. Only where she was looked at before: without a check the
    /// pages show no size.
    fn scan(&self, came: &Came) -> Option<Asked> {
        self.standing.checks.first()?;
        let scans = came.checks.iter().filter_map(|c| match c.found {
            forecast::Found::Scan(size) => Some((c.day, size.get())),
            forecast::Found::Felt { .. } => None,
        });
        let (on, size) = scans.into_iter().find(|(day, _)| *day > self.day)?;
        Some(Asked {
            kind: Kind::Scan,
            horizon: Horizon::of(on.days_since(self.day)),
            curve: Curve::Read(self.standing.belief.next_scan(on)),
            truth: Truth::Value(size),
            weight: 1.0,
        })
    }

    /// The day of passing a size, which only checks tell: it lies between the last clear reading
    /// below and the first clear one above. Where she may have passed it before that evening already,
    /// or was not seen to pass it at all, the forecast counts by the chance, by itself, that she
    /// passed it later.
    fn size(&self, came: &Came, kind: Kind, mm: f64) -> Option<Asked> {
        let (below, above) = came.passed(mm);
        if above.is_some_and(|above| above <= self.day) {
            return None;
        }
        let outlook = self.standing.belief.outlook(Milestone::Size(mm));
        let passage = outlook.passage;
        if passage.passed.get() >= PASSED_FOR_SURE || passage.ahead.get() <= 0.0 {
            return None;
        }
        let days = |day: Day| f64::from(day.days_since(self.day));
        let low = below.map_or(0.0, days).max(0.0);
        let high = above.map_or(f64::INFINITY, days);
        let ahead = passage.ahead.get();
        let share = |x: f64| if x.is_infinite() { 1.0 } else { outlook.share_within(x) };
        let came_so = ahead * (share(high) - share(low));
        let is_below = below.is_some_and(|below| below >= self.day);
        let passed = if is_below { 0.0 } else { passage.passed.get() };
        let never = if above.is_none() { passage.never.get() } else { 0.0 };
        let weight = if is_below && above.is_some() {
            1.0
        } else {
            came_so / (came_so + passed + never).max(1e-12)
        };
        #[expect(clippy::cast_possible_truncation, reason = "at most forty weeks")]
        let median = outlook.days_at(0.5).ceil() as i32;
        let truth = Truth::Between(low, high);
        let horizon = Horizon::of(median);
        Some(Asked { kind, horizon, curve: Curve::Passing(outlook), truth, weight })
            .filter(|asked| asked.weight > 1e-3)
    }

    fn event(&self, came: &Came, kind: Kind, event: ChainEvent) -> Option<Asked> {
        let on = came.day(kind).filter(|on| *on > self.day)?;
        let timing = self.chain.timing(event)?;
        Some(Asked {
            kind,
            horizon: Horizon::of(timing.quantile(0.5).days_since(self.day)),
            curve: Curve::Dated(timing.clone(), self.day),
            truth: Truth::Whole(on.days_since(self.day)),
            weight: 1.0,
        })
    }
}
