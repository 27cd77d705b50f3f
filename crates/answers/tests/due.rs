//! What comes due by date, and rules to call a vet, on rooms made by hand.

use answers::due_list::{DueList, DueOn, Kind};
use answers::tonight::{Asking, in_grams};
use answers::vet_rules::{RULES, Severity};
use answers::{RoomForecasts, due_list};
use proptest::prelude::*;
use records::facts::{Checked, Laid, Ovulated, Shed, Weighed};
use records::words::{Certainty, ShedKind};
use records::{AnimalId, EggsKept, Fact, Found, Meal, Sex};
use units::{Grams, Millimetres, When};

use crate::room::{Room, day};

fn asked(room: &Room, on: &str, days: u32) -> DueList {
    let asking = Asking { fresh: false, carries: &|_, _| 0.0, mass: &in_grams };
    due_list(&room.on_evening_of(on), &RoomForecasts::usual(), &asking, days)
}

fn scan(room: &mut Room, animal: AnimalId, on: &str, mm: f64) {
    let found = Found::Scan(vec![Millimetres::new(mm).unwrap()]);
    room.on(on, Fact::Checked(Checked { female: animal, found }));
}

fn weighed(room: &mut Room, animal: AnimalId, on: &str, grams: f64) {
    room.on(on, Fact::Weighed(Weighed { animal, mass: Grams::new(grams).unwrap() }));
}

fn ovulated(room: &mut Room, animal: AnimalId, on: &str) {
    room.on(
        on,
        Fact::Ovulated(Ovulated { female: animal, sire: None, certainty: Certainty::Seen }),
    );
}

fn laid(room: &mut Room, female: AnimalId, on: &str, eggs: Option<u16>, kept: EggsKept) {
    let kept = Some(kept);
    let laid = Laid { female, sire: None, clutch: None, eggs, slugs: None, mass: None, kept };
    room.on(on, Fact::Laid(laid));
}

fn flags(list: &DueList) -> Vec<&DueOn> {
    list.all.iter().filter(|d| d.kind == Kind::Vet).collect()
}

/// Eggs that never came are a matter for a vet until something is written of them, and no male is
/// sent to her.
#[test]
fn a_gravid_female_is_not_forgotten() {
    let mut room = Room::default();
    let (f, m) = (room.animal("F1", Sex::Female, 2000.0), room.animal("M1", Sex::Male, 900.0));
    scan(&mut room, f, "2026-01-10", 40.0);
    ovulated(&mut room, f, "2026-01-21");
    room.on(
        "2026-01-01",
        Fact::Planned(records::facts::Planned {
            female: f,
            male: records::words::PlannedMale::Animal(m),
            choice: records::words::Choice::First,
            weight: 1.0,
        }),
    );
    for on in ["2026-04-10", "2026-05-25", "2026-08-01", "2026-10-31"] {
        let list = asked(&room, on, 14);
        assert!(flags(&list).iter().any(|d| d.what == "laying overdue"), "{on}: {:?}", list.all);
        assert!(list.all.iter().all(|d| d.kind != Kind::Expected), "nothing is due tomorrow");
        let colony = room.on_evening_of(on);
        let asking = Asking { fresh: false, carries: &|_, _| 0.0, mass: &in_grams };
        let night = answers::tonight(&colony, &RoomForecasts::usual(), &asking);
        assert!(night.moves.is_empty(), "{on}");
        assert!(night.females[0].size.is_none(), "eggs have no follicle size");
    }
}

/// Ovulation that nobody wrote: said, dated on, and no number of follicles.
#[test]
fn an_ovulation_nobody_saw_is_said() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 2000.0);
    for (on, mm) in [("2026-01-01", 30.0), ("2026-01-15", 34.5), ("2026-01-29", 39.0)] {
        scan(&mut room, f, on, mm);
    }
    let list = asked(&room, "2026-03-10", 60);
    let unwritten = list.all.iter().find(|d| d.kind == Kind::Overdue).unwrap();
    assert!(unwritten.reason.contains("she has ovulated since the check of 29 January 2026"));
    let laying = list.all.iter().find(|d| d.what == "laying").unwrap();
    let comes = laying.chance.unwrap().get();
    let females = answers::follicles(&room.on_evening_of("2026-03-10"), &RoomForecasts::usual());
    let passage = females[0].ovulation().unwrap();
    assert!((comes - passage.passed.get() - passage.ahead.get()).abs() < 1e-12, "{comes}");
    assert_eq!(females[0].said(), "most likely ovulated");
    assert!(females[0].size.is_none());
}

