//! Who is due a meal, what to thaw, what to think of refused food.

use std::collections::BTreeMap;

use answers::RoomForecasts;
use answers::feeding_due::{FeedingDue, MealShown, Refusal, Source, key};
use answers::tonight::{Asking, in_grams};
use proptest::prelude::*;
use records::facts::{Checked, Laid, Left, Moved, Ovulated, Planned, Set, Treated, Weighed};
use records::words::{Certainty, Choice, Leaving};
use records::{AnimalId, EggsKept, Fact, Found, Meal, PlannedMale, Sex, Tub};
use units::{Grams, Millimetres, When};

use crate::room::{Room, day};

fn asked(room: &Room, on: &str) -> FeedingDue {
    let colony = room.on_evening_of(on);
    let asking = Asking { fresh: false, carries: &|_, _| 0.0, mass: &in_grams };
    answers::feeding_due(&colony, &answers::tonight(&colony, &RoomForecasts::usual(), &asking))
}

fn of(answer: &FeedingDue, place: usize) -> &MealShown {
    let all = answer.due.iter().chain(&answer.after).chain(&answer.wait).chain(&answer.later);
    all.into_iter().find(|m| m.place == place).unwrap()
}

/// Six meals, ten days apart, the last on 1 February 2026.
fn regular(room: &mut Room, animal: AnimalId) {
    for n in (0..6).rev() {
        room.fed(animal, day("2026-02-01") - n * 10, "small rat", 1, Meal::Taken);
    }
}

#[test]
fn the_interval_and_the_prey_are_its_own() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1900.0);
    regular(&mut room, f);
    room.fed(f, day("2026-02-01"), "Small rats", 1, Meal::Taken);
    let early = asked(&room, "2026-02-10");
    assert_eq!((early.due.len(), early.later.len()), (0, 1));
    let late = asked(&room, "2026-02-11");
    let meal = &late.due[0];
    assert_eq!((meal.every_days, meal.every_from), (10, Source::Own));
    assert_eq!(meal.prey_from, Source::Own);
    assert_eq!((meal.prey.name.as_str(), meal.prey.count), ("small rat", 1));
    assert_eq!(meal.last_taken, Some(day("2026-02-01")));
    assert_eq!(meal.refusal, Refusal::None);
    assert_eq!(late.thaw[0].count, 1);
    assert_eq!(meal.reason, "Ate 10 days ago; usually every 10 days.");
}

#[test]
fn without_meals_of_its_own_weight_and_age_decide() {
    let mut room = Room::default();
    room.animal("A", Sex::Male, 600.0);
    room.animal("B", Sex::Female, 2000.0);
    let answer = asked(&room, "2026-02-10");
    let said: Vec<_> = answer.due.iter().map(|m| (m.prey.name.as_str(), m.every_days)).collect();
    assert_eq!(said, [("weaned rat", 10), ("medium rat", 14)]);
    assert!(answer.due.iter().all(|m| m.prey_from == Source::ByWeight));
    assert!(answer.due[0].reason.contains("common practice"));
    let set =
        |value: &str| Fact::Set(Set { name: "meals_by_weight".into(), value: value.to_owned() });
    room.write(When::Undated, set("1000 = large mouse 9, more = quail 20"));
    let told = asked(&room, "2026-02-10");
    let said: Vec<_> = told.due.iter().map(|m| (m.prey.name.as_str(), m.every_days)).collect();
    assert_eq!(said, [("large mouse", 9), ("quail", 20)]);
    room.write(When::Undated, set("1000 = mouse, 500 = rat 9"));
    assert_eq!(asked(&room, "2026-02-10").due[0].prey.name, "weaned rat", "unreadable: defaults");
}

#[test]
fn company_is_left_out_of_the_thaw_and_named() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1900.0);
    let m = room.animal("M1", Sex::Male, 800.0);
    let sick = room.animal("S1", Sex::Female, 1900.0);
    let sold = room.animal("X1", Sex::Female, 1900.0);
    for animal in [f, m, sick, sold] {
        regular(&mut room, animal);
    }
    room.placed(m, f, "2026-02-12");
    room.on("2026-02-02", Fact::Treatment(Treated { animal: sick, begins: true, what: None }));
    let left = Left { animal: sold, how: Leaving::Sold, to: None };
    room.on("2026-02-03", Fact::Left(left));
    let answer = asked(&room, "2026-02-12");
    let due: Vec<usize> = answer.due.iter().map(|m| m.place).collect();
    let wait: Vec<usize> = answer.wait.iter().map(|m| m.place).collect();
    assert_eq!((due, wait), (vec![2], vec![0, 1]));
    assert_eq!(answer.wait[0].together, [1]);
    assert!(answer.wait[0].reason.contains("together with M1 tonight"));
    assert!(answer.due[0].treatment && answer.due[0].reason.contains("under treatment"));
    assert_eq!((answer.thaw[0].count, answer.thaw[0].animals), (1, 1));
}

