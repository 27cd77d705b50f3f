//! Who may have fathered a clutch, before and after its young are looked at.

use answers::sire::{Candidate, Father, candidates};
use records::facts::{Laid, LockLooked, Ovulated};
use records::words::{Certainty, Lock};
use records::{AnimalId, Colony, Fact, Sex};
use units::Night;

use crate::room::{Room, day};

fn laid(female: AnimalId, sire: Option<AnimalId>) -> Fact {
    let clutch = Some("C26-1".to_owned());
    Fact::Laid(Laid { female, sire, clutch, eggs: Some(6), slugs: None, mass: None, kept: None })
}

fn looked(room: &mut Room, male: AnimalId, female: AnimalId, night: &str, lock: Lock) {
    room.placed(male, female, night);
    let night = Night::beginning(day(night));
    room.on("2026-05-01", Fact::LockLooked(LockLooked { male, female, night, lock }));
}

fn of<'a>(all: &'a [Candidate], colony: &Colony, code: &str) -> &'a Candidate {
    let is_it = |c: &&Candidate| match c.father {
        Father::Male(place) | Father::Stored(place) => colony.code(place) == code,
        Father::Unknown => code == "unknown",
        Father::Nobody => code == "nobody",
    };
    all.iter().find(is_it).unwrap()
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-12, "{a} is not {b}");
}

/// Settings and halving as they stand: a lock seen at ovulation counts 1, a night without one looked
/// for .1, sixty nights earlier half of that; 3 % stored, 1 % unknown, .2 % nobody.
#[test]
fn nights_count_by_locks_and_by_how_long_ago() {
    let mut room = Room::default();
    let her = room.animal("F1", Sex::Female, 2000.0);
    let [one, other, earlier] = ["M1", "M2", "M3"].map(|m| room.animal(m, Sex::Male, 900.0));
    room.placed(earlier, her, "2025-01-10");
    looked(&mut room, one, her, "2026-01-30", Lock::Seen);
    looked(&mut room, other, her, "2025-12-01", Lock::NoneSeen);
    let ovulated = Ovulated { female: her, certainty: Certainty::Seen, sire: None };
    room.on("2026-01-30", Fact::Ovulated(ovulated));
    room.on("2026-03-16", laid(her, None));
    let colony = room.on_evening_of("2026-05-20");
    let all = candidates(&colony, &colony.clutches[0]);
    near(all.iter().map(|c| c.prior).sum(), 1.0);
    assert_eq!(all.len(), 5);
    let rest = 1.0 - 0.03 - 0.01 - 0.002;
    near(of(&all, &colony, "M1").prior, rest / 1.05);
    near(of(&all, &colony, "M2").prior, rest * 0.05 / 1.05);
    near(of(&all, &colony, "M3").prior, 0.03);
    assert!(matches!(of(&all, &colony, "M3").father, Father::Stored(_)));
    near(of(&all, &colony, "unknown").prior, 0.01);
    near(of(&all, &colony, "nobody").prior, 0.002);
    let first = &all[0];
    assert_eq!((first.nights, first.locks, first.last), (1, 1, Some(day("2026-01-30"))));
}

/// Nobody saw her ovulate: she did about 45 days before she laid, and nights after that hardly
/// count. Whom the keeper credits counts for one lock more.
#[test]
fn nights_after_ovulation_hardly_count_and_credit_does() {
    let mut room = Room::default();
    let her = room.animal("F1", Sex::Female, 2000.0);
    let [one, other] = ["M1", "M2"].map(|m| room.animal(m, Sex::Male, 900.0));
    looked(&mut room, one, her, "2026-01-30", Lock::Seen);
    looked(&mut room, other, her, "2026-02-20", Lock::Seen);
    room.on("2026-03-16", laid(her, Some(other)));
    let colony = room.on_evening_of("2026-05-20");
    let all = candidates(&colony, &colony.clutches[0]);
    let ratio = of(&all, &colony, "M2").prior / of(&all, &colony, "M1").prior;
    near(ratio, 1.1);
    assert!(of(&all, &colony, "M2").credited && !of(&all, &colony, "M1").credited);
}

#[test]
fn without_nights_there_is_stored_sperm_and_without_that_a_stranger() {
    let mut room = Room::default();
    let [her, alone] = ["F1", "F2"].map(|f| room.animal(f, Sex::Female, 2000.0));
    let one = room.animal("M1", Sex::Male, 900.0);
    room.placed(one, her, "2025-01-10");
    room.on("2026-03-16", laid(her, None));
    room.on("2026-03-16", laid(alone, None));
    let colony = room.on_evening_of("2026-05-20");
    let all = candidates(&colony, &colony.clutches[0]);
    near(of(&all, &colony, "M1").prior, 1.0 - 0.01 - 0.002);
    let all = candidates(&colony, &colony.clutches[1]);
    near(of(&all, &colony, "unknown").prior, 0.998);
    assert_eq!(all.len(), 2);
}