#[test]
fn a_check_meal_and_weight_stand_under_the_day_they_fall_due() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1900.0);
    scan(&mut room, f, "2026-02-01", 17.0);
    weighed(&mut room, f, "2026-01-20", 1900.0);
    for n in 0..4 {
        room.fed(f, day("2026-02-02") - n * 10, "small rat", 1, Meal::Taken);
    }
    let list = asked(&room, "2026-02-10", 60);
    let on = |kind: Kind| list.all.iter().find(|d| d.kind == kind).unwrap();
    // A growing female is checked every 14 days, meals were ten days apart.
    assert_eq!(on(Kind::Check).day, day("2026-02-15"));
    assert_eq!(on(Kind::Meal).day, day("2026-02-12"));
    let stale = i32::try_from(schedule::Rules::default().weight_stale_after).unwrap();
    assert_eq!(on(Kind::Weigh).day, day("2026-01-20") + stale + 1);
    let expected: Vec<&DueOn> = list.all.iter().filter(|d| d.kind == Kind::Expected).collect();
    assert_eq!(expected[0].what, "22 mm");
    assert!(expected[0].reason.starts_with("22 mm is expected "), "{}", expected[0].reason);
    assert!(expected.iter().all(|d| !d.records.is_empty() && d.chance.is_some()));
    let late = asked(&room, "2026-02-20", 5);
    let check = late.all.iter().find(|d| d.kind == Kind::Check).unwrap();
    assert!(check.is_late(late.today) && check.day == day("2026-02-15"), "{check:?}");
}

/// Facts of the trade: no eggs about two weeks past the latest day expected.
#[test]
fn eggs_two_weeks_overdue_are_a_matter_for_a_vet() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1900.0);
    ovulated(&mut room, f, "2026-01-01");
    room.on("2026-01-20", Fact::Shed(Shed { animal: f, kind: ShedKind::PreLay }));
    // From shed to laying 30 days with a spread of 5: nine in ten by the 37th day, 26 February.
    let latest = day("2026-02-26");
    let before = asked(&room, &(latest + 13).to_string(), 7);
    assert!(flags(&before).is_empty());
    assert!(before.all.iter().any(|d| d.kind == Kind::Overdue && d.what == "laying overdue"));
    let on = asked(&room, &(latest + 14).to_string(), 7);
    let flag = flags(&on)[0];
    assert_eq!((flag.what.as_str(), flag.severity), ("laying overdue", Some(Severity::Now)));
    assert!(flag.reason.contains("licensed reptile vet") && flag.reason.contains("no diagnosis"));
    assert!(on.all.iter().all(|d| d.kind != Kind::Overdue), "told once");
    assert_eq!(on.all[0].kind, Kind::Vet, "before everything else");
}

/// Veterinary reference: within 48 hours once laying stops with eggs left; asked after 24.
#[test]
fn a_clutch_nobody_counted_is_asked_about_after_a_day_and_pressing_after_two() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1900.0);
    laid(&mut room, f, "2026-03-10", None, EggsKept::Incubator);
    let at = |on: &str| flags(&asked(&room, on, 7)).first().and_then(|d| d.severity);
    assert_eq!(at("2026-03-10"), None);
    assert_eq!(at("2026-03-11"), Some(Severity::Soon));
    assert_eq!(at("2026-03-12"), Some(Severity::Now));
    assert_eq!(at("2026-03-18"), None, "too late to help her with it");
    let mut counted = Room::default();
    let f = counted.animal("F1", Sex::Female, 1900.0);
    laid(&mut counted, f, "2026-03-10", Some(6), EggsKept::Incubator);
    assert!(flags(&asked(&counted, "2026-03-12", 7)).is_empty());
}

/// Aubret and others: less than 6 % in two months of brooding; flagged above 10 %.
#[test]
fn brooding_that_costs_more_than_a_tenth_is_flagged() {
    let loss = |grams: f64, kept: EggsKept| {
        let mut room = Room::default();
        let f = room.animal("F1", Sex::Female, 2000.0);
        laid(&mut room, f, "2026-03-10", Some(6), kept);
        weighed(&mut room, f, "2026-03-11", 1400.0);
        weighed(&mut room, f, "2026-04-20", grams);
        let list = asked(&room, "2026-04-20", 7);
        flags(&list).iter().any(|d| d.what == "brooding loss")
    };
    assert!(!loss(1400.0 * 0.94, EggsKept::WithHer), "6 % is what the study saw");
    assert!(!loss(1400.0 * 0.91, EggsKept::WithHer));
    assert!(loss(1400.0 * 0.89, EggsKept::WithHer));
    assert!(!loss(1400.0 * 0.89, EggsKept::Incubator), "she does not brood");
}

