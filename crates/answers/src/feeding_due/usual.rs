//! What an animal usually gets and how often: its own last meals first, then common practice.

use std::collections::BTreeMap;

use records::doubts::all_are_right;
use records::facts::Fed;
use records::{Animal, Colony, Dated, Meal, RecordId};
use units::{Day, Grams};

use crate::settings::Feeding;

/// Feeding days looked back on; our choice.
const DAYS_BACK: usize = 6;
/// Feeding days from which an animal has an interval of its own: two gaps; our choice.
const LEAST_DAYS: usize = 3;
/// An animal younger than this is fed as a growing one; our choice.
const YOUNG_DAYS: i32 = 365;

/// Kind and size of prey, and how many at a meal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Prey {
    /// Kind and size, as the keeper writes it.
    pub name: String,
    /// How many, at least 1.
    pub count: u16,
}

/// Where a usual meal comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// Its own last meals.
    Own,
    /// The setting `meals_by_weight`: common practice, no source, unless the keeper wrote it.
    ByWeight,
}

impl Source {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Own => "own meals",
            Self::ByWeight => "by weight, common practice",
        }
    }
}

pub(super) struct Usual {
    pub prey: Prey,
    pub prey_from: Source,
    pub every_days: u32,
    pub every_from: Source,
}

pub(super) fn usual(colony: &Colony, animal: &Animal, feeding: &Feeding) -> Usual {
    let days = last_days(animal);
    let from = days.last().copied();
    let recent: Vec<&Dated<Fed>> =
        animal.meals.iter().rev().take_while(|m| from.is_none_or(|from| m.day >= from)).collect();
    let by_weight = by_weight(animal, colony.as_of.day, feeding);
    let own_prey =
        prey(colony, &recent, Meal::Taken).or_else(|| prey(colony, &recent, Meal::Refused));
    let own_every = every(&days);
    Usual {
        prey_from: if own_prey.is_some() { Source::Own } else { Source::ByWeight },
        prey: own_prey.unwrap_or(by_weight.0),
        every_from: if own_every.is_some() { Source::Own } else { Source::ByWeight },
        every_days: own_every.unwrap_or(by_weight.1),
    }
}

/// The last days on which food was offered, newest first.
fn last_days(animal: &Animal) -> Vec<Day> {
    let mut days: Vec<Day> = Vec::with_capacity(DAYS_BACK);
    for meal in animal.meals.iter().rev() {
        if days.last() != Some(&meal.day) {
            if days.len() == DAYS_BACK {
                break;
            }
            days.push(meal.day);
        }
    }
    days
}

/// The median of the gaps; of an even number the shorter one in the middle, so that nobody waits.
fn every(days: &[Day]) -> Option<u32> {
    if days.len() < LEAST_DAYS {
        return None;
    }
    let mut gaps: Vec<i32> = days.windows(2).map(|two| two[0].days_since(two[1])).collect();
    gaps.sort_unstable();
    u32::try_from(gaps[(gaps.len() - 1) / 2]).ok().filter(|gap| *gap > 0)
}

/// The prey offered on most of those days; of several the one offered last. Rows of one day and one
/// prey are one meal of as many; one feeding written twice is a doubt and counts once,
/// until both are said to be right.
fn prey(colony: &Colony, recent: &[&Dated<Fed>], meal: Meal) -> Option<Prey> {
    let mut meals: Vec<(Day, String, &str, u16)> = Vec::new();
    let mut seen: BTreeMap<(Day, String, u16), RecordId> = BTreeMap::new();
    let mut counts = |row: &Dated<Fed>| {
        let key = (row.day, row.what.prey.to_lowercase(), row.what.count);
        let twin = seen.insert(key, row.record);
        twin.is_none_or(|twin| all_are_right(colony, &[twin, row.record]))
    };
    let recent = recent.iter().filter(|row| row.what.meal == meal && counts(row));
    for row in recent.filter(|m| !m.what.prey.trim().is_empty()) {
        let name = key(&row.what.prey);
        match meals.iter_mut().find(|m| m.0 == row.day && m.1 == name) {
            Some(same) => same.3 = same.3.saturating_add(row.what.count),
            None => meals.push((row.day, name, row.what.prey.trim(), row.what.count)),
        }
    }
    let mut n_of: BTreeMap<(&str, u16), usize> = BTreeMap::new();
    for (_, name, _, count) in &meals {
        *n_of.entry((name, *count)).or_default() += 1;
    }
    let most = n_of.values().max().copied()?;
    // Newest first, so the first that is as frequent as any was offered last.
    let chosen = meals.iter().find(|m| n_of.get(&(m.1.as_str(), m.3)) == Some(&most))?;
    Some(Prey { name: chosen.2.to_owned(), count: chosen.3.max(1) })
}

fn by_weight(animal: &Animal, day: Day, feeding: &Feeding) -> (Prey, u32) {
    let is_young = animal.hatched.is_some_and(|hatched| day.days_since(hatched) < YOUNG_DAYS);
    let mass = animal.last_weight().map(|w| w.what);
    // A young one that nobody weighed yet gets the smallest prey, a grown one an adult's.
    let mass = mass.or_else(|| (!is_young).then(|| Grams::from_steps(i32::MAX)));
    let class = feeding.class_of(mass);
    let every = if is_young { feeding.young_every.min(class.every_days) } else { class.every_days };
    (Prey { name: class.prey.clone(), count: 1 }, every)
}

/// The form under which spellings of one prey are one: "Small rats", "small rat" and "rat, small".
#[must_use]
pub fn key(prey: &str) -> String {
    let lower = prey.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphanumeric()).filter(|w| !w.is_empty());
    let mut words: Vec<&str> = words.map(singular).collect();
    words.sort_unstable();
    words.join(" ")
}

fn singular(word: &str) -> &str {
    match word {
        "mice" => "mouse",
        "pinkies" => "pinky",
        "fuzzies" => "fuzzy",
        _ if word.len() > 3 && !word.ends_with("ss") => word.strip_suffix('s').unwrap_or(word),
        _ => word,
    }
}
