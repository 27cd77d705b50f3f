//! What is known when.

use records::facts::{Corrected, LockLooked};
use records::words::{Lock, Sex, StayEnd};
use records::{AsOf, Colony, Fact, standing};
use units::When;

use crate::writing::{Journal, day, night, utc};

#[test]
fn an_evening_knows_its_placements_but_not_the_morning_after() {
    let mut journal = Journal::default();
    let male = journal.animal("M01", Sex::Male, "2018-06-01");
    let female = journal.animal("F01", Sex::Female, "2017-06-01");
    journal.placed("2026-02-10", male, female, StayEnd::NextNoon);
    let night = night("2026-02-10");
    let lock = Fact::LockLooked(LockLooked { male, female, night, lock: Lock::Seen });
    journal.on("2026-02-11", lock);
    let evening = journal.on_evening("2026-02-10");
    assert_eq!(evening.stays.len(), 1);
    assert_eq!(evening.stays[0].lock, None);
    assert!(journal.on_evening("2026-02-11").stays[0].lock.is_some());
    assert!(journal.on_evening("2026-02-09").stays.is_empty());
}

#[test]
fn a_correction_applies_to_days_before_it_was_written() {
    let mut journal = Journal::default();
    let animal = journal.animal("F01", Sex::Female, "2017-06-01");
    let record = journal.weighed("2026-01-05", animal, 2300.0);
    let moved = day("2026-01-07");
    let fact = Box::new(journal.records.last().unwrap().draft.fact.clone());
    journal
        .write(When::Undated, Fact::Corrected(Corrected { record, when: When::Day(moved), fact }));
    assert!(journal.on_evening("2026-01-06").animals[0].weights.is_empty());
    assert_eq!(journal.on_evening("2026-01-07").animals[0].weights[0].record, record);
}

#[test]
fn a_back_test_leaves_out_what_was_written_later() {
    let mut journal = Journal::default();
    let animal = journal.animal("F01", Sex::Female, "2017-06-01");
    journal.weighed("2020-01-05", animal, 2300.0);
    let as_of = |known| {
        let as_of = AsOf::evening_of(day("2026-01-01"), &utc());
        AsOf { known_on: Some(day(known)), ..as_of }
    };
    let fold = |known| Colony::fold(&standing(&journal.records), &utc(), as_of(known));
    // Written in November 2023, as the helper dates it.
    assert!(fold("2023-01-01").animals.is_empty());
    assert_eq!(fold("2023-12-31").animals[0].weights.len(), 1);
}
