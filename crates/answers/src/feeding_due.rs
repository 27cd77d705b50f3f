//! "Who is due a meal, and what do I thaw?"

mod refusal;
mod said;
mod stops;
mod usual;

use std::collections::BTreeMap;

use records::colony::Presence;
use records::facts::Fed;
use records::{Animal, Colony, Dated, Meal, RecordId, Tub};
use units::{Day, Night};

use crate::follicles::FemaleStanding;
use crate::rack;
use crate::settings::Feeding;
use crate::tonight::Tonight;

pub use refusal::{Because, Refusal};
pub use stops::{Stopped, Stops, stops};
pub use usual::{Prey, Source, key};

/// One animal and its next meal.
#[derive(Clone, Debug, PartialEq)]
pub struct MealShown {
    /// Place in the colony.
    pub place: usize,
    /// What it usually gets.
    pub prey: Prey,
    /// Where the prey comes from.
    pub prey_from: Source,
    /// Days between meals.
    pub every_days: u32,
    /// Where the interval comes from.
    pub every_from: Source,
    /// The last day food was offered, and whether any of it was taken.
    pub last_offered: Option<(Day, Meal)>,
    /// The last day it ate.
    pub last_taken: Option<Day>,
    /// The day the next meal is due.
    pub due_on: Day,
    /// Days of refused food since it last ate.
    pub refused_in_row: u32,
    /// What to think of them.
    pub refusal: Refusal,
    /// Share of its weight lost since it stopped eating, where that alone is a matter to look into.
    pub lost: Option<f64>,
    /// Whom it shares a tub with tonight.
    pub together: Vec<usize>,
    /// Whom it is to be placed with tonight, and is not yet.
    pub to_place_with: Vec<usize>,
    /// In quarantine.
    pub quarantine: bool,
    /// Under treatment.
    pub treatment: bool,
    /// The sentence.
    pub reason: String,
    /// The records it rests on.
    pub records: Vec<RecordId>,
}

/// Prey to thaw.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thaw {
    /// Kind and size, as most rows of it are written.
    pub prey: String,
    /// How many.
    pub count: u32,
    /// How many animals they are for.
    pub animals: usize,
}

/// The answer. Lists are in the order of a walk past the tubs, then by code.
#[derive(Clone, Debug, PartialEq)]
pub struct FeedingDue {
    /// The day asked about.
    pub day: Day,
    /// Due, and to be fed.
    pub due: Vec<MealShown>,
    /// Due, but to be placed tonight: fed after, so that nobody goes in with a full stomach.
    pub after: Vec<MealShown>,
    /// Due, but in company tonight: two animals are never fed in one tub.
    pub wait: Vec<MealShown>,
    /// Not due yet, or offered food on this very day.
    pub later: Vec<MealShown>,
    /// In the house, without a tub, and no meal was ever written: fed by nobody's record.
    pub unrecorded: Vec<usize>,
    /// What the due ones need, most first.
    pub thaw: Vec<Thaw>,
    /// What those need that are fed after their placement.
    pub thaw_after: Vec<Thaw>,
}

impl FeedingDue {
    /// Everybody who refuses without an ordinary reason, or loses weight over it.
    pub fn look_into(&self) -> impl Iterator<Item = &MealShown> {
        let all = self.due.iter().chain(&self.after).chain(&self.wait).chain(&self.later);
        all.filter(|meal| meal.refusal == Refusal::LookInto)
    }
}

/// Days after hatching on which a first meal is offered: after the first shed (common practice, no
/// source).
pub(crate) const FIRST_MEAL_DAYS: i32 = 10;

/// Who is due on the day the colony stands at.
#[must_use]
pub fn feeding_due(colony: &Colony, tonight: &Tonight) -> FeedingDue {
    let asked = Asked {
        colony,
        day: colony.as_of.day,
        females: tonight.females.iter().map(|f| (f.place, f)).collect(),
        together: together(colony),
        to_place: to_place(tonight),
        feeding: Feeding::of(colony),
    };
    let mut answer = FeedingDue {
        day: asked.day,
        due: vec![],
        after: vec![],
        wait: vec![],
        later: vec![],
        unrecorded: vec![],
        thaw: vec![],
        thaw_after: vec![],
    };
    for place in walk(colony) {
        let animal = &colony.animals[place];
        if animal.presence(asked.day) != Presence::InHouse {
            continue;
        }
        if animal.meals.is_empty() && animal.tub_on(asked.day).is_none() {
            answer.unrecorded.push(place);
            continue;
        }
        let meal = asked.meal(place, animal);
        if meal.due_on > asked.day {
            answer.later.push(meal);
        } else if !meal.together.is_empty() {
            answer.wait.push(meal);
        } else if !meal.to_place_with.is_empty() {
            answer.after.push(meal);
        } else {
            answer.due.push(meal);
        }
    }
    answer.thaw = thaw(&answer.due);
    answer.thaw_after = thaw(&answer.after);
    answer
}

