//! Meals to be offered: who, when, which prey, and how likely a fast is then.

use forecast::weight_trend;
use records::{Animal, Colony, Dated, Meal};
use units::{Day, Grams};

use super::appetite::Appetite;
use super::phases::{self, Phases};
use crate::clutch_expected::hatch_rate;
use crate::clutch_size::her_clutch;
use crate::feeding_due::{FIRST_MEAL_DAYS, FeedingDue, MealShown, Stops, key, stops};
use crate::follicles::{FemaleStanding, Phase};
use crate::settings::Feeding;
use crate::tonight::Tonight;

/// One meal to come.
pub struct Offered {
    /// Which week, from 0.
    pub week: u32,
    /// Kinds and sizes it may be, each with its chance; they sum to one.
    pub preys: Vec<(String, f64)>,
    /// How many.
    pub count: u16,
    /// Chance that she fasts on that day because of where she is in her year.
    pub fasts: f64,
}

/// An animal with its meals to come.
pub struct Eater {
    /// Young of which no meal is written, or that are not out yet: whether they stay is not known.
    pub is_young: bool,
    /// How many such animals; parts of one for hatchlings that may not come.
    pub animals: f64,
    /// Whether it took food last time.
    pub ate_last: bool,
    /// Its meals, in order.
    pub meals: Vec<Offered>,
}

impl Offered {
    /// Chance that it is this prey, in the form of [`key`].
    pub fn is(&self, prey: &str) -> f64 {
        self.preys.iter().filter(|(name, _)| key(name) == prey).map(|(_, share)| share).sum()
    }
}

/// An animal younger than this is weighed against the classes again as it grows.
const YOUNG_DAYS: i32 = 365;
/// Meals taken of late of which each prey has its share; our choice, as for the usual meal.
const LAST_MEALS: usize = 6;
/// Days back of weights that tell how it grows; our choice.
const GROWTH_DAYS: i32 = 150;

/// Everybody that eats in so many weeks.
pub fn eaters(
    colony: &Colony,
    (tonight, feeding): (&Tonight, &FeedingDue),
    appetite: &Appetite,
    weeks: u32,
) -> Vec<Eater> {
    let ahead = Ahead {
        colony,
        tonight,
        feeding: Feeding::of(colony),
        phases: Phases::of(colony),
        usual: appetite.share(),
        until: colony.as_of.day + 7 * i32::try_from(weeks).unwrap_or(1),
    };
    let lists = [&feeding.due, &feeding.after, &feeding.wait, &feeding.later];
    let mut all: Vec<Eater> = lists.into_iter().flatten().map(|meal| ahead.of(meal)).collect();
    all.extend(tonight.females.iter().filter_map(|f| ahead.hatchlings(f)));
    all.retain(|e| !e.meals.is_empty());
    all
}

struct Ahead<'a> {
    colony: &'a Colony,
    tonight: &'a Tonight,
    feeding: Feeding,
    phases: Phases,
    /// Share of meals taken, in any phase.
    usual: f64,
    until: Day,
}

