//! Small invented rooms.

use records::facts::{Added, Moved, Placed, Planned, Weighed};
use records::words::Choice;
use records::{
    AnimalId, AsOf, Code, Colony, Draft, Fact, Live, PlannedMale, RecordId, Sex, StayEnd, Tub,
};
use units::{Day, Grams, Instant, Night, When, Zone};

/// A journal that grows record by record.
#[derive(Default)]
pub struct Room(Vec<Live>);

pub fn day(text: &str) -> Day {
    text.parse().unwrap()
}

impl Room {
    pub fn write(&mut self, when: When, fact: Fact) -> RecordId {
        let n = u64::try_from(self.0.len() + 1).unwrap();
        let mut bytes = [0; 16];
        bytes[8..].copy_from_slice(&n.to_be_bytes());
        let id = RecordId::from_bytes(bytes);
        let draft = Draft {
            id,
            when,
            written: Instant::from_seconds(1_700_000_000),
            who: String::new(),
            batch: None,
            source: None,
            fact,
        };
        self.0.push(Live::of(&draft, n));
        id
    }

    pub fn animal(
        &mut self,
        code: &str,
        sex: Sex,
        genes: &str,
        parents: (Option<AnimalId>, Option<AnimalId>),
    ) -> AnimalId {
        let mut added = Added::with_code(Code::new(code).unwrap());
        added.sex = Some(sex);
        added.genes = Some(genes.to_owned());
        (added.sire, added.dam) = parents;
        let id = AnimalId(self.write(When::Undated, Fact::Added(added)));
        let tub = Tub::new(code).unwrap();
        self.write(When::Day(day("2025-01-01")), Fact::Moved(Moved { animal: id, tub }));
        id
    }

    pub fn weighs(&mut self, animal: AnimalId, grams: f64) {
        let mass = Grams::new(grams).unwrap();
        self.write(When::Day(day("2026-02-01")), Fact::Weighed(Weighed { animal, mass }));
    }

    pub fn plans(&mut self, on: &str, female: AnimalId, male: PlannedMale, choice: Choice) {
        let planned = Planned { female, male, choice, weight: 1.0 };
        self.write(When::Day(day(on)), Fact::Planned(planned));
    }

    pub fn places(&mut self, on: &str, male: AnimalId, female: AnimalId) -> RecordId {
        let placed = Placed { male, female, ends: StayEnd::NextNoon };
        self.write(When::Night(Night::beginning(day(on))), Fact::Placed(placed))
    }

    /// The evening of 10 February 2026.
    pub fn colony(&self) -> Colony {
        let zone = Zone::named("UTC").unwrap();
        Colony::fold(&self.0, &zone, AsOf::evening_of(day("2026-02-10"), &zone))
    }
}