#[test]
fn follicles_past_every_ovulation_size_that_grow_on_are_flagged() {
    let flagged = |sizes: [(&str, f64); 3], gone: bool| {
        let mut room = Room::default();
        let f = room.animal("F1", Sex::Female, 1900.0);
        for (on, mm) in sizes {
            scan(&mut room, f, on, mm);
        }
        if gone {
            ovulated(&mut room, f, "2026-03-01");
        }
        let list = asked(&room, "2026-03-02", 7);
        flags(&list).iter().any(|d| d.what == "follicles grow on")
    };
    let on = ["2026-01-20", "2026-02-10", "2026-02-28"];
    let with = |mm: [f64; 3]| std::array::from_fn(|i| (on[i], mm[i]));
    assert!(flagged(with([38.0, 46.0, 51.0]), false));
    assert!(!flagged(with([38.0, 46.0, 51.0]), true), "she ovulated");
    assert!(!flagged(with([38.0, 46.0, 40.0]), false), "they go back");
    assert!(!flagged(with([30.0, 41.0, 44.0]), false), "of ovulation size");
}

/// Morrill and others (2011): females over 1,500 g, males over 500 g.
#[test]
fn a_female_placed_below_breeding_weight_is_named() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1400.0);
    let m = room.animal("M1", Sex::Male, 800.0);
    room.placed(m, f, "2026-02-05");
    let list = asked(&room, "2026-02-10", 7);
    let found = flags(&list);
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].what, "below breeding weight");
    assert!(found[0].reason.contains("1400 g, under 1500 g"), "{}", found[0].reason);
    assert!(flags(&asked(&room, "2026-04-10", 7)).is_empty(), "long ago");
}

#[test]
fn food_refused_with_weight_lost_is_told_once_with_its_rule() {
    let mut room = Room::default();
    let m = room.animal("M1", Sex::Male, 800.0);
    weighed(&mut room, m, "2026-05-01", 800.0);
    for (on, meal) in [("2026-05-02", Meal::Taken), ("2026-05-12", Meal::Refused)] {
        room.fed(m, day(on), "small rat", 1, meal);
    }
    room.fed(m, day("2026-05-22"), "small rat", 1, Meal::Refused);
    weighed(&mut room, m, "2026-05-30", 700.0);
    let list = asked(&room, "2026-06-01", 7);
    assert_eq!(flags(&list)[0].what, "fasting loss");
    assert!(list.all.iter().all(|d| d.kind != Kind::LookInto));
}

#[test]
fn eggs_beyond_the_seventieth_day_are_named() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1900.0);
    laid(&mut room, f, "2026-03-01", Some(6), EggsKept::Incubator);
    let at = |on: &str| flags(&asked(&room, on, 7)).iter().any(|d| d.what == "hatching overdue");
    assert!(!at("2026-05-10"), "the seventieth day");
    assert!(at("2026-05-11"));
}

#[test]
fn every_rule_names_its_source_and_grade() {
    for rule in RULES {
        assert!(!rule.source.is_empty() && ["A", "B", "no source"].contains(&rule.grade));
    }
    assert!(RULES.is_sorted_by_key(|r| r.severity), "most pressing first");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Looking further ahead only adds; rules to call a vet come first, then days in order.
    #[test]
    fn a_longer_look_holds_the_shorter_one(
        sizes in proptest::collection::vec((0..90i32, 5.0..48.0f64), 0..6),
        meals in proptest::collection::vec((0..90i32, any::<bool>()), 0..8),
        short in 0u32..20,
        more in 0u32..40,
    ) {
        let mut room = Room::default();
        let f = room.animal("F1", Sex::Female, 1700.0);
        for (ago, mm) in sizes {
            let found = Found::Scan(vec![Millimetres::new(mm).unwrap()]);
            let when = When::Day(day("2026-03-01") - ago);
            room.write(when, Fact::Checked(Checked { female: f, found }));
        }
        for (ago, ate) in meals {
            let meal = if ate { Meal::Taken } else { Meal::Refused };
            room.fed(f, day("2026-03-01") - ago, "rat", 1, meal);
        }
        let near = asked(&room, "2026-03-01", short);
        let far = asked(&room, "2026-03-01", short + more);
        prop_assert!(near.all.iter().all(|d| far.all.contains(d)));
        let dated = far.all.iter().skip_while(|d| d.kind == Kind::Vet);
        prop_assert!(dated.clone().map(|d| d.day).is_sorted());
        prop_assert!(dated.clone().all(|d| d.kind != Kind::Vet));
        let until = day("2026-03-01") + i32::try_from(short + more).unwrap();
        prop_assert!(far.all.iter().all(|d| d.day <= until && !d.reason.is_empty()));
    }
}
