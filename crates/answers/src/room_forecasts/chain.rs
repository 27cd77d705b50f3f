//! Learning the durations of the breeding year from what is over.

use forecast::Durations;
use records::words::{Meal, ShedKind};
use records::{Animal, Clutch, Colony, Dated};
use units::Day;

use crate::incubation::incubation;

/// Ovulation is looked for so many days before laying: about 50 days (common practice, no source),
/// twice that and a margin.
pub const OVULATION_HOLDS_DAYS: i32 = 120;

/// A clutch tells how long development takes where its temperature is known for this share of the
/// time; our own choice.
const KNOWN_AT_LEAST: f64 = 0.75;

/// Sheds and meals of a hatchling are written from hatching where the first is within so many days: a
/// first shed comes after 7 to 14 (trade knowledge, no source) and food is offered then; our own choice.
const WRITTEN_FROM_HATCHING: i32 = 30;

/// One breeding year of a female, or the part of it that was seen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Year {
    /// Place of the female.
    pub female: usize,
    /// Warmed up.
    pub warmed: Option<Day>,
    /// Settled on the hot spot.
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
}

/// The steps from one event of a year to another, as [`Durations::all`] names them.
const STEPS: [(&str, Event, Event); 9] = [
    ("settled to ovulation", |y| y.settled, |y| y.ovulation),
    ("warmed up to ovulation", |y| y.warmed, |y| y.ovulation),
    ("ovulation to pre-lay shed", |y| y.ovulation, |y| y.shed),
    ("pre-lay shed to laying", |y| y.shed, |y| y.laying),
    ("ovulation to laying", |y| y.ovulation, |y| y.laying),
    ("laying to hatch", |y| y.laying, |y| y.hatch),
    ("hatch to first shed", |y| y.hatch, |y| y.first_shed),
    // Some young eat before they shed; what then lies between is no such step.
    (
        "first shed to first meal",
        |y| y.first_shed.filter(|shed| y.first_meal.is_some_and(|meal| meal >= *shed)),
        |y| y.first_meal,
    ),
    ("hatch to first meal", |y| y.hatch, |y| y.first_meal),
];
type Event = fn(&Year) -> Option<Day>;

/// One step as it went in one year of a female.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// Place of the female.
    pub female: usize,
    /// From this event.
    pub from: Day,
    /// To that one.
    pub to: Day,
    /// How long it took, or with a known temperature how many days at 29.2 °C it was worth.
    pub days: f64,
}

/// The durations as the room's own history moves them, by what had happened by `day`.
///
/// A duration counts once the longest that it could have been is over: those that end within a
/// season under way are the short ones, and would make the room look quicker than it is.
#[must_use]
pub fn durations(colony: &Colony, usual: &Durations, day: Day) -> Durations {
    let all = stretches(colony, usual, day);
    let mut learned = usual.clone();
    for (name, duration) in learned.all_mut() {
        let seen = all.iter().filter(|(of, _)| *of == name).flat_map(|(_, stretches)| stretches);
        *duration = duration.after(&seen.map(|stretch| stretch.days).collect::<Vec<_>>());
    }
    learned
}

/// Those of them that are left out, as no such step can be so short or so long, by the name of the
/// step: one of their dates is wrong most likely.
#[must_use]
pub fn left_out(colony: &Colony, day: Day) -> Vec<(&'static str, Vec<Stretch>)> {
    let usual = Durations::default();
    let mut all = stretches(colony, &usual, day);
    for (name, stretches) in &mut all {
        let duration = usual.all().into_iter().find(|(of, _)| of == name);
        stretches.retain(|s| duration.is_some_and(|(_, duration)| !duration.can_be(s.days)));
    }
    all
}

fn stretches(colony: &Colony, usual: &Durations, day: Day) -> Vec<(&'static str, Vec<Stretch>)> {
    let years = years(colony, day);
    let longest = |name: &str| {
        let known = usual.all().into_iter().find(|(of, _)| *of == name);
        known.map_or(f64::INFINITY, |(_, duration)| duration.longest())
    };
    let seen = STEPS.iter().map(|(name, from, to)| {
        let longest = longest(name);
        let stretch = |year: &Year| {
            let (from, to) = (from(year)?, to(year)?);
            let days = f64::from(to.days_since(from));
            let is_over = f64::from(day.days_since(from)) >= longest;
            is_over.then_some(Stretch { female: year.female, from, to, days })
        };
        (*name, years.iter().filter_map(stretch).collect())
    });
    seen.chain([("laying to hatch at 29.2 °C", developed_by_hatch(colony, day))]).collect()
}

