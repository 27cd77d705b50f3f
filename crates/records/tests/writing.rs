//! A small journal written line by line.

use records::facts::{Added, Fed, Laid, Left, Placed, Weighed};
use records::words::{Code, Leaving, Meal, Sex, StayEnd};
use records::{AnimalId, AsOf, ClutchId, Colony, Draft, Fact, Record, RecordId, standing};
use units::{Day, Grams, Instant, Night, When, Zone};

pub(crate) fn day(text: &str) -> Day {
    text.parse().unwrap()
}

pub(crate) fn night(text: &str) -> Night {
    Night::beginning(day(text))
}

pub(crate) fn utc() -> Zone {
    Zone::named("UTC").unwrap()
}

#[derive(Default)]
pub(crate) struct Journal {
    pub(crate) records: Vec<Record>,
}

impl Journal {
    pub(crate) fn write(&mut self, when: When, fact: Fact) -> RecordId {
        let n = self.records.len() as u64 + 1;
        let id = RecordId::from_bytes(u128::from(n).to_be_bytes());
        let draft = Draft {
            id,
            when,
            written: Instant::from_seconds(1_700_000_000 + i64::try_from(n).unwrap()),
            who: String::new(),
            batch: None,
            source: None,
            fact,
        };
        self.records.push(Record { sequence: n, draft });
        id
    }

    pub(crate) fn on(&mut self, text: &str, fact: Fact) -> RecordId {
        self.write(When::Day(day(text)), fact)
    }

    pub(crate) fn animal(&mut self, code: &str, sex: Sex, hatched: &str) -> AnimalId {
        let mut added = Added::with_code(Code::new(code).unwrap());
        added.sex = Some(sex);
        added.hatched = Some(day(hatched));
        AnimalId(self.on(hatched, Fact::Added(added)))
    }

    pub(crate) fn young(
        &mut self,
        code: &str,
        hatched: &str,
        sire: AnimalId,
        dam: AnimalId,
    ) -> AnimalId {
        let mut added = Added::with_code(Code::new(code).unwrap());
        added.hatched = Some(day(hatched));
        (added.sire, added.dam) = (Some(sire), Some(dam));
        AnimalId(self.on(hatched, Fact::Added(added)))
    }

    pub(crate) fn weighed(&mut self, text: &str, animal: AnimalId, grams: f64) -> RecordId {
        self.on(text, Fact::Weighed(Weighed { animal, mass: Grams::new(grams).unwrap() }))
    }

    pub(crate) fn fed(&mut self, text: &str, animal: AnimalId) -> RecordId {
        let prey = "small rat".to_owned();
        self.on(text, Fact::Fed(Fed { animal, prey, count: 1, meal: Meal::Taken }))
    }

    pub(crate) fn sold(&mut self, text: &str, animal: AnimalId) -> RecordId {
        self.on(text, Fact::Left(Left { animal, how: Leaving::Sold, to: None }))
    }

    pub(crate) fn placed(
        &mut self,
        text: &str,
        male: AnimalId,
        female: AnimalId,
        ends: StayEnd,
    ) -> RecordId {
        self.write(When::Night(night(text)), Fact::Placed(Placed { male, female, ends }))
    }

    pub(crate) fn laid(&mut self, text: &str, female: AnimalId, eggs: u16, slugs: u16) -> ClutchId {
        let laid = Laid {
            female,
            sire: None,
            clutch: None,
            eggs: Some(eggs),
            slugs: Some(slugs),
            mass: None,
            kept: None,
        };
        ClutchId(self.on(text, Fact::Laid(laid)))
    }

    pub(crate) fn colony(&self) -> Colony {
        Colony::fold(&standing(&self.records), &utc(), AsOf::end_of_time())
    }

    pub(crate) fn on_evening(&self, text: &str) -> Colony {
        Colony::fold(&standing(&self.records), &utc(), AsOf::evening_of(day(text), &utc()))
    }
}
