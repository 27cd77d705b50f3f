//! Nights of males with females.

use records::Fact;
use records::facts::{LockLooked, TakenOut};
use records::words::{Lock, Sex, StayEnd};

use crate::writing::{Journal, night};

#[test]
fn a_sheet_night_ends_at_noon_and_an_open_stay_goes_on_until_he_is_taken_out() {
    let mut journal = Journal::default();
    let male = journal.animal("M01", Sex::Male, "2018-06-01");
    let female = journal.animal("F01", Sex::Female, "2017-06-01");
    journal.placed("2026-01-05", male, female, StayEnd::NextNoon);
    journal.placed("2026-01-10", male, female, StayEnd::Open);
    journal.on("2026-01-13", Fact::TakenOut(TakenOut { male, female }));
    let colony = journal.colony();
    let nights: Vec<_> = colony.stays.iter().map(|s| s.night).collect();
    let expected = ["2026-01-05", "2026-01-10", "2026-01-11", "2026-01-12"].map(night);
    assert_eq!(nights, expected);
    assert!(colony.stays.iter().all(|s| !s.still_in));
}

#[test]
fn a_stay_that_nobody_ended_goes_on_until_today_and_ends_where_he_is_placed_next() {
    let mut journal = Journal::default();
    let male = journal.animal("M01", Sex::Male, "2018-06-01");
    let first = journal.animal("F01", Sex::Female, "2017-06-01");
    let second = journal.animal("F02", Sex::Female, "2017-06-01");
    journal.placed("2026-01-10", male, first, StayEnd::Open);
    let colony = journal.on_evening("2026-01-12");
    assert_eq!(colony.stays.len(), 3);
    assert!(colony.stays[2].still_in);
    journal.placed("2026-01-12", male, second, StayEnd::Open);
    let colony = journal.on_evening("2026-01-12");
    let who: Vec<_> = colony.stays.iter().map(|s| (s.night, s.female)).collect();
    assert_eq!(who, [(night("2026-01-10"), 1), (night("2026-01-11"), 1), (night("2026-01-12"), 2)]);
}

#[test]
fn what_was_seen_belongs_to_its_night_even_without_a_placement() {
    let mut journal = Journal::default();
    let male = journal.animal("M01", Sex::Male, "2018-06-01");
    let female = journal.animal("F01", Sex::Female, "2017-06-01");
    journal.placed("2026-01-05", male, female, StayEnd::NextNoon);
    for (seen, lock) in [("2026-01-05", Lock::Seen), ("2026-01-20", Lock::Suspected)] {
        let night = night(seen);
        let fact = Fact::LockLooked(LockLooked { male, female, night, lock });
        journal.on("2026-01-21", fact);
    }
    let colony = journal.colony();
    assert_eq!(colony.stays.len(), 2);
    assert_eq!(colony.stays[0].lock.map(|(lock, _)| lock), Some(Lock::Seen));
    assert_eq!(colony.stays[1].placed, None);
}
