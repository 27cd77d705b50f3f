//! Learning follicle growth from the cycles that are over.

use std::cmp::Reverse;
use std::collections::HashMap;

use forecast::follicle::fit::{self, Asked, Learned, Outcome, Parameter, Season};
use forecast::follicle::opening::{Closing, CycleSpan};
use forecast::follicle::own_rate::OwnRate;
use forecast::{Cycle, Durations, Found, Hyper, cycles};
use records::words::{Certainty, Meal};
use records::{Animal, AnimalId, Colony};
use units::Day;

use super::hands::{self, FeltBy, Hands};
use crate::cycle::{checks, checks_with_record, happenings, locks};

/// The newest finished cycles that are learned from; older ones are left out. Our own choice: more
/// hardly move what is learned, and each takes its time.
const MOST_CYCLES: usize = 240;
/// A suspected ovulation is taken to be right within so many days. Our own choice.
const SUSPECTED_WITHIN: f64 = 4.0;
/// Food counts that was taken within so many days before the cycle opened. Our own choice.
const FED_DAYS: i32 = 120;

/// What the room's finished cycles say.
#[derive(Clone, Debug)]
pub struct Growth {
    /// The settings with what stands behind them; none before the first finished cycle.
    pub learned: Option<Learned>,
    /// What earlier cycles of a female say of her rate.
    pub own: HashMap<AnimalId, OwnRate>,
    /// How sharply each keeper tells sizes by hand.
    pub hands: Hands,
    /// Meals before a cycle.
    pub food: FoodScale,
}

/// Meals taken before a cycle opened, over all cycles: mean and spread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FoodScale {
    /// Mean.
    pub mean: f64,
    /// Standard deviation; 0 where there is nothing to compare.
    pub spread: f64,
}

impl FoodScale {
    /// How far this many meals lie from the mean, in spreads, at most three.
    #[must_use]
    pub fn of(&self, meals: Option<u32>) -> f64 {
        match meals {
            Some(meals) if self.spread > 0.0 => {
                ((f64::from(meals) - self.mean) / self.spread).clamp(-3.0, 3.0)
            }
            _ => 0.0,
        }
    }
}

impl Growth {
    /// What a room without history knows.
    #[must_use]
    pub fn none() -> Self {
        let food = FoodScale { mean: 0.0, spread: 0.0 };
        Self { learned: None, own: HashMap::new(), hands: Hands::default(), food }
    }
}

/// The cycles that are over, as the fit wants them.
#[derive(Clone, Debug, PartialEq)]
pub struct Finished {
    ids: Vec<AnimalId>,
    females: Vec<Vec<Season>>,
    felt_by: FeltBy,
    food: FoodScale,
}

impl Finished {
    /// What is over by `day`, and was checked at all.
    #[must_use]
    pub fn of(colony: &Colony, durations: &Durations, day: Day) -> Self {
        let mut all = over(colony, day);
        all.retain(|(_, span, at)| !checks(colony, &colony.animals[*at], span, day).is_empty());
        // By code before by id: sheets that were withdrawn and come in again give other ids, and the
        // order of the sums must not move what is learned.
        all.sort_by_key(|(id, span, at)| (Reverse(span.opened), colony.code(*at), *id));
        all.truncate(MOST_CYCLES);
        all.sort_by_key(|(id, span, at)| (colony.code(*at), *id, span.opened));
        let meals: Vec<Option<u32>> = all
            .iter()
            .map(|(_, span, at)| meals_before(&colony.animals[*at], span.opened))
            .collect();
        let food = scale(&meals);
        let mut ids: Vec<AnimalId> = Vec::new();
        let mut females: Vec<Vec<Season>> = Vec::new();
        let mut felt_by: FeltBy = Vec::new();
        for ((id, span, place), meals) in all.iter().zip(meals) {
            let animal = &colony.animals[*place];
            let season = Season {
                cycle: Cycle {
                    opened: span.opened,
                    checks: checks(colony, animal, span, day),
                    locks: locks(colony, animal, span, day),
                },
                outcome: outcome(animal, span, durations),
                fed: food.of(meals),
            };
            if ids.last() != Some(id) {
                ids.push(*id);
                females.push(vec![]);
                felt_by.push(vec![]);
            }
            if let Some(hers) = females.last_mut() {
                hers.push(season);
            }
            let who = who_felt(colony, animal, span, day);
            if let Some(hers) = felt_by.last_mut() {
                hers.push(who);
            }
        }
        Self { ids, females, felt_by, food }
    }