/// How many days at 29.2 °C the development of each hatched clutch was worth whose temperature was
/// known for most of the time.
fn developed_by_hatch(colony: &Colony, day: Day) -> Vec<Stretch> {
    let developed = |clutch: &Clutch| {
        let (from, to) = (clutch.laid?, clutch.hatched_by(day)?);
        let known =
            incubation(colony, clutch, day).filter(|i| i.known_share() >= KNOWN_AT_LEAST)?;
        Some(Stretch { female: clutch.female, from, to, days: known.developed })
    };
    colony.clutches.iter().filter_map(developed).collect()
}

/// Every breeding year of every female that was seen, by what had happened by `day`.
#[must_use]
pub fn years(colony: &Colony, day: Day) -> Vec<Year> {
    let mut years = Vec::new();
    for (female, animal) in colony.animals.iter().enumerate() {
        let begun = years.len();
        let mut ovulated: Vec<Day> = animal.ovulated.iter().map(|o| o.day).collect();
        let mut after = None;
        for laid in animal.laid.iter().filter(|l| l.day <= day) {
            let before = |d: Day| {
                d < laid.day
                    && after.is_none_or(|after| d > after)
                    && laid.day.days_since(d) <= OVULATION_HOLDS_DAYS
            };
            let ovulation = ovulated.iter().copied().rfind(|d| before(*d));
            ovulated.retain(|d| *d > laid.day);
            let clutch = &colony.clutches[laid.what];
            years.push(hatched(colony, clutch, year(animal, ovulation, Some(laid.day)), day));
            after = Some(laid.day);
        }
        // Ovulated, and no clutch so far: what came before it and the shed after it are seen.
        let open = ovulated.iter().copied().rfind(|d| *d <= day && after.is_none_or(|a| *d > a));
        years.extend(open.map(|ovulation| year(animal, Some(ovulation), None)));
        years[begun..].iter_mut().for_each(|year| year.female = female);
    }
    for year in &mut years {
        year.forget_after(day);
    }
    years
}

fn year(animal: &Animal, ovulation: Option<Day>, laying: Option<Day>) -> Year {
    let warm = |days: &[Dated<()>]| {
        let ovulation = ovulation?;
        let near = |d: Day| (0..=OVULATION_HOLDS_DAYS).contains(&ovulation.days_since(d));
        days.iter().map(|d| d.day).rfind(|d| near(*d))
    };
    let mut sheds = animal.sheds.iter().filter(|s| s.what == ShedKind::PreLay).map(|s| s.day);
    let shed = match (ovulation, laying) {
        (Some(from), to) => sheds.find(|d| {
            *d > from && to.is_none_or(|to| *d < to) && d.days_since(from) <= OVULATION_HOLDS_DAYS
        }),
        (None, Some(to)) => {
            sheds.rfind(|d| (1..=OVULATION_HOLDS_DAYS).contains(&to.days_since(*d)))
        }
        (None, None) => None,
    };
    let (warmed, settled) = (warm(&animal.warmed), warm(&animal.settled));
    Year { warmed, settled, ovulation, shed, laying, ..Year::default() }
}

fn hatched(colony: &Colony, clutch: &Clutch, year: Year, day: Day) -> Year {
    let hatch = clutch.hatched_by(day);
    let (first_shed, first_meal) = firsts(colony, clutch, hatch);
    Year { hatch, first_shed, first_meal, ..year }
}

/// The first shed and the first meal of the young of a clutch after they hatched. Young that were
/// not entered as animals tell nothing, nor do those of which sheds or meals were first written
/// later: what was written first was not the first.
#[must_use]
pub fn firsts(colony: &Colony, clutch: &Clutch, hatch: Option<Day>) -> (Option<Day>, Option<Day>) {
    let Some(hatch) = hatch else { return (None, None) };
    let young = || clutch.young.iter().map(|at| &colony.animals[*at]);
    let is_from_hatching =
        |first: Day| (1..=WRITTEN_FROM_HATCHING).contains(&first.days_since(hatch));
    let shed = |young: &Animal| {
        let own = young.sheds.iter().filter(|s| s.what != ShedKind::PreLay).map(|s| s.day);
        own.filter(|d| *d > hatch).min().filter(|first| is_from_hatching(*first))
    };
    let meal = |young: &Animal| {
        let mut offered = young.meals.iter().filter(|m| m.day > hatch);
        offered.clone().map(|m| m.day).min().filter(|first| is_from_hatching(*first))?;
        offered.find(|m| m.what.meal == Meal::Taken).map(|m| m.day)
    };
    (young().filter_map(shed).min(), young().filter_map(meal).min())
}

impl Year {
    fn forget_after(&mut self, day: Day) {
        for event in [
            &mut self.warmed,
            &mut self.settled,
            &mut self.ovulation,
            &mut self.shed,
            &mut self.laying,
            &mut self.hatch,
            &mut self.first_shed,
            &mut self.first_meal,
        ] {
            *event = event.filter(|d| *d <= day);
        }
    }
}