/// All animals in the order of a walk.
fn walk(colony: &Colony) -> Vec<usize> {
    let mut places: Vec<usize> = (0..colony.animals.len()).collect();
    places.sort_by_cached_key(|place| {
        let tub = colony.animals[*place].tub_on(colony.as_of.day);
        (rack::order(tub.map(Tub::as_str)), rack::order(Some(colony.code(*place))))
    });
    places
}

struct Asked<'a> {
    colony: &'a Colony,
    day: Day,
    females: BTreeMap<usize, &'a FemaleStanding>,
    together: BTreeMap<usize, Vec<usize>>,
    to_place: BTreeMap<usize, Vec<usize>>,
    feeding: Feeding,
}

/// Who is with whom in the night that begins on this day.
fn together(colony: &Colony) -> BTreeMap<usize, Vec<usize>> {
    let tonight = Night::beginning(colony.as_of.day);
    let mut with: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for stay in colony.stays.iter().filter(|s| s.night == tonight && s.placed.is_some()) {
        with.entry(stay.male).or_default().push(stay.female);
        with.entry(stay.female).or_default().push(stay.male);
    }
    with
}

/// Who is to be placed with whom, by the moves of the night that are not made yet.
fn to_place(tonight: &Tonight) -> BTreeMap<usize, Vec<usize>> {
    let mut with: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
    for m in &tonight.moves {
        with.entry(m.male).or_default().push(m.female);
        with.entry(m.female).or_default().push(m.male);
    }
    with
}

impl Asked<'_> {
    fn meal(&self, place: usize, animal: &Animal) -> MealShown {
        let usual = usual::usual(self.colony, animal, &self.feeding);
        let last = animal.meals.last().map(|m| m.day);
        let on_last = |m: &&Dated<Fed>| Some(m.day) == last;
        let ate = animal.meals.iter().rev().take_while(on_last).any(|m| m.what.meal == Meal::Taken);
        let outcome = if ate { Meal::Taken } else { Meal::Refused };
        let last_taken = animal.meals.iter().rfind(|m| m.what.meal == Meal::Taken);
        let refused = refusal::refused(animal);
        let (refusal, because) = self.judged(place, animal, &refused);
        let every = i32::try_from(usual.every_days).unwrap_or(i32::MAX / 4);
        let first = animal.hatched.map_or(self.day, |day| day + FIRST_MEAL_DAYS);
        let mut records: Vec<RecordId> = last_taken.map(|m| m.record).into_iter().collect();
        records.extend(refused.iter().map(|m| m.record));
        records.extend(because.iter().flat_map(|b| b.records().iter().copied()));
        let mut meal = MealShown {
            place,
            prey: usual.prey,
            prey_from: usual.prey_from,
            every_days: usual.every_days,
            every_from: usual.every_from,
            last_offered: last.map(|day| (day, outcome)),
            last_taken: last_taken.map(|m| m.day),
            due_on: last.map_or(first, |day| day + every),
            refused_in_row: refusal::days(&refused),
            refusal,
            lost: because.iter().find_map(|b| match b {
                Because::Lost(share, _) => Some(*share),
                _ => None,
            }),
            together: self.together.get(&place).cloned().unwrap_or_default(),
            to_place_with: self.to_place.get(&place).cloned().unwrap_or_default(),
            quarantine: Animal::under_way(&animal.quarantine).is_some(),
            treatment: Animal::under_way(&animal.treatment).is_some(),
            reason: String::new(),
            records,
        };
        meal.reason = said::sentence(self.colony, &meal, &because);
        meal
    }
}

/// Counts by prey; spellings of one prey are one line, under the spelling that is met most.
fn thaw(due: &[MealShown]) -> Vec<Thaw> {
    let mut lines: BTreeMap<String, (BTreeMap<&str, usize>, u32, usize)> = BTreeMap::new();
    for meal in due {
        let line = lines.entry(key(&meal.prey.name)).or_default();
        *line.0.entry(&meal.prey.name).or_default() += 1;
        line.1 += u32::from(meal.prey.count);
        line.2 += 1;
    }
    let mut all: Vec<Thaw> = lines
        .into_values()
        .map(|(spellings, count, animals)| {
            let most = spellings.iter().rev().max_by_key(|(_, n)| **n);
            Thaw { prey: most.map_or_else(String::new, |(s, _)| (*s).to_owned()), count, animals }
        })
        .collect();
    all.sort_by(|a, b| b.count.cmp(&a.count).then_with(|| a.prey.cmp(&b.prey)));
    all
}
