//! One test for each kind of doubt: the smallest set of records, and nothing else.

use records::doubts::doubts;
use records::facts::{
    Added, Change, Changed, Corrected, HatchedOut, LockLooked, Ovulated, Retracted, Target,
};
use records::words::{Certainty, Lock, Sex, StayEnd};
use records::{AnimalId, BatchId, Code, DoubtKind, Fact, RecordId};
use units::{Instant, When};

use crate::writing::{Journal, day, night};

fn found(journal: &Journal) -> Vec<(DoubtKind, Vec<RecordId>)> {
    doubts(&journal.colony()).into_iter().map(|d| (d.kind, d.records)).collect()
}

#[test]
fn a_male_with_two_females_and_two_males_with_one_female() {
    let mut journal = Journal::default();
    let m1 = journal.animal("M06", Sex::Male, "2018-06-01");
    let m2 = journal.animal("M08", Sex::Male, "2018-06-01");
    let f1 = journal.animal("F01", Sex::Female, "2017-06-01");
    let f2 = journal.animal("F12", Sex::Female, "2017-06-01");
    let a = journal.placed("2024-01-19", m1, f1, StayEnd::NextNoon);
    let b = journal.placed("2024-01-19", m2, f1, StayEnd::NextNoon);
    let c = journal.placed("2024-01-19", m2, f2, StayEnd::NextNoon);
    journal.placed("2024-01-20", m2, f2, StayEnd::NextNoon);
    assert_eq!(
        found(&journal),
        [(DoubtKind::TwoMales, vec![a, b]), (DoubtKind::TwoFemales, vec![b, c])]
    );
}

/// A correction that says the same as before, in a batch.
fn confirm(journal: &mut Journal, records: &[RecordId], batch: u8) {
    for id in records {
        let live = journal.colony().record(*id).cloned().unwrap();
        let (when, fact) = (live.when, Box::new(live.fact));
        journal.write(When::Undated, Fact::Corrected(Corrected { record: *id, when, fact }));
        let batch = BatchId(RecordId::from_bytes([batch; 16]));
        journal.records.last_mut().unwrap().draft.batch = Some(batch);
    }
}

#[test]
fn records_told_again_together_are_right_until_one_is_told_otherwise() {
    let mut journal = Journal::default();
    let animal = journal.animal("F19", Sex::Female, "2017-06-01");
    let (a, b) = (journal.fed("2024-05-07", animal), journal.fed("2024-05-07", animal));
    confirm(&mut journal, &[a], 1);
    confirm(&mut journal, &[b], 2);
    assert_eq!(found(&journal), [(DoubtKind::FedTwice, vec![a, b])], "each alone settles nothing");
    confirm(&mut journal, &[a, b], 3);
    assert_eq!(found(&journal), []);
    let c = journal.fed("2024-05-07", animal);
    assert_eq!(found(&journal), [(DoubtKind::FedTwice, vec![b, c])], "a third is a new doubt");
    confirm(&mut journal, &[b, c], 4);
    assert_eq!(found(&journal), [], "and the first is settled still");
    let batch = BatchId(RecordId::from_bytes([3; 16]));
    let what = Target::Batch(batch);
    journal.write(When::Undated, Fact::Retracted(Retracted { what, why: String::new() }));
    assert_eq!(found(&journal), [(DoubtKind::FedTwice, vec![a, b])], "withdrawn");
}

#[test]
fn what_cannot_all_be_right_is_not_settled_by_saying_so() {
    let mut journal = Journal::default();
    let male = journal.animal("M06", Sex::Male, "2018-06-01");
    let clutch = journal.laid("2024-05-01", male, 6, 0);
    confirm(&mut journal, &[male.0, clutch.0], 1);
    assert_eq!(found(&journal), [(DoubtKind::WrongSex, vec![male.0, clutch.0])]);
}

