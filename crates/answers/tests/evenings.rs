//! What an evening says of females in doubt and of locks that stand for long.

use answers::tonight::{Asking, Tonight, in_grams, tonight};
use answers::{FemaleStanding, Phase, follicles};
use records::facts::{Checked, LockLooked, Placed, Planned};
use records::words::{Choice, Lock, PlannedMale};
use records::{AnimalId, Colony, Fact, Found, Sex, StayEnd};
use units::{Millimetres, Night, When};

use crate::room::{Room, day};

fn scanned(sizes: [f64; 3]) -> FemaleStanding {
    let mut room = Room::default();
    let female = room.animal("F1", Sex::Female, 2000.0);
    for (on, mm) in ["2026-01-01", "2026-01-15", "2026-01-29"].into_iter().zip(sizes) {
        let found = Found::Scan(vec![Millimetres::new(mm).unwrap()]);
        room.on(on, Fact::Checked(Checked { female, found }));
    }
    follicles(&room.on_evening_of("2026-02-01"), &answers::RoomForecasts::usual()).remove(0)
}

#[test]
fn a_female_in_doubt_is_called_neither_building_nor_stalled() {
    let doubted = scanned([24.0, 23.0, 22.0]);
    let (state, least) = (&doubted.state, 0.6);
    assert!(state.growing < state.stalled && state.stalled.get() < least, "{state:?}");
    assert_eq!(doubted.phase, Phase::Building, "the word for machines");
    assert_eq!(doubted.said(), "undecided: growing, stalled or going back");
    assert_eq!(scanned([16.0, 20.0, 24.0]).said(), "building");
}

#[test]
fn the_next_size_is_told_though_it_is_more_likely_never_reached() {
    let back = scanned([20.0, 19.0, 17.0]);
    let next = back.next().unwrap();
    assert_eq!(next.milestone, "22");
    assert!(next.passage.ahead.get() < 0.6 && next.date.is_some(), "{:?}", next.passage);
}

fn locked(room: &mut Room, male: AnimalId, female: AnimalId, nights: i32) {
    let first = day("2026-02-01");
    let placed = Fact::Placed(Placed { male, female, ends: StayEnd::Open });
    room.write(When::Night(Night::beginning(first)), placed);
    for night in (0..nights).map(|n| Night::beginning(first + n)) {
        let looked = LockLooked { male, female, night, lock: Lock::Seen };
        room.write(When::Day(night.evening() + 1), Fact::LockLooked(looked));
    }
}

fn ask(colony: &Colony) -> Tonight {
    let asking = Asking { fresh: false, carries: &|_, _| 0.0, mass: &in_grams };
    tonight(colony, &answers::RoomForecasts::usual(), &asking)
}

#[test]
fn a_lock_is_left_alone_until_it_has_stood_too_long_and_never_both() {
    for (nights, is_long) in [(2, false), (5, true)] {
        let mut room = Room::default();
        let male = room.animal("M1", Sex::Male, 800.0);
        let female = room.animal("F1", Sex::Female, 2000.0);
        locked(&mut room, male, female, nights);
        let evening = (day("2026-02-01") + nights).to_string();
        let answer = ask(&room.on_evening_of(&evening));
        let due = answer.due.iter().filter(|d| d.what == "take out").count();
        let counts = (answer.left_alone.len(), answer.coming_out.len(), due);
        assert_eq!(counts, if is_long { (0, 1, 1) } else { (1, 0, 0) }, "{nights} nights");
        for out in &answer.coming_out {
            let says = "He has been with her for 5 nights; they are still locked.";
            assert_eq!(out.reason, says);
        }
    }
}

/// A size of five weeks ago moves a male, and the reason says how old it is.
#[test]
fn a_placement_on_an_old_check_asks_for_a_new_one() {
    let mut room = Room::default();
    let male = room.animal("M1", Sex::Male, 800.0);
    let female = room.animal("F1", Sex::Female, 2000.0);
    let plan =
        Planned { female, male: PlannedMale::Animal(male), choice: Choice::First, weight: 1.0 };
    room.on("2025-12-20", Fact::Planned(plan));
    for (on, mm) in [("2025-12-07", 14.0), ("2025-12-21", 18.0), ("2026-01-04", 23.0)] {
        let found = Found::Scan(vec![Millimetres::new(mm).unwrap()]);
        room.on(on, Fact::Checked(Checked { female, found }));
    }
    let said = |on: &str| ask(&room.on_evening_of(on)).moves.remove(0);
    let (soon, late) = (said("2026-01-10"), said("2026-02-08"));
    assert!(soon.facts.iter().all(|f| f.rule != "check_age") && !soon.reason.contains("check her"));
    assert!(late.reason.ends_with("Last checked 4 Jan 2026, 35 days ago: check her first."));
    let age = late.facts.iter().find(|f| f.rule == "check_age").unwrap();
    assert_eq!((age.value, age.limit, age.records.len()), (Some(35.0), Some(28.0), 1));
}
