//! From ovulation to the first meal of the young: each event that was seen replaces its forecast.

use units::{Day, Estimate};

use crate::duration::{ByDay, Duration};
use crate::durations::Durations;
use crate::follicle::outlook::Outlook;
use crate::timing::Timing;

/// An event of the chain.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ChainEvent {
    /// She ovulates.
    Ovulation,
    /// Her pre-lay shed.
    Shed,
    /// She lays.
    Laying,
    /// The first hatchling is out.
    Hatch,
    /// The first of the young sheds.
    FirstShed,
    /// The first of the young eats.
    FirstMeal,
}

impl ChainEvent {
    /// All, in the order they come.
    pub const ALL: [Self; 6] =
        [Self::Ovulation, Self::Shed, Self::Laying, Self::Hatch, Self::FirstShed, Self::FirstMeal];

    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ovulation => "ovulation",
            Self::Shed => "pre-lay shed",
            Self::Laying => "laying",
            Self::Hatch => "hatch",
            Self::FirstShed => "first shed",
            Self::FirstMeal => "first meal",
        }
    }
}

/// What has been seen of the chain. Anything may be missing: what was seen later tells more.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Seen {
    /// Last follicle check: she had not ovulated by then.
    pub last_check: Option<Day>,
    /// She was warmed up.
    pub warmed: Option<Day>,
    /// She settled on the hot spot.
    pub settled: Option<Day>,
    /// Ovulation.
    pub ovulation: Option<Day>,
    /// Pre-lay shed.
    pub shed: Option<Day>,
    /// Laying.
    pub laying: Option<Day>,
    /// First hatchling out.
    pub hatch: Option<Day>,
    /// First shed of the young.
    pub first_shed: Option<Day>,
    /// First meal of the young.
    pub first_meal: Option<Day>,
    /// She laid, and no egg is left that could hatch.
    pub none_hatches: bool,
}

impl Seen {
    /// The day of an event, where it was seen.
    #[must_use]
    pub const fn day(&self, event: ChainEvent) -> Option<Day> {
        match event {
            ChainEvent::Ovulation => self.ovulation,
            ChainEvent::Shed => self.shed,
            ChainEvent::Laying => self.laying,
            ChainEvent::Hatch => self.hatch,
            ChainEvent::FirstShed => self.first_shed,
            ChainEvent::FirstMeal => self.first_meal,
        }
    }

    /// The last event seen, in the order they come, with its day.
    #[must_use]
    pub fn last(&self) -> Option<(ChainEvent, Day)> {
        ChainEvent::ALL.into_iter().rev().find_map(|event| Some((event, self.day(event)?)))
    }
}

/// Dates still to come; `None` for what is seen, for what lies before something seen, and where
/// nothing is known to start from.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Chain {
    /// Ovulation.
    pub ovulation: Option<Estimate<Day>>,
    /// Pre-lay shed; also `None` where it must have been missed.
    pub shed: Option<Estimate<Day>>,
    /// Laying.
    pub laying: Option<Estimate<Day>>,
    /// Hatch.
    pub hatch: Option<Estimate<Day>>,
    /// First shed of the young.
    pub first_shed: Option<Estimate<Day>>,
    /// First meal of the young.
    pub first_meal: Option<Estimate<Day>>,
    timings: [Option<Timing>; ChainEvent::ALL.len()],
}

/// A shed that would be ahead with less than this chance was missed, and no date is given.
const MISSED: f64 = 0.02;
/// Laying or hatching that would be ahead with less than this chance is overdue: no date is given,
/// neither of it nor of what follows. Our own choice.
const OVERDUE: f64 = 0.01;
/// Beyond this chance of having ovulated, no date of ovulation is given.
const PASSED_FOR_SURE: f64 = 0.95;
/// One settling in ten says nothing of ovulation, which then comes on any of about a hundred days;
/// our own choice. Without it a wrong note could rule out what follicles show.
const SAYS_NOTHING: f64 = 0.1;
const ANY_DAY: f64 = 0.01;

