//! An invented room, written fact by fact.

use records::facts::{Added, Fed, Placed, Weighed};
use records::{AnimalId, AsOf, Code, Colony, Draft, Fact, Live, Meal, RecordId, Sex, StayEnd, Tub};
use units::{Day, Grams, Instant, Night, When, Zone};

pub fn day(text: &str) -> Day {
    text.parse().unwrap()
}

/// Facts in journal order.
#[derive(Default)]
pub struct Room {
    lives: Vec<Live>,
}

impl Room {
    pub fn write(&mut self, when: When, fact: Fact) -> RecordId {
        let n = self.lives.len() as u64 + 1;
        let id = RecordId::from_bytes(u128::from(n).to_be_bytes());
        let draft = Draft {
            id,
            when,
            written: Instant::from_seconds(0),
            who: String::new(),
            batch: None,
            source: None,
            fact,
        };
        self.lives.push(Live::of(&draft, n));
        id
    }

    /// An animal hatched in 2020, with a weight.
    pub fn animal(&mut self, code: &str, sex: Sex, grams: f64) -> AnimalId {
        let mut added = Added::with_code(Code::new(code).unwrap());
        added.sex = Some(sex);
        added.hatched = Some(day("2020-07-01"));
        added.tub = Some(Tub::new(&format!("R1-{code}")).unwrap());
        let animal = AnimalId(self.write(When::Day(day("2020-07-01")), Fact::Added(added)));
        let mass = Grams::new(grams).unwrap();
        let weighed = Fact::Weighed(Weighed { animal, mass });
        self.write(When::Day(day("2025-01-01")), weighed);
        animal
    }

    pub fn on(&mut self, when: &str, fact: Fact) -> RecordId {
        self.write(When::Day(day(when)), fact)
    }

    pub fn fed(
        &mut self,
        animal: AnimalId,
        when: Day,
        prey: &str,
        count: u16,
        meal: Meal,
    ) -> RecordId {
        let fed = Fed { animal, prey: prey.into(), count, meal };
        self.write(When::Day(when), Fact::Fed(fed))
    }

    pub fn placed(&mut self, male: AnimalId, female: AnimalId, night: &str) {
        let fact = Fact::Placed(Placed { male, female, ends: StayEnd::NextNoon });
        self.write(When::Night(Night::beginning(day(night))), fact);
    }

    pub fn at(&self, when: &str, hour: i8) -> Colony {
        let zone = Zone::named("Europe/Berlin").unwrap();
        let until = zone.at_hour(day(when), hour);
        Colony::fold(&self.lives, &zone, AsOf { until, ..AsOf::evening_of(day(when), &zone) })
    }

    pub fn on_evening_of(&self, when: &str) -> Colony {
        let zone = Zone::named("Europe/Berlin").unwrap();
        Colony::fold(&self.lives, &zone, AsOf::evening_of(day(when), &zone))
    }
}
