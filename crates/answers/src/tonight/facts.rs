//! Each fact of the engine with the records it rests on.

use records::words::Lock;
use records::{Animal, Colony, RecordId, Stay};
use schedule::{Fact, Rule, Subject, Value};
use units::{Day, Night};

use crate::planned_pairs::LEAST_CARRIED;
use crate::tonight::FactShown;
use crate::tonight::room::{Cast, in_blue, opening_weight};

pub(super) fn shown(colony: &Colony, cast: &Cast, fact: &Fact) -> FactShown {
    FactShown {
        rule: fact.rule.key(),
        value: fact.value.number(),
        limit: fact.limit.and_then(Value::number),
        records: rests_on(colony, cast, fact),
    }
}

/// The chance that he carries what he is wanted for, with what is written of his own genes.
pub(super) fn carried(colony: &Colony, male: usize, p: f64) -> FactShown {
    let animal = &colony.animals[male];
    let texts = [&animal.genes, &animal.look].into_iter().flatten().map(|(_, record)| *record);
    let tests = animal.tested.iter().map(|(_, record, _)| *record);
    FactShown {
        rule: "carries",
        value: Some(p),
        limit: Some(LEAST_CARRIED),
        records: texts.chain(tests).collect(),
    }
}

/// A check older than so many days is told beside a placement: twice the fortnight from one to the
/// next of a growing female. Our own choice.
const LONG_UNCHECKED: i32 = 28;

/// The day of her last check where it is long ago; who was never checked has a reason of its own.
pub(super) fn long_unchecked(colony: &Colony, female: usize) -> Option<(Day, FactShown)> {
    let today = colony.as_of.day;
    let last = colony.animals[female].checks.iter().rfind(|c| c.day <= today)?;
    let age = today.days_since(last.day);
    let fact = FactShown {
        rule: "check_age",
        value: Some(f64::from(age)),
        limit: Some(f64::from(LONG_UNCHECKED)),
        records: vec![last.record],
    };
    (age > LONG_UNCHECKED).then_some((last.day, fact))
}

fn rests_on(colony: &Colony, cast: &Cast, fact: &Fact) -> Vec<RecordId> {
    let (place, pair) = match fact.about {
        Subject::Male(i) => (cast.males[i], None),
        Subject::Female(j) => (cast.females[j], None),
        Subject::Pair { male, female } => {
            (cast.females[female], Some((cast.males[male], cast.females[female])))
        }
    };
    let animal = &colony.animals[place];
    let last = |id: Option<RecordId>| id.into_iter().collect::<Vec<_>>();
    match fact.rule {
        Rule::FemaleWeight | Rule::MaleWeight | Rule::WeightAge => {
            last(animal.last_weight().map(|w| w.record))
        }
        Rule::MaleLoss => {
            let opening = opening_weight(colony, animal).map(|(_, id)| id);
            opening.into_iter().chain(animal.last_weight().map(|w| w.record)).collect()
        }
        Rule::InBlue | Rule::InShed => last(in_blue(colony, animal)),
        Rule::NightsPlaced => nights(colony, animal, window(fact)),
        Rule::RestAfterLock => last(last_lock(colony, animal)),
        Rule::Ovulated => last(animal.ovulated.last().map(|o| o.record)),
        Rule::LaidThisSeason => last(animal.laid.last().map(|l| l.record)),
        Rule::Resorbing
        | Rule::MatingWanted
        | Rule::WantedIn(_)
        | Rule::InBand(_)
        | Rule::Closing
        | Rule::LastCheck
        | Rule::OverLastSize => cycle_checks(colony, animal),
        Rule::MatedIn(_) | Rule::Matings => season_nights(colony, animal),
        Rule::Treatment => last(Animal::under_way(&animal.treatment).map(|t| t.record)),
        Rule::Quarantine => last(Animal::under_way(&animal.quarantine).map(|t| t.record)),
        Rule::NotInHouse => last(animal.left.last().map(|l| l.record)),
        Rule::PlannedPair | Rule::RuledOut => {
            pair.and_then(|key| cast.plan_records.get(&key)).cloned().unwrap_or_default()
        }
        Rule::PlacedTonight | Rule::LeftTogether | Rule::StillLocked | Rule::NightsTogether => {
            pair.map(|(male, female)| together(colony, male, female)).unwrap_or_default()
        }
        Rule::LockRate => locks(colony, animal),
        _ => vec![],
    }
}

/// The nights before tonight with their locks, newest last.
fn past<'c>(colony: &'c Colony, animal: &'c Animal) -> impl Iterator<Item = &'c Stay> {
    let tonight = Night::beginning(colony.as_of.day);
    animal.stays.iter().map(|at| &colony.stays[*at]).filter(move |s| s.night < tonight)
}

/// How many nights back the fact counts.
fn window(fact: &Fact) -> i32 {
    let Value::NightsOf { window, .. } = fact.value else { return 0 };
    i32::try_from(window).unwrap_or(i32::MAX)
}

fn nights(colony: &Colony, animal: &Animal, back: i32) -> Vec<RecordId> {
    let tonight = Night::beginning(colony.as_of.day);
    let recent = past(colony, animal).filter(|s| tonight.nights_since(s.night) <= back);
    recent.filter_map(|s| s.placed).collect()
}

/// Placements and what was seen of them since the season opened: both say how far she was mated.
fn season_nights(colony: &Colony, animal: &Animal) -> Vec<RecordId> {
    let opens = colony.season().opens();
    let season = past(colony, animal).filter(|s| s.night.evening() >= opens);
    season.flat_map(|s| [s.placed, s.lock.map(|(_, id)| id)]).flatten().collect()
}

fn last_lock(colony: &Colony, animal: &Animal) -> Option<RecordId> {
    let locked = past(colony, animal).filter_map(|s| match s.lock {
        Some((Lock::Seen | Lock::Suspected, id)) => Some((s.night, id)),
        _ => None,
    });
    locked.max_by_key(|(night, _)| *night).map(|(_, id)| id)
}

fn locks(colony: &Colony, animal: &Animal) -> Vec<RecordId> {
    past(colony, animal).filter_map(|s| s.lock.map(|(_, id)| id)).collect()
}

fn cycle_checks(colony: &Colony, animal: &Animal) -> Vec<RecordId> {
    let since = animal.laid.last().map(|l| l.day).unwrap_or(colony.season().opens() - 120);
    let from = since.max(colony.season().opens() - 120);
    animal.checks.iter().filter(|c| c.day >= from).map(|c| c.record).collect()
}

fn together(colony: &Colony, male: usize, female: usize) -> Vec<RecordId> {
    let tonight = Night::beginning(colony.as_of.day);
    let pair = colony.stays.iter().filter(|s| (s.male, s.female) == (male, female));
    pair.filter(|s| s.night == tonight).filter_map(|s| s.placed).collect()
}