impl Chain {
    /// Forecasts what is still to come as of the evening of `today`.
    ///
    /// Without a seen event the chain starts from the outlook on ovulation, on condition that it
    /// comes. An event that has not been seen is taken not to have happened yet; a shed may have
    /// been missed, so its absence moves nothing else.
    #[must_use]
    pub fn ahead(
        durations: &Durations,
        seen: &Seen,
        outlook: Option<&Outlook>,
        today: Day,
    ) -> Self {
        let mut chain = Self::default();
        let Some(start) = Start::of(durations, seen, outlook, today, &mut chain) else {
            return chain;
        };
        let at = |event| (start.event == event).then(|| start.days.clone());
        let mut writer = Writer {
            chain: &mut chain,
            from: start.from,
            today,
            is_learned: false,
            is_by_temperature: false,
        };

        if let Some(ovulation) = at(ChainEvent::Ovulation) {
            writer.follow(ChainEvent::Shed, &ovulation, &durations.ovulation_to_shed, MISSED);
        }
        let to_laying = match start.event {
            ChainEvent::Ovulation => Some(&durations.ovulation_to_laying),
            ChainEvent::Shed => Some(&durations.shed_to_laying),
            _ => None,
        };
        let laying = match to_laying {
            Some(to) => writer.follow(ChainEvent::Laying, &start.days, to, OVERDUE),
            None => at(ChainEvent::Laying),
        };
        if seen.none_hatches {
            return chain;
        }
        let hatch = match &laying {
            Some(laying) => {
                writer.follow(ChainEvent::Hatch, laying, &durations.laying_to_hatch, OVERDUE)
            }
            None => at(ChainEvent::Hatch),
        };
        if let Some(hatch) = &hatch {
            writer.follow(ChainEvent::FirstShed, hatch, &durations.hatch_to_first_shed, MISSED);
        }
        let meal = match start.event {
            ChainEvent::FirstShed => Some((&start.days, &durations.first_shed_to_first_meal)),
            _ => hatch.as_ref().map(|hatch| (hatch, &durations.hatch_to_first_meal)),
        };
        if let Some((from, to)) = meal {
            writer.follow(ChainEvent::FirstMeal, from, to, 0.0);
        }
        chain
    }

    /// The date of an event that is still to come.
    #[must_use]
    pub const fn date(&self, event: ChainEvent) -> Option<&Estimate<Day>> {
        match event {
            ChainEvent::Ovulation => self.ovulation.as_ref(),
            ChainEvent::Shed => self.shed.as_ref(),
            ChainEvent::Laying => self.laying.as_ref(),
            ChainEvent::Hatch => self.hatch.as_ref(),
            ChainEvent::FirstShed => self.first_shed.as_ref(),
            ChainEvent::FirstMeal => self.first_meal.as_ref(),
        }
    }

    /// The chances by day of an event that is still to come; [`Chain::date`] is its 80 % interval.
    #[must_use]
    pub fn timing(&self, event: ChainEvent) -> Option<&Timing> {
        self.timings[event as usize].as_ref()
    }

    fn set(&mut self, event: ChainEvent, timing: Timing) {
        let date = Some(timing.estimate());
        match event {
            ChainEvent::Ovulation => self.ovulation = date,
            ChainEvent::Shed => self.shed = date,
            ChainEvent::Laying => self.laying = date,
            ChainEvent::Hatch => self.hatch = date,
            ChainEvent::FirstShed => self.first_shed = date,
            ChainEvent::FirstMeal => self.first_meal = date,
        }
        self.timings[event as usize] = Some(timing);
    }
}

/// Where the chain starts: an event with its days, counted from `from`.
struct Start {
    event: ChainEvent,
    days: ByDay,
    from: Day,
}