#[test]
fn a_lock_seen_and_none_seen_of_one_pair_and_night() {
    let mut journal = Journal::default();
    let male = journal.animal("M06", Sex::Male, "2018-06-01");
    let female = journal.animal("F01", Sex::Female, "2017-06-01");
    let looked = |lock| LockLooked { male, female, night: night("2026-02-09"), lock };
    let mut look = |lock| journal.on("2026-02-10", Fact::LockLooked(looked(lock)));
    look(Lock::NotLooked);
    let (a, b) = (look(Lock::Seen), look(Lock::NoneSeen));
    look(Lock::Suspected);
    assert_eq!(found(&journal), [(DoubtKind::LooksDiffer, vec![a, b])]);
    let at = When::Day(day("2026-02-10"));
    let fact = Box::new(Fact::LockLooked(looked(Lock::Seen)));
    journal.write(When::Undated, Fact::Corrected(Corrected { record: b, when: at, fact }));
    assert_eq!(found(&journal), [], "one of the two was corrected");
}

#[test]
fn looks_at_two_moments_of_a_night_may_both_be_right() {
    let mut journal = Journal::default();
    let male = journal.animal("M06", Sex::Male, "2018-06-01");
    let female = journal.animal("F01", Sex::Female, "2017-06-01");
    for (second, lock) in [(1_770_760_000, Lock::NoneSeen), (1_770_770_000, Lock::Seen)] {
        let look = LockLooked { male, female, night: night("2026-02-10"), lock };
        journal.write(When::Instant(Instant::from_seconds(second)), Fact::LockLooked(look));
    }
    assert_eq!(found(&journal), []);
}

#[test]
fn a_feeding_written_twice() {
    let mut journal = Journal::default();
    let animal = journal.animal("F19", Sex::Female, "2017-06-01");
    let (a, b) = (journal.fed("2024-05-07", animal), journal.fed("2024-05-07", animal));
    journal.fed("2024-05-08", animal);
    assert_eq!(found(&journal), [(DoubtKind::FedTwice, vec![a, b])]);
}

#[test]
fn facts_after_a_sale_and_before_hatching() {
    let mut journal = Journal::default();
    let animal = journal.animal("F22", Sex::Female, "2016-07-07");
    let sold = journal.sold("2022-07-16", animal);
    let late = journal.fed("2022-08-25", animal);
    let early = journal.fed("2016-01-01", animal);
    // On the day itself it may have been fed before it went.
    journal.fed("2022-07-16", animal);
    assert_eq!(
        found(&journal),
        [
            (DoubtKind::AfterLeaving, vec![sold, late]),
            (DoubtKind::BeforeHatching, vec![animal.0, early])
        ]
    );
}

#[test]
fn a_parent_that_is_too_young_or_of_the_wrong_sex() {
    let mut journal = Journal::default();
    let sire = journal.animal("M01", Sex::Male, "2022-06-01");
    let dam = journal.animal("M02", Sex::Male, "2017-06-01");
    let young = journal.young("F09", "2021-06-01", sire, dam);
    assert_eq!(
        found(&journal),
        [
            (DoubtKind::YoungParent, vec![sire.0, young.0]),
            (DoubtKind::WrongSex, vec![dam.0, young.0])
        ]
    );
}

#[test]
fn a_male_that_lays() {
    let mut journal = Journal::default();
    let male = journal.animal("M02", Sex::Male, "2017-06-01");
    let clutch = journal.laid("2024-04-01", male, 6, 0);
    assert_eq!(found(&journal), [(DoubtKind::WrongSex, vec![male.0, clutch.0])]);
}

#[test]
fn slugs_counted_outside_eggs_and_a_hatch_before_its_time() {
    let mut journal = Journal::default();
    let female = journal.animal("F01", Sex::Female, "2017-06-01");
    let clutch = journal.laid("2024-04-01", female, 6, 2);
    let hatched = HatchedOut { clutch, hatchlings: Some(6) };
    let out = journal.on("2024-04-20", Fact::HatchedOut(hatched));
    assert_eq!(
        found(&journal),
        [
            (DoubtKind::ClutchCounts, vec![clutch.0, out]),
            (DoubtKind::ClutchOrder, vec![clutch.0, out])
        ]
    );
}