impl Ahead<'_> {
    fn days(&self, first: Day, every: u32) -> Vec<Day> {
        let every = i32::try_from(every.max(1)).unwrap_or(14);
        let first = first.max(self.colony.as_of.day);
        (0..400).map(|k| first + k * every).take_while(|day| *day < self.until).collect()
    }

    fn week(&self, day: Day) -> u32 {
        u32::try_from(day.days_since(self.colony.as_of.day) / 7).unwrap_or(0)
    }

    fn of(&self, meal: &MealShown) -> Eater {
        let animal = &self.colony.animals[meal.place];
        let days = self.days(meal.due_on, meal.every_days);
        let fasts = self.fasts(meal.place, &days);
        let meals = days.iter().zip(fasts).map(|(day, fasts)| Offered {
            week: self.week(*day),
            preys: self.preys(animal, meal, *day),
            count: meal.prey.count,
            fasts,
        });
        Eater {
            is_young: animal.meals.is_empty(),
            animals: 1.0,
            ate_last: meal.refused_in_row == 0,
            meals: meals.collect(),
        }
    }

    /// What it took of late, each prey as often; a young one the next class's once it has grown
    /// into it.
    fn preys(&self, animal: &Animal, meal: &MealShown, day: Day) -> Vec<(String, f64)> {
        let is_named = |m: &&Dated<records::facts::Fed>| {
            m.what.meal == Meal::Taken && !m.what.prey.trim().is_empty()
        };
        let last = || animal.meals.iter().rev().filter(is_named).take(LAST_MEALS);
        let share = 1.0 / f64::from(u32::try_from(last().count()).unwrap_or(1).max(1));
        let own: Vec<(String, f64)> =
            last().map(|m| (m.what.prey.trim().to_owned(), share)).collect();
        let own = if own.is_empty() { vec![(meal.prey.name.clone(), 1.0)] } else { own };
        let today = self.colony.as_of.day;
        let is_young = animal.hatched.is_some_and(|h| today.days_since(h) < YOUNG_DAYS);
        let Some(last) = animal.last_weight().filter(|_| is_young) else { return own };
        let now = self.feeding.class_of(Some(last.what));
        if key(&now.prey) != key(&meal.prey.name) {
            return own;
        }
        let recent = animal.weights.iter().filter(|w| today.days_since(w.day) <= GROWTH_DAYS);
        let points: Vec<(f64, Grams)> =
            recent.map(|w| (f64::from(w.day.number()), w.what)).collect();
        let then = weight_trend(&points)
            .filter(|t| t.monthly.median > 0.0)
            .and_then(|trend| Grams::new(trend.in_days(f64::from(day.days_since(last.day)))).ok());
        let then = then.map(|then| self.feeding.class_of(Some(then)).prey);
        then.filter(|then| key(then) != key(&now.prey)).map_or(own, |then| vec![(then, 1.0)])
    }

    /// Chance on each day that she fasts because of where she is in her year.
    fn fasts(&self, place: usize, days: &[Day]) -> Vec<f64> {
        let female = self.tonight.females.iter().find(|f| f.place == place);
        let Some(f) = female else { return vec![0.0; days.len()] };
        match f.phase {
            Phase::Building => {
                let stops = stops(self.colony, place, &self.feeding);
                days.iter().map(|day| grown(f, &stops, *day)).collect()
            }
            Phase::Ovulated | Phase::Shed | Phase::Laid => {
                let laying = f.chain.laying.as_ref().map(|l| l.median);
                let animal = &self.colony.animals[place];
                let fasts = |day: &Day| {
                    let phase = phases::phase(self.colony, animal, *day, laying);
                    phase.map_or(0.0, |phase| self.phases.fasts(phase, self.usual))
                };
                days.iter().map(fasts).collect()
            }
            Phase::Resting | Phase::Resorbed | Phase::Unchecked => vec![0.0; days.len()],
        }
    }

    /// Hatchlings that a clutch may bring to eat by then.
    fn hatchlings(&self, f: &FemaleStanding) -> Option<Eater> {
        let hatch = f.chain.hatch.as_ref().filter(|_| f.phase == Phase::Laid)?;
        let laid = self.colony.animals[f.place].laid.last()?;
        let clutch = &self.colony.clutches[laid.what];
        let fertile = clutch.eggs.map_or_else(
            || her_clutch(self.colony, Some(f.place)).size.mean(),
            |eggs| f64::from(eggs.saturating_sub(clutch.slugs.unwrap_or(0))),
        );
        let first = hatch.median + FIRST_MEAL_DAYS;
        let class = self.feeding.class_of(Some(Grams::from_steps(0)));
        let days = self.days(first, self.feeding.young_every.min(class.every_days));
        let meals = days.iter().map(|day| Offered {
            week: self.week(*day),
            preys: vec![(class.prey.clone(), 1.0)],
            count: 1,
            fasts: 0.0,
        });
        Some(Eater {
            is_young: true,
            animals: fertile * hatch_rate(self.colony, Some(f.place)).rate,
            ate_last: false,
            meals: meals.collect(),
        })
    }
}

/// Chance that she is past the size at which she stops eating: over five points of the sizes
/// expected on that day, each for its share.
fn grown(f: &FemaleStanding, stops: &Stops, day: Day) -> f64 {
    let shares = [0.175, 0.2, 0.25, 0.2, 0.175];
    let fan = f.standing.belief.fan(&[day]);
    fan.first().map_or(0.0, |on| {
        on.sizes.iter().zip(shares).map(|(mm, share)| share * stops.by(*mm)).sum()
    })
}
