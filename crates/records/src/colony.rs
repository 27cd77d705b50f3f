//! The colony: what all standing records add up to, as of a moment. Read-only to everyone else.

mod animal;
mod climate;
mod codes;
mod fold;
mod stays;

use std::collections::HashMap;

use units::{Day, Grams, Instant, Season, Zone};

pub use animal::{Animal, Presence};
pub use climate::PlaceReading;
pub use codes::{Bearer, CodeSpan};
pub use stays::Stay;

use crate::facts::{Held, Planned};
use crate::ids::{AnimalId, ClutchId, RecordId};
use crate::journal::Live;
use crate::words::{EggsKept, Place};

/// Something that happened on a day, with the record that says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dated<T> {
    /// The day.
    pub day: Day,
    /// The record.
    pub record: RecordId,
    /// What.
    pub what: T,
}

/// Up to which moment a colony is folded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct AsOf {
    /// Facts of later days are not known yet; placements of this night are, its morning is not.
    pub day: Day,
    /// Instants after this one are not known yet.
    pub until: Instant,
    /// What was written after this day is not known either; an imported record counts as written
    /// on the day it speaks of.
    pub known_on: Option<Day>,
}

impl AsOf {
    /// 18:00 of `day`, with everything that is written by now.
    #[must_use]
    pub fn evening_of(day: Day, zone: &Zone) -> Self {
        Self { day, until: zone.at_hour(day, 18), known_on: None }
    }

    /// The present moment.
    #[must_use]
    pub fn now(now: Instant, zone: &Zone) -> Self {
        Self { day: zone.day_of(now), until: now, known_on: None }
    }

    /// Everything ever written, whatever its day.
    #[must_use]
    pub fn end_of_time() -> Self {
        let day = Day::from_number(2_900_000);
        Self { day, until: Instant::from_seconds(i64::MAX), known_on: None }
    }
}

/// One clutch, from laying to hatching.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Clutch {
    /// Its identity: the record of its laying.
    pub id: ClutchId,
    /// The day it was laid, where written.
    pub laid: Option<Day>,
    /// Place of the female in [`Colony::animals`].
    pub female: usize,
    /// Place of the credited male.
    pub sire: Option<usize>,
    /// Its code, as told on laying or by its hatchlings.
    pub code: Option<String>,
    /// Eggs in all.
    pub eggs: Option<u16>,
    /// Slugs among them.
    pub slugs: Option<u16>,
    /// Mass of the whole clutch.
    pub mass: Option<Grams>,
    /// Where the eggs are kept, where told.
    pub kept: Option<EggsKept>,
    /// The places its eggs were put into, in order of days.
    pub incubated: Vec<Dated<Place>>,
    /// Hatching: the day and how many, where counted.
    pub hatched: Option<Dated<Option<u16>>>,
    /// Places of its hatchlings in [`Colony::animals`].
    pub young: Vec<usize>,
}

impl Clutch {
    /// The day on which it hatched, where it had by then. Where none hatched there is no such day.
    #[must_use]
    pub fn hatched_by(&self, day: Day) -> Option<Day> {
        self.hatched.as_ref().filter(|h| h.day <= day && h.what != Some(0)).map(|h| h.day)
    }

    /// Whether it is known by then that nothing hatches: all are slugs, or it was told that none did.
    #[must_use]
    pub fn is_lost_by(&self, day: Day) -> bool {
        let slugs_alone = self.eggs.zip(self.slugs).is_some_and(|(eggs, slugs)| slugs >= eggs);
        let none_out = self.hatched.as_ref().is_some_and(|h| h.day <= day && h.what == Some(0));
        none_out || (slugs_alone && self.hatched_by(day).is_none())
    }
}

/// The state folded from the journal.
#[derive(Clone, Debug)]
pub struct Colony {
    /// The moment it stands at.
    pub as_of: AsOf,
    /// All animals ever added, in journal order.
    pub animals: Vec<Animal>,
    /// All stays of a male with a female, by night.
    pub stays: Vec<Stay>,
    /// All clutches, in journal order.
    pub clutches: Vec<Clutch>,
    /// Temperatures by the key of their place, in order of moments.
    pub readings: HashMap<String, Vec<PlaceReading>>,
    /// Planned pairs in force, with the record of each.
    pub planned: Vec<Dated<Planned>>,
    /// Rows that wait for an answer.
    pub held: Vec<(RecordId, Held)>,
    /// Settings in force by name, with the record that set each.
    pub settings: HashMap<String, (String, RecordId)>,
    /// Free words about the room.
    pub notes: Vec<Dated<String>>,
    /// Every standing record known at this moment, in journal order.
    pub records: Vec<Live>,
    by_id: HashMap<AnimalId, usize>,
    pub(crate) by_code: HashMap<String, Vec<usize>>,
    by_record: HashMap<RecordId, usize>,
}

impl Colony {
    /// Folds standing records, as of a moment.
    #[must_use]
    pub fn fold(standing: &[Live], zone: &Zone, as_of: AsOf) -> Self {
        fold::fold(standing, zone, as_of)
    }

    /// The same animals and clutches with what is told of who they are, whose they are and what they
    /// carry, without everything that happened to them: to be changed, and asked what would follow
    /// if something were not written.
    #[must_use]
    pub fn identities(&self) -> Self {
        Self {
            as_of: self.as_of,
            animals: self.animals.iter().map(Animal::identity).collect(),
            stays: Vec::new(),
            clutches: self.clutches.clone(),
            readings: HashMap::new(),
            planned: Vec::new(),
            held: Vec::new(),
            settings: self.settings.clone(),
            notes: Vec::new(),
            records: Vec::new(),
            by_id: self.by_id.clone(),
            by_code: self.by_code.clone(),
            by_record: HashMap::new(),
        }
    }

    /// The animal of that id.
    #[must_use]
    pub fn place_of(&self, id: AnimalId) -> Option<usize> {
        self.by_id.get(&id).copied()
    }

    /// The animal that bears `code` on `day`.
    #[must_use]
    pub fn bearer(&self, code: &str, day: Option<Day>) -> Bearer {
        codes::bearer(self, code, day)
    }

    /// Every animal that ever bore the code of that [key](crate::Code::key).
    #[must_use]
    pub fn ever_bore(&self, key: &str) -> &[usize] {
        self.by_code.get(key).map_or(&[], Vec::as_slice)
    }

    /// A standing record.
    #[must_use]
    pub fn record(&self, id: RecordId) -> Option<&Live> {
        self.by_record.get(&id).map(|at| &self.records[*at])
    }

    /// The value of a setting, where it is set.
    #[must_use]
    pub fn setting(&self, name: &str) -> Option<&str> {
        self.settings.get(name).map(|(value, _)| value.as_str()).filter(|v| !v.is_empty())
    }

    /// The season that holds the moment the colony stands at.
    #[must_use]
    pub fn season(&self) -> Season {
        Season::holding(self.as_of.day, self.season_opening())
    }

    /// Month and day on which seasons open here: setting `season_opens`, such as `11-01`.
    #[must_use]
    pub fn season_opening(&self) -> (i8, i8) {
        let told = self.setting("season_opens").and_then(Season::read_opening);
        told.unwrap_or(Season::DEFAULT_OPENING)
    }

    /// The printed code of the animal at that place.
    #[must_use]
    pub fn code(&self, place: usize) -> &str {
        self.animals[place].code_on(self.as_of.day)
    }
}