#[test]
fn eggs_lost_early_are_no_early_hatch() {
    let mut journal = Journal::default();
    let female = journal.animal("F01", Sex::Female, "2017-06-01");
    let clutch = journal.laid("2024-04-01", female, 6, 2);
    let none = HatchedOut { clutch, hatchlings: Some(0) };
    journal.on("2024-04-20", Fact::HatchedOut(none));
    assert_eq!(found(&journal), []);
}

#[test]
fn ovulation_after_laying_and_two_clutches_too_close() {
    let mut journal = Journal::default();
    let female = journal.animal("F01", Sex::Female, "2017-06-01");
    let first = journal.laid("2024-04-01", female, 6, 0);
    let second = journal.laid("2024-05-30", female, 5, 0);
    let late = Ovulated { female, certainty: Certainty::Seen, sire: None };
    let late = journal.on("2024-04-05", Fact::Ovulated(late));
    let mut all = found(&journal);
    all.sort();
    assert_eq!(
        all,
        [
            (DoubtKind::ClutchOrder, vec![first.0, late]),
            (DoubtKind::ClutchesTooClose, vec![first.0, second.0])
        ]
    );
}

#[test]
fn one_code_for_two_animals_at_once() {
    let mut journal = Journal::default();
    let a = journal.animal("K1", Sex::Female, "2017-06-01");
    let b = journal.animal("k1", Sex::Male, "2019-06-01");
    assert_eq!(found(&journal), [(DoubtKind::CodeTwice, vec![a.0, b.0])]);
}

#[test]
fn a_weight_that_leaps() {
    let mut journal = Journal::default();
    let animal = journal.animal("F18", Sex::Female, "2017-06-01");
    let a = journal.weighed("2024-10-01", animal, 1868.0);
    let b = journal.weighed("2024-10-12", animal, 868.0);
    journal.weighed("2025-04-01", animal, 1900.0);
    assert_eq!(found(&journal), [(DoubtKind::WeightLeap, vec![a, b])]);
}

#[test]
fn what_leaned_on_a_withdrawn_record() {
    let mut journal = Journal::default();
    let animal = journal.animal("F01", Sex::Female, "2017-06-01");
    let fed = journal.fed("2024-01-01", animal);
    let what = Target::Record(animal.0);
    journal.write(When::Undated, Fact::Retracted(Retracted { what, why: String::new() }));
    assert_eq!(found(&journal), [(DoubtKind::LeansOnNothing, vec![fed])]);
}

#[test]
fn an_animal_that_descends_from_itself() {
    let mut journal = Journal::default();
    let added = |code: &str| Fact::Added(Added::with_code(Code::new(code).unwrap()));
    let [elder, younger, own] =
        ["M1", "M2", "M3"].map(|code| AnimalId(journal.write(When::Undated, added(code))));
    for (animal, sire) in [(younger, elder), (elder, younger), (own, own)] {
        let changed = Changed { animal, change: Change::Sire(sire) };
        journal.write(When::Undated, Fact::Changed(changed));
    }
    assert_eq!(
        found(&journal),
        [(DoubtKind::OwnAncestor, vec![elder.0, younger.0]), (DoubtKind::OwnAncestor, vec![own.0])]
    );
    let said = doubts(&journal.colony());
    assert_eq!(said[0].what, "M1 descends from itself: M1, out of M2, out of M1.");
}

#[test]
fn an_animal_that_is_a_sire_here_and_a_dam_there() {
    let mut journal = Journal::default();
    let added = |code: &str| Fact::Added(Added::with_code(Code::new(code).unwrap()));
    let [parent, one, other] =
        ["X1", "K1", "K2"].map(|code| AnimalId(journal.write(When::Undated, added(code))));
    for (animal, change) in [(one, Change::Sire(parent)), (other, Change::Dam(parent))] {
        journal.write(When::Undated, Fact::Changed(Changed { animal, change }));
    }
    assert_eq!(found(&journal), [(DoubtKind::WrongSex, vec![parent.0, one.0, other.0])]);
}