#[test]
fn who_is_to_be_placed_tonight_is_fed_after() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1900.0);
    let m = room.animal("M1", Sex::Male, 800.0);
    let other = room.animal("M2", Sex::Male, 800.0);
    for animal in [f, m, other] {
        regular(&mut room, animal);
    }
    for (on, mm) in [("2025-12-20", 14.0), ("2026-01-20", 21.0), ("2026-02-08", 24.0)] {
        let found = Found::Scan(vec![Millimetres::new(mm).unwrap()]);
        room.on(on, Fact::Checked(Checked { female: f, found }));
    }
    let male = PlannedMale::Animal(m);
    let planned = Planned { female: f, male, choice: Choice::First, weight: 1.0 };
    room.on("2025-11-01", Fact::Planned(planned));
    let answer = asked(&room, "2026-02-12");
    let places = |meals: &[MealShown]| meals.iter().map(|m| m.place).collect::<Vec<_>>();
    assert_eq!((places(&answer.due), places(&answer.after)), (vec![2], vec![0, 1]));
    assert_eq!(answer.after[0].to_place_with, [1]);
    assert!(
        answer.after[1].reason.contains("to be placed with F1 tonight: feed after"),
        "{}",
        answer.after[1].reason
    );
    assert_eq!((answer.thaw[0].count, answer.thaw_after[0].count), (1, 2));
    room.placed(m, f, "2026-02-12");
    let placed = asked(&room, "2026-02-12");
    assert_eq!((places(&placed.after), places(&placed.wait)), (vec![], vec![0, 1]));
}

#[test]
fn a_feeding_written_twice_is_one_ration() {
    for (rows, count) in [(&[2, 2][..], 2), (&[2, 2, 2], 2), (&[1, 2], 3), (&[2], 2)] {
        let mut room = Room::default();
        let f = room.animal("F14", Sex::Female, 1900.0);
        for n in rows {
            room.fed(f, day("2026-02-01"), "medium rat", *n, Meal::Taken);
        }
        let answer = asked(&room, "2026-03-10");
        assert_eq!(answer.due[0].prey.count, count, "{rows:?}");
    }
}

#[test]
fn a_female_whose_eggs_are_in_an_incubator_may_fast_for_some_weeks() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1900.0);
    regular(&mut room, f);
    for n in 1..=6 {
        room.fed(f, day("2026-02-01") + n * 10, "small rat", 1, Meal::Refused);
    }
    let kept = Some(EggsKept::Incubator);
    let (eggs, sire, clutch) = (Some(6), None, None);
    let laid = Laid { female: f, sire, clutch, eggs, slugs: None, mass: None, kept };
    room.on("2026-04-08", Fact::Laid(laid));
    let meal = of(&asked(&room, "2026-04-10"), 0).clone();
    assert_eq!(meal.refusal, Refusal::Ordinary, "{}", meal.reason);
    assert!(meal.reason.contains("she laid on 8 April, and some take weeks"), "{}", meal.reason);
    let late = of(&asked(&room, "2026-05-07"), 0).clone();
    assert_eq!(late.refusal, Refusal::LookInto, "after four weeks: {}", late.reason);
}

#[test]
fn the_order_is_that_of_the_racks_whatever_was_written_first() {
    let mut room = Room::default();
    let moved = |animal, tub: &str| Fact::Moved(Moved { animal, tub: Tub::new(tub).unwrap() });
    for (code, tub) in [("F10", "R2-1"), ("F9", "R2-1"), ("F2", "R1-10"), ("F1", "R1-9")] {
        let animal = room.animal(code, Sex::Female, 1900.0);
        room.on("2025-02-01", moved(animal, tub));
    }
    let due: Vec<usize> = asked(&room, "2026-02-12").due.iter().map(|m| m.place).collect();
    assert_eq!(due, [3, 2, 1, 0], "R1-9, R1-10, then F9 and F10 of one tub");
}