impl Start {
    /// The last event seen; else what the outlook says of ovulation, whose date is written.
    fn of(
        durations: &Durations,
        seen: &Seen,
        outlook: Option<&Outlook>,
        today: Day,
        chain: &mut Chain,
    ) -> Option<Self> {
        if let Some((event, day)) = seen.last() {
            return Some(Self { event, days: ByDay::on(0), from: day });
        }
        let outlook = outlook?;
        let mut days = by_night(outlook, seen.last_check, today);
        let method = if let Some((since, duration)) = warmth(durations, seen) {
            settle(&mut days, today.days_since(since), duration);
            "first passage of the growing tracks, and the days since she was warm"
        } else {
            "first passage of the growing tracks, stalls ahead included"
        };
        let sum = |later: bool| -> f64 {
            days.iter().filter(|(day, _)| (*day > 0) == later).map(|(_, p)| p).sum()
        };
        let (passed, ahead) = (sum(false), sum(true));
        if passed + ahead <= 1e-12 {
            return None;
        }
        if ahead > 1e-12 && passed.max(outlook.passage.passed.get()) < PASSED_FOR_SURE {
            let ahead = days.iter().copied().filter(|(day, _)| *day > 0);
            chain.set(ChainEvent::Ovulation, Timing::of(ahead, today, method));
        }
        let first = days.first().map_or(0, |(day, _)| *day);
        let days = ByDay::normed(first, days.iter().map(|(_, p)| *p).collect());
        Some(Self { event: ChainEvent::Ovulation, days, from: today })
    }
}

/// Chances of ovulation by day from today. What has passed unseen has passed since the last check,
/// on any of its days alike.
fn by_night(outlook: &Outlook, last_check: Option<Day>, today: Day) -> Vec<(i32, f64)> {
    let since = last_check.map_or(0, |day| today.days_since(day)).max(0);
    let passed = outlook.passage.passed.get();
    let mut days: Vec<(i32, f64)> =
        (1 - since..=0).map(|day| (day, passed / f64::from(since))).collect();
    let (mut by, mut night) = (0.0, 0);
    let ahead = outlook.passage.ahead.get();
    while by < ahead - 1e-7 && night < LAST_NIGHT {
        night += 1;
        let now = outlook.within(night.unsigned_abs()).get().max(by);
        days.push((night, now - by));
        by = now;
    }
    days
}

/// Forty weeks.
const LAST_NIGHT: i32 = 280;

/// When she was warm for ovulation; her own settling says more than the keeper's warming.
fn warmth<'a>(durations: &'a Durations, seen: &Seen) -> Option<(Day, &'a Duration)> {
    let settled = seen.settled.map(|day| (day, &durations.settled_to_ovulation));
    settled.or_else(|| seen.warmed.map(|day| (day, &durations.warmed_to_ovulation)))
}

/// Bayes: each day of ovulation is weighed by the chance that she would have settled so many days
/// before it. `ago` is how long before today that was.
fn settle(days: &mut [(i32, f64)], ago: i32, duration: &Duration) {
    let lead = duration.by_day();
    for (day, p) in days {
        let after = usize::try_from(*day + ago - lead.first).ok();
        let fits = after.and_then(|at| lead.chance.get(at)).copied().unwrap_or(0.0);
        *p *= SAYS_NOTHING * ANY_DAY + (1.0 - SAYS_NOTHING) * fits;
    }
}

/// Writes the dates of one chain.
struct Writer<'a> {
    chain: &'a mut Chain,
    from: Day,
    today: Day,
    is_learned: bool,
    is_by_temperature: bool,
}

impl Writer<'_> {
    /// Writes the date of what comes that long after `from`, and hands back its days. Neither where it
    /// would be ahead with a chance below `least`.
    fn follow(
        &mut self,
        event: ChainEvent,
        from: &ByDay,
        after: &Duration,
        least: f64,
    ) -> Option<ByDay> {
        self.is_learned |= after.seen > 0;
        self.is_by_temperature |= after.is_by_temperature();
        let days = from.then(after.by_day());
        (self.chance_ahead(&days) >= least).then(|| self.write(event, &days))
    }

    fn chance_ahead(&self, days: &ByDay) -> f64 {
        days.iter().filter(|(day, _)| self.from + *day > self.today).map(|(_, p)| p).sum()
    }

    /// Writes the date and hands back the days, on condition that none of them is over.
    fn write(&mut self, event: ChainEvent, days: &ByDay) -> ByDay {
        let days = days.still_ahead(self.today.days_since(self.from));
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
