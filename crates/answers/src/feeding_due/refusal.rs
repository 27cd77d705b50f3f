//! Whether food refused is ordinary or a matter to look into.

use records::facts::Fed;
use records::{Animal, Colony, Dated, EggsKept, Meal, RecordId, Sex};
use units::Day;

use super::Asked;
use super::stops::stops;
use crate::follicles::{FemaleStanding, Phase};
use crate::settings::rules;

/// Nights back within which a placement makes a male one that is at work; our choice.
const AT_WORK_NIGHTS: i32 = 30;
/// Days from the season's opening during which a grown male may fast; our choice: November to
/// April, the months in which nights with males fall.
const MALE_SEASON_DAYS: i32 = 180;
/// Days after laying during which she may brood: about 60 to hatching (common practice, no source).
const BROODING_DAYS: i32 = 65;

/// Days after laying during which she may still fast when her eggs are in an incubator (common
/// practice, no source; the end is our choice).
const AFTER_LAYING_DAYS: i32 = 28;

/// Refusals in a row from which she is off food, not just not hungry that day; our choice.
const OFF_FOOD: u32 = 2;

/// What to think of refused food.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refusal {
    /// It ate last time, or was never offered food.
    None,
    /// Refused for an ordinary reason.
    Ordinary,
    /// Refused without one, but not often yet.
    Watch,
    /// A matter to look into.
    LookInto,
}

impl Refusal {
    /// The word for it; none where nothing was refused.
    #[must_use]
    pub const fn word(self) -> Option<&'static str> {
        match self {
            Self::None => None,
            Self::Ordinary => Some("ordinary"),
            Self::Watch => Some("watch"),
            Self::LookInto => Some("look into"),
        }
    }
}

/// Why a refusal is thought of so, each with its records.
#[derive(Clone, Debug, PartialEq)]
pub enum Because {
    /// Her follicles, mm, are of a size at which females like her stop eating; years and sizes at
    /// which she stopped herself.
    Follicles(f64, Vec<(i16, f64)>, Vec<RecordId>),
    /// Her follicles grow, but are smaller than that.
    SmallFollicles(f64, Vec<(i16, f64)>, Vec<RecordId>),
    /// In blue, or just before a shed.
    InBlue(Vec<RecordId>),
    /// She carries eggs since then.
    Gravid(Day, Vec<RecordId>),
    /// She laid then and may be with her eggs.
    Brooding(Day, Vec<RecordId>),
    /// She laid then, her eggs are elsewhere, and she may take some weeks to eat again.
    LaidLately(Day, Vec<RecordId>),
    /// A male in the season.
    MaleInSeason(Vec<RecordId>),
    /// It lost this share of its weight since it last ate.
    Lost(f64, Vec<RecordId>),
}

impl Because {
    /// The records behind it.
    #[must_use]
    pub fn records(&self) -> &[RecordId] {
        match self {
            Self::Follicles(_, _, r)
            | Self::SmallFollicles(_, _, r)
            | Self::Gravid(_, r)
            | Self::Brooding(_, r)
            | Self::LaidLately(_, r)
            | Self::Lost(_, r)
            | Self::InBlue(r)
            | Self::MaleInSeason(r) => r,
        }
    }
}

/// Meals refused since it last ate, newest first.
pub(super) fn refused(animal: &Animal) -> Vec<&Dated<Fed>> {
    let last_taken = animal.meals.iter().rfind(|m| m.what.meal == Meal::Taken).map(|m| m.day);
    let since = |m: &&Dated<Fed>| last_taken.is_none_or(|taken| m.day > taken);
    animal.meals.iter().rev().take_while(since).collect()
}

/// On how many days.
pub(super) fn days(refused: &[&Dated<Fed>]) -> u32 {
    let mut days: Vec<Day> = refused.iter().map(|m| m.day).collect();
    days.dedup();
    u32::try_from(days.len()).unwrap_or(u32::MAX)
}