/// Three refusals of a female whose follicles were scanned at `mm`.
fn off_food(mm: f64, n_refused: i32) -> (Room, AnimalId) {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1900.0);
    regular(&mut room, f);
    for n in 1..=n_refused {
        room.fed(f, day("2026-02-01") + n * 10, "small rat", 1, Meal::Refused);
    }
    for (on, mm) in [("2026-02-01", mm - 2.0), ("2026-02-28", mm)] {
        let found = Found::Scan(vec![Millimetres::new(mm).unwrap()]);
        room.on(on, Fact::Checked(Checked { female: f, found }));
    }
    (room, f)
}

#[test]
fn most_females_stop_eating_at_20_to_25_mm_and_before_that_it_is_looked_into() {
    // Common practice, no source.
    let (room, _) = off_food(25.0, 3);
    let meal = asked(&room, "2026-03-04").later[0].clone();
    assert_eq!((meal.refusal, meal.refused_in_row), (Refusal::Ordinary, 3));
    assert!(
        meal.reason.contains("most females stop eating, so that is ordinary"),
        "{}",
        meal.reason
    );
    assert_eq!(meal.records.len(), 1 + 3 + 1, "the last meal, the refusals, the check");
    let (room, _) = off_food(14.0, 1);
    assert_eq!(asked(&room, "2026-03-04").due[0].refusal, Refusal::Watch, "once is not off food");
    let (room, _) = off_food(14.0, 2);
    let small = asked(&room, "2026-03-04").due[0].clone();
    assert_eq!(small.refusal, Refusal::LookInto);
    assert!(small.reason.ends_with("a matter to look into."), "{}", small.reason);
    assert_eq!(asked(&room, "2026-03-04").look_into().count(), 1);
}

#[test]
fn refusals_without_a_reason_are_watched_then_looked_into() {
    for (n, is) in [(1, Refusal::Watch), (2, Refusal::Watch), (3, Refusal::LookInto)] {
        let mut room = Room::default();
        let f = room.animal("F1", Sex::Female, 1200.0);
        for n in 1..=6 {
            room.fed(f, day("2026-07-01") - n * 10, "small rat", 1, Meal::Taken);
        }
        for n in 0..n {
            room.fed(f, day("2026-07-01") + n * 10, "small rat", 1, Meal::Refused);
        }
        assert_eq!(of(&asked(&room, "2026-07-30"), 0).refusal, is, "{n}");
        // In blue the same refusals are ordinary.
        room.on("2026-07-25", Fact::InBlue(f));
        assert_eq!(of(&asked(&room, "2026-07-30"), 0).refusal, Refusal::Ordinary);
    }
}

#[test]
fn gravid_females_brooding_ones_and_males_in_season_fast_without_alarm() {
    let mut room = Room::default();
    let gravid = room.animal("F1", Sex::Female, 1900.0);
    let brooding = room.animal("F2", Sex::Female, 1900.0);
    let male = room.animal("M1", Sex::Male, 800.0);
    let thin = room.animal("M2", Sex::Male, 800.0);
    for animal in [gravid, brooding, male, thin] {
        regular(&mut room, animal);
        for n in 1..=3 {
            room.fed(animal, day("2026-02-01") + n * 10, "small rat", 1, Meal::Refused);
        }
    }
    let ovulated = |female| Ovulated { female, certainty: Certainty::Seen, sire: None };
    room.on("2026-02-05", Fact::Ovulated(ovulated(gravid)));
    let laid = Laid {
        female: brooding,
        sire: None,
        clutch: None,
        eggs: Some(6),
        slugs: None,
        mass: None,
        kept: None,
    };
    room.on("2026-02-20", Fact::Laid(laid));
    let mass = Grams::new(700.0).unwrap();
    room.on("2026-03-03", Fact::Weighed(Weighed { animal: thin, mass }));
    let answer = asked(&room, "2026-03-04");
    for place in 0..3 {
        let meal = of(&answer, place);
        assert_eq!(meal.refusal, Refusal::Ordinary, "{}", meal.reason);
    }
    let thin = of(&answer, 3);
    assert_eq!(thin.refusal, Refusal::LookInto, "12 % lost: {}", thin.reason);
    assert!(thin.reason.contains("lost 12 % of its weight"), "{}", thin.reason);
}

