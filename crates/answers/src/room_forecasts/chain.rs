//! Learning the durations of the breeding year from what is over.

use forecast::{Duration, Durations};
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

/// One breeding year of a female, or the part of it that was seen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Year {
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

/// The durations as the room's own history moves them, by what had happened by `day`.
///
/// A duration counts once the longest that it could have been is over: those that end within a
/// season under way are the short ones, and would make the room look quicker than it is.
#[must_use]
pub fn durations(colony: &Colony, usual: &Durations, day: Day) -> Durations {
    let years = years(colony, day);
    let learned =
        |prior: &Duration, from: fn(&Year) -> Option<Day>, to: fn(&Year) -> Option<Day>| {
            let seen: Vec<f64> = years
                .iter()
                .filter_map(|year| {
                    let (from, to) = (from(year)?, to(year)?);
                    let is_over = f64::from(day.days_since(from)) >= prior.longest();
                    is_over.then(|| f64::from(to.days_since(from)))
                })
                .collect();
            prior.after(&seen)
        };
    let base = developed_by_hatch(colony, day);
    Durations {
        laying_to_hatch_at_base: usual.laying_to_hatch_at_base.after(&base),
        settled_to_ovulation: learned(&usual.settled_to_ovulation, |y| y.settled, |y| y.ovulation),
        warmed_to_ovulation: learned(&usual.warmed_to_ovulation, |y| y.warmed, |y| y.ovulation),
        ovulation_to_shed: learned(&usual.ovulation_to_shed, |y| y.ovulation, |y| y.shed),
        shed_to_laying: learned(&usual.shed_to_laying, |y| y.shed, |y| y.laying),
        ovulation_to_laying: learned(&usual.ovulation_to_laying, |y| y.ovulation, |y| y.laying),
        laying_to_hatch: learned(&usual.laying_to_hatch, |y| y.laying, |y| y.hatch),
        hatch_to_first_shed: learned(&usual.hatch_to_first_shed, |y| y.hatch, |y| y.first_shed),
        first_shed_to_first_meal: learned(
            &usual.first_shed_to_first_meal,
            |y| y.first_shed,
            |y| y.first_meal,
        ),
        hatch_to_first_meal: learned(&usual.hatch_to_first_meal, |y| y.hatch, |y| y.first_meal),
    }
}

/// How many days at 29.2 °C the development of each hatched clutch was worth whose temperature was
/// known for most of the time.
fn developed_by_hatch(colony: &Colony, day: Day) -> Vec<f64> {
    let hatched = colony.clutches.iter().filter(|c| c.hatched_by(day).is_some());
    let known = hatched.filter_map(|clutch| incubation(colony, clutch, day));
    known.filter(|i| i.known_share() >= KNOWN_AT_LEAST).map(|i| i.developed).collect()
}

/// Every breeding year of every female that was seen, by what had happened by `day`.
#[must_use]
pub fn years(colony: &Colony, day: Day) -> Vec<Year> {
    let mut years = Vec::new();
    for animal in &colony.animals {
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
/// not entered as animals tell nothing.
#[must_use]
pub fn firsts(colony: &Colony, clutch: &Clutch, hatch: Option<Day>) -> (Option<Day>, Option<Day>) {
    let Some(hatch) = hatch else { return (None, None) };
    let young = || clutch.young.iter().map(|at| &colony.animals[*at]);
    let sheds = young().filter_map(|y| y.sheds.iter().map(|s| s.day).find(|d| *d > hatch));
    let meals = young().filter_map(|y| {
        let mut taken = y.meals.iter().filter(|m| m.what.meal == Meal::Taken).map(|m| m.day);
        taken.find(|d| *d > hatch)
    });
    (sheds.min(), meals.min())
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