    /// Learns from them: some milliseconds per cycle.
    #[must_use]
    pub fn learn(&self) -> Growth {
        if self.females.is_empty() {
            return Growth::none();
        }
        let learned = fit::fit(&self.females, &Asked::everything());
        let rate = |seasons: &Vec<Season>| fit::own_rate(&learned.hyper, seasons);
        let own = self.ids.iter().copied().zip(self.females.iter().map(rate)).collect();
        let hands = hands::hands(&learned.hyper, &self.females, &self.felt_by);
        Growth { learned: Some(learned), own, hands, food: self.food }
    }
}

fn who_felt(colony: &Colony, animal: &Animal, span: &CycleSpan, day: Day) -> Vec<Option<String>> {
    let who = |record| colony.record(record).map(|live| live.who.clone());
    checks_with_record(colony, animal, span, day)
        .map(|(check, record)| match check.found {
            Found::Felt { .. } => who(record),
            Found::Scan(_) => None,
        })
        .collect()
}

fn over(colony: &Colony, day: Day) -> Vec<(AnimalId, CycleSpan, usize)> {
    let of = |(place, animal): (usize, &Animal)| {
        let spans = cycles(&happenings(colony, animal), day);
        let over = spans.into_iter().filter(|s| s.closed.is_some());
        let id = animal.id;
        over.map(move |span| (id, span, place)).collect::<Vec<_>>()
    };
    colony.animals.iter().enumerate().flat_map(of).collect()
}

/// The settings to forecast with: what is not known for certain of the room's means adds to the
/// spreads about them.
#[must_use]
pub fn foreseeing(learned: &Learned) -> Hyper {
    let mut hyper = learned.hyper.clone();
    for found in &learned.found {
        // From the ends of the 80 % interval back to a standard deviation.
        let uncertain = (found.high - found.low) / 2.563;
        match found.parameter {
            Parameter::Rate => {
                let own = hyper.same_female * hyper.rate_spread * hyper.rate_spread;
                hyper.rate_spread = hyper.rate_spread.hypot(uncertain);
                hyper.same_female = own / (hyper.rate_spread * hyper.rate_spread);
            }
            Parameter::OvulationSize => {
                hyper.ovulation_spread = hyper.ovulation_spread.hypot(uncertain);
            }
            Parameter::RestSize => hyper.rest_spread = hyper.rest_spread.hypot(uncertain),
            _ => {}
        }
    }
    hyper
}

/// Meals taken in the months before that day; `None` where no offer was written in them.
#[must_use]
pub fn meals_before(animal: &Animal, opened: Day) -> Option<u32> {
    let in_time = |day: Day| (1..=FED_DAYS).contains(&opened.days_since(day));
    let mut offered = animal.meals.iter().filter(|m| in_time(m.day)).peekable();
    offered.peek()?;
    Some(offered.filter(|m| m.what.meal == Meal::Taken).map(|m| u32::from(m.what.count)).sum())
}

fn scale(meals: &[Option<u32>]) -> FoodScale {
    let known: Vec<f64> = meals.iter().flatten().map(|m| f64::from(*m)).collect();
    #[expect(clippy::cast_precision_loss, reason = "some hundred cycles")]
    let n = known.len() as f64;
    if known.len() < 2 {
        return FoodScale { mean: 0.0, spread: 0.0 };
    }
    let mean = known.iter().sum::<f64>() / n;
    let variance = known.iter().map(|m| (m - mean) * (m - mean)).sum::<f64>() / (n - 1.0);
    FoodScale { mean, spread: variance.sqrt() }
}

fn outcome(animal: &Animal, span: &CycleSpan, durations: &Durations) -> Outcome {
    let in_cycle = |day: Day, end: Day| span.opened <= day && day <= end;
    let seen = |end: Day| animal.ovulated.iter().rfind(|o| in_cycle(o.day, end));
    match span.closed {
        None => Outcome::Unknown,
        Some(Closing::Resorbed(day)) => Outcome::Resorbed(day),
        Some(Closing::Quiet(day)) => match seen(day + FED_DAYS) {
            Some(o) => Outcome::Ovulated(o.day, within(o.what.certainty)),
            None => Outcome::Quiet(day),
        },
        Some(Closing::Laid(day)) => match seen(day) {
            Some(o) => Outcome::Ovulated(o.day, within(o.what.certainty)),
            None => {
                let (mean, spread, _) = durations.ovulation_to_laying.next();
                #[expect(clippy::cast_possible_truncation, reason = "some weeks")]
                let before = mean.round() as i32;
                Outcome::Ovulated(day - before, spread)
            }
        },
    }
}

const fn within(certainty: Certainty) -> f64 {
    match certainty {
        Certainty::Seen => 0.0,
        Certainty::Suspected => SUSPECTED_WITHIN,
    }
}