#[test]
fn who_has_no_tub_and_no_meal_is_fed_by_nobodys_record() {
    let mut room = Room::default();
    let added = records::facts::Added::with_code(records::Code::new("C25-01-1").unwrap());
    room.on("2025-08-01", Fact::Added(added));
    let answer = asked(&room, "2026-02-10");
    assert_eq!(answer.unrecorded, [0]);
    assert!(answer.due.is_empty());
}

const PREY: [(&str, &str); 4] = [
    ("small rat", "Small Rats"),
    ("medium rat", "rat, medium"),
    ("mouse", "mice"),
    ("quail", "quail"),
];

#[test]
fn spellings_of_one_prey_are_one() {
    for (a, b) in PREY {
        assert_eq!(key(a), key(b));
    }
    assert_ne!(key("small rat"), key("medium rat"));
    assert_ne!(key("rat pup"), key("rat fuzzy"));
}

/// One row of a feeding sheet: days before 10 February 2026, prey, spelling, count, eaten.
type Rows = Vec<(i32, usize, bool, u16, bool)>;

/// What one animal needs on 10 February 2026, reckoned row by row the long way; none if not due.
fn slowly(rows: &Rows) -> Option<(usize, u32)> {
    let mut ages: Vec<i32> = rows.iter().map(|r| r.0).collect();
    ages.sort_unstable();
    ages.dedup();
    ages.truncate(6);
    let mut gaps: Vec<i32> = (1..ages.len()).map(|n| ages[n] - ages[n - 1]).collect();
    gaps.sort_unstable();
    // 600 g without an interval of its own: every 10 days.
    let every = if ages.len() < 3 { 10 } else { gaps[(gaps.len() - 1) / 2] };
    if ages[0] < every {
        return None;
    }
    let ate = rows.iter().any(|r| ages.contains(&r.0) && r.4);
    let mut best: Option<(usize, i32, usize, u32)> = None;
    for prey in 0..PREY.len() {
        let on = |age: i32| -> u32 {
            let of_it = rows.iter().filter(|r| r.0 == age && r.1 == prey && r.4 == ate);
            of_it.map(|r| u32::from(r.3)).sum()
        };
        for age in &ages {
            let count = on(*age);
            if count == 0 {
                continue;
            }
            let times = ages.iter().filter(|a| on(**a) == count).count();
            let newest = ages.iter().filter(|a| on(**a) == count).min().copied().unwrap();
            // The most frequent; of those the one offered last.
            if best.is_none_or(|b| (times, -newest) > (b.0, -b.1)) {
                best = Some((times, newest, prey, count));
            }
        }
    }
    best.map(|b| (b.2, b.3))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, ..ProptestConfig::default() })]

    #[test]
    fn the_thaw_is_what_the_rows_say(
        animals in prop::collection::vec(
            prop::collection::vec((0..60i32, 0..4usize, any::<bool>(), 1..4u16, any::<bool>()), 1..14),
            1..8,
        ),
    ) {
        let mut room = Room::default();
        let mut expected: BTreeMap<String, (u32, usize)> = BTreeMap::new();
        let mut n_due = 0;
        for (n, rows) in animals.iter().enumerate() {
            // One row a day and animal: which of two on one day was offered last, nobody can tell.
            let mut seen = std::collections::BTreeSet::new();
            let rows: Rows = rows.iter().copied().filter(|r| seen.insert(r.0)).collect();
            let animal = room.animal(&format!("A{n}"), Sex::Male, 600.0);
            for (age, prey, other, count, eaten) in &rows {
                let name = if *other { PREY[*prey].1 } else { PREY[*prey].0 };
                let meal = if *eaten { Meal::Taken } else { Meal::Refused };
                room.fed(animal, day("2026-02-10") - *age, name, *count, meal);
            }
            if let Some((prey, count)) = slowly(&rows) {
                let line = expected.entry(key(PREY[prey].0)).or_default();
                *line = (line.0 + count, line.1 + 1);
                n_due += 1;
            }
        }
        let answer = asked(&room, "2026-02-10");
        prop_assert_eq!(answer.due.len(), n_due);
        let found: BTreeMap<String, (u32, usize)> =
            answer.thaw.iter().map(|t| (key(&t.prey), (t.count, t.animals))).collect();
        prop_assert_eq!(found, expected);
    }
}
