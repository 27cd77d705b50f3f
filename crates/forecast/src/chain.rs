//! From ovulation to the first meal of the young: each event that was seen replaces its forecast.

mod start;
mod writer;

use units::{Day, Estimate};

use crate::durations::Durations;
use crate::follicle::outlook::Outlook;
use crate::timing::Timing;
use start::Start;
use writer::Writer;

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
        Self::ahead_to(&ChainEvent::ALL, durations, seen, outlook, today)
    }

    /// The same for whoever asks only of these events: others are left out, and what comes after the
    /// last of them is not reckoned.
    #[must_use]
    pub fn ahead_to(
        asked: &[ChainEvent],
        durations: &Durations,
        seen: &Seen,
        outlook: Option<&Outlook>,
        today: Day,
    ) -> Self {
        let mut chain = Self::default();
        if let Some(start) = Start::of(durations, seen, outlook, today, asked, &mut chain) {
            let from = start.from;
            let mut writer = Writer {
                chain: &mut chain,
                asked,
                from,
                today: today.days_since(from),
                is_learned: false,
                is_by_temperature: false,
            };
            writer.write_all(durations, &start, seen.none_hatches);
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