impl Asked<'_> {
    pub(super) fn judged(
        &self,
        place: usize,
        animal: &Animal,
        refused: &[&Dated<Fed>],
    ) -> (Refusal, Vec<Because>) {
        let n = days(refused);
        if n == 0 {
            return (Refusal::None, vec![]);
        }
        let female = self.females.get(&place).copied();
        let mut because: Vec<Because> = Vec::new();
        because.extend(female.and_then(|f| self.of_female(animal, f, place)));
        because.extend(blue(self.colony, animal));
        because.extend(self.of_male(animal));
        let is_small = |b: &Because| matches!(b, Because::SmallFollicles(..));
        let is_ordinary = because.iter().any(|b| !is_small(b));
        let before_her_time = because.iter().any(is_small) && !is_ordinary;
        let lost = self.lost(animal, refused);
        let refusal = match (&lost, is_ordinary) {
            (Some(_), _) => Refusal::LookInto,
            (None, true) => Refusal::Ordinary,
            (None, false) if before_her_time && n >= OFF_FOOD || n >= self.feeding.refusals => {
                Refusal::LookInto
            }
            (None, false) => Refusal::Watch,
        };
        because.extend(lost);
        (refusal, because)
    }

    fn of_female(&self, animal: &Animal, f: &FemaleStanding, place: usize) -> Option<Because> {
        let last = |all: &[Dated<_>]| all.last().map(|d: &Dated<_>| d.record).into_iter().collect();
        match f.phase {
            Phase::Ovulated | Phase::Shed => {
                let records = animal.ovulated.last().map(|o| o.record).into_iter().collect();
                Some(Because::Gravid(f.seen.ovulation.or(f.seen.shed)?, records))
            }
            Phase::Laid => {
                let laying = animal.laid.last()?;
                let clutch = &self.colony.clutches[laying.what];
                let is_out = f.seen.hatch.is_some() || clutch.kept == Some(EggsKept::Incubator);
                let since = self.day.days_since(laying.day);
                let records = vec![laying.record];
                match is_out {
                    false if since <= BROODING_DAYS => Some(Because::Brooding(laying.day, records)),
                    true if since <= AFTER_LAYING_DAYS => {
                        Some(Because::LaidLately(laying.day, records))
                    }
                    _ => None,
                }
            }
            Phase::Building => {
                let size = f.standing.belief.size();
                let mm = size.median.get();
                let stops = stops(self.colony, place, &self.feeding);
                let mut records: Vec<RecordId> = last(&animal.checks);
                records.extend(stops.own.iter().flat_map(|s| s.records.iter().copied()));
                let own = stops.own.iter().map(|s| (s.day.year(), s.mm)).collect();
                if mm >= stops.ordinary_from() {
                    return Some(Because::Follicles(mm, own, records));
                }
                // Where they may as well be large, they say nothing of why she does not eat.
                let are_small = size.high.get() < stops.ordinary_from();
                are_small.then_some(Because::SmallFollicles(mm, own, records))
            }
            Phase::Resting | Phase::Resorbed | Phase::Unchecked => None,
        }
    }

    fn of_male(&self, animal: &Animal) -> Option<Because> {
        if animal.sex() != Some(Sex::Male) {
            return None;
        }
        let stays = animal.stays.iter().rev().map(|at| &self.colony.stays[*at]);
        let placed = stays
            .filter(|s| s.placed.is_some())
            .find(|s| (0..=AT_WORK_NIGHTS).contains(&self.day.days_since(s.night.evening())));
        let least = rules(self.colony).male_at_least;
        let is_grown =
            animal.last_weight().is_some_and(|w| least.is_none_or(|least| w.what >= least));
        let opened = self.day.days_since(self.colony.season().opens());
        if placed.is_none() && !(is_grown && (0..=MALE_SEASON_DAYS).contains(&opened)) {
            return None;
        }
        Some(Because::MaleInSeason(placed.and_then(|s| s.placed).into_iter().collect()))
    }

    /// What was lost between the last weight before the first refusal and the newest one.
    fn lost(&self, animal: &Animal, refused: &[&Dated<Fed>]) -> Option<Because> {
        let first = refused.last()?.day;
        let before = animal.weights.iter().rfind(|w| w.day <= first)?;
        let now = animal.weights.last().filter(|w| w.day > first)?;
        let share = 1.0 - now.what.get() / before.what.get();
        // Eggs weigh: a female that laid meanwhile has lost no flesh.
        let laid = animal.laid.iter().any(|l| before.day <= l.day && l.day <= now.day);
        (share >= self.feeding.loss.get() && !laid)
            .then(|| Because::Lost(share, vec![before.record, now.record]))
    }
}

fn blue(colony: &Colony, animal: &Animal) -> Option<Because> {
    crate::tonight::in_blue(colony, animal).map(|record| Because::InBlue(vec![record]))
}
