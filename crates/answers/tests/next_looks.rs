//! Whose follicles to look at, at which size she stops eating, and feeders to buy.

use std::collections::BTreeMap;

use answers::feeders_needed::FeedersNeeded;
use answers::feeding_due::{Refusal, Stopped, Stops, key};
use answers::tonight::{Asking, in_grams};
use answers::who_next::How;
use answers::{RoomForecasts, WhoNext, feeders_needed, follicles, who_next};
use records::facts::{Checked, Laid, Ovulated};
use records::words::Certainty;
use records::{AnimalId, EggsKept, Fact, Found, Meal, Sex};
use units::{Day, Millimetres};

use crate::room::{Room, day};

fn scan(room: &mut Room, female: AnimalId, on: Day, mm: f64) {
    let found = Found::Scan(vec![Millimetres::new(mm).unwrap()]);
    room.on(&on.to_string(), Fact::Checked(Checked { female, found }));
}

fn looks(room: &Room, on: &str) -> Vec<WhoNext> {
    let colony = room.on_evening_of(on);
    who_next(&colony, &follicles(&colony, &RoomForecasts::usual()))
}

#[test]
fn the_female_nobody_looked_at_for_long_comes_before_one_of_last_week() {
    let mut room = Room::default();
    let old = room.animal("F1", Sex::Female, 1900.0);
    let fresh = room.animal("F2", Sex::Female, 1900.0);
    let tonight = room.animal("F3", Sex::Female, 1900.0);
    let gravid = room.animal("F4", Sex::Female, 1900.0);
    for (f, last) in [(old, "2026-01-01"), (fresh, "2026-02-05"), (tonight, "2026-02-10")] {
        scan(&mut room, f, day(last) - 14, 15.0);
        scan(&mut room, f, day(last), 19.0);
    }
    let ovulated = Ovulated { female: gravid, sire: None, certainty: Certainty::Seen };
    room.on("2026-02-01", Fact::Ovulated(ovulated));
    let found = looks(&room, "2026-02-10");
    let places: Vec<usize> = found.iter().map(|w| w.place).collect();
    assert_eq!(places[0], 0, "{found:?}");
    assert!(
        !places.contains(&2) && !places.contains(&3),
        "looked at tonight; ovulated: {places:?}"
    );
    let first = &found[0];
    assert!(first.days_saved > 2.0 && first.records.len() == 2, "{first:?}");
    assert!(found.iter().filter(|w| w.place == 1).all(|w| w.days_saved < first.days_saved));
    let (milestone, date, after) = first.next.clone().unwrap();
    assert!(after < f64::from(date.high.days_since(date.low)), "{milestone} {after}");
    assert!(first.reason.contains(" is expected ") && first.reason.contains("narrow it to about"));
}

/// A room whose checks are all by hand is not told to scan.
#[test]
fn without_a_scanner_the_hand_is_proposed() {
    let mut room = Room::default();
    let f = room.animal("F1", Sex::Female, 1900.0);
    for (on, word) in [("2025-12-20", "pea"), ("2026-01-03", "pea")] {
        let found = Found::Felt(word.to_owned());
        room.on(on, Fact::Checked(Checked { female: f, found }));
    }
    let found = looks(&room, "2026-02-10");
    assert!(!found.is_empty() && found.iter().all(|w| w.how == How::Feel && w.minutes == 1.0));
}

fn stopped(mm: f64) -> Stopped {
    Stopped { day: day("2025-01-01"), mm, records: vec![] }
}

/// Conjugate normal updating by hand (Gelman and others 2013, section 2.5): spread between females
/// 1.6, within (2.5 / 1.2816)^2 - 1.6^2 = 1.2453, seen with 1.2^2 more.
#[test]
fn own_cycles_move_the_size_at_which_she_stops() {
    let none = Stops::of(vec![], 20.0);
    assert!((none.ordinary_from() - 20.0).abs() < 1e-9, "common practice alone");
    assert!((none.mean - 22.5).abs() < 1e-12);
    let two = Stops::of(vec![stopped(16.0), stopped(18.0)], 20.0);
    let (between, within) = (2.56, (2.5_f64 / 1.281_551_565_545).powi(2) - 2.56);
    let seen = within + 1.44;
    let known = 1.0 / between + 2.0 / seen;
    assert!((two.mean - (22.5 / between + 34.0 / seen) / known).abs() < 1e-9);
    assert!((two.spread.powi(2) - (1.0 / known + within)).abs() < 1e-9);
    assert!(two.ordinary_from() < 18.0 && two.ordinary_from() > 14.0, "{two:?}");
    let late = Stops::of(vec![stopped(30.0), stopped(29.0), stopped(31.0)], 20.0);
    assert!(late.ordinary_from() > 24.0, "{late:?}");
}

/// A female that ate until about 30 mm in two cycles and refuses at 21 mm is off food before her
/// time; one without such cycles is not.
#[test]
fn a_female_is_held_against_her_own_earlier_cycles() {
    let refusal = |has_past: bool| {
        let mut room = Room::default();
        let f = room.animal("F1", Sex::Female, 1900.0);
        for year in if has_past { vec![2024, 2025] } else { vec![] } {
            let start = Day::new(year, 1, 1).unwrap();
            for n in 0..8 {
                scan(&mut room, f, start + n * 14, 10.0 + 4.0 * f64::from(n));
                let meal = if n <= 5 { Meal::Taken } else { Meal::Refused };
                room.fed(f, start + n * 14 + 1, "small rat", 1, meal);
            }
            let laid = Laid {
                female: f,
                sire: None,
                clutch: None,
                eggs: Some(6),
                slugs: None,
                mass: None,
                kept: Some(EggsKept::Incubator),
            };
            room.on(&(start + 170).to_string(), Fact::Laid(laid));
        }
        for n in (0..5).rev() {
            room.fed(f, day("2026-01-20") - n * 10, "small rat", 1, Meal::Taken);
        }
        room.fed(f, day("2026-01-30"), "small rat", 1, Meal::Refused);
        room.fed(f, day("2026-02-09"), "small rat", 1, Meal::Refused);
        scan(&mut room, f, day("2026-01-20"), 17.5);
        scan(&mut room, f, day("2026-02-09"), 22.0);
        let colony = room.on_evening_of("2026-02-10");
        let asking = Asking { fresh: false, carries: &|_, _| 0.0, mass: &in_grams };
        let tonight = answers::tonight(&colony, &RoomForecasts::usual(), &asking);
        let feeding = answers::feeding_due(&colony, &tonight);
        feeding.later.iter().chain(&feeding.due).next().cloned().unwrap()
    };
    let new = refusal(false);
    assert_eq!(new.refusal, Refusal::Ordinary, "{}", new.reason);
    let known = refusal(true);
    assert_eq!(known.refusal, Refusal::LookInto, "{}", known.reason);
    assert!(
        known.reason.contains("stopped eating at about 32 mm in 2024 and 32 mm in 2025"),
        "{}",
        known.reason
    );
}

fn needed(room: &Room, on: &str, weeks: u32) -> FeedersNeeded {
    let colony = room.on_evening_of(on);
    let asking = Asking { fresh: false, carries: &|_, _| 0.0, mass: &in_grams };
    let tonight = answers::tonight(&colony, &RoomForecasts::usual(), &asking);
    let feeding = answers::feeding_due(&colony, &tonight);
    feeders_needed(&colony, (&tonight, &feeding), weeks)
}

/// Three males fed every ten days, last on 1, 4 and 7 February: meals in four weeks counted by hand.
#[test]
fn meals_to_come_are_counted_by_week_and_size() {
    let mut room = Room::default();
    for (code, last, prey) in [
        ("M1", "2026-02-01", "small rat"),
        ("M2", "2026-02-04", "Small rats"),
        ("M3", "2026-02-07", "mouse"),
    ] {
        let m = room.animal(code, Sex::Male, 400.0);
        for n in (0..12).rev() {
            room.fed(m, day(last) - n * 10, prey, 1, Meal::Taken);
        }
    }
    let answer = needed(&room, "2026-02-10", 4);
    let of = |prey: &str| answer.sizes.iter().find(|s| key(&s.prey) == key(prey)).unwrap();
    // M1: 11, 21 February and 3 March; M2: 14, 24 February and 6 March. M3: 17, 27 February, 9 March.
    let rats = of("small rat");
    assert_eq!((rats.all.offered, rats.animals.round()), (6, 2.0));
    let offered: Vec<u32> = rats.weeks.iter().map(|w| w.offered).collect();
    assert_eq!(offered, [2, 1, 1, 2], "weeks from 10, 17 and 24 February and 3 March");
    assert_eq!(of("mouse").all.offered, 3);
    // All 33 meals were taken: 42 of 43 with what is taken for granted, and nearly as often on.
    assert!(rats.all.expected > 5.7 && rats.all.expected < 6.0, "{rats:?}");
    let by_week: f64 = rats.weeks.iter().map(|w| w.expected).sum();
    assert!((by_week - rats.all.expected).abs() < 1e-6);
    assert!(rats.all.low >= 4 && (6..=7).contains(&rats.all.high), "{rats:?}");
}

/// Over many spans of a room that eats by chance, 80 % intervals hold about so often.
#[test]
fn intervals_hold_in_a_room_that_eats_by_chance() {
    // Marsaglia's xorshift (2003), seeded.
    let mut state = 0x9e37_79b9_7f4a_7c15_u64;
    let mut chance = || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 11) as f64 / (1u64 << 53) as f64
    };
    let mut held = 0;
    let spans = 60;
    for _ in 0..spans {
        let mut room = Room::default();
        let until = day("2026-09-01");
        let mut eaten: BTreeMap<bool, u32> = BTreeMap::new();
        for n in 0..16 {
            let m = room.animal(&format!("M{n:02}"), Sex::Male, 400.0);
            let mut ate = true;
            for k in 0..42 {
                let on = day("2025-08-15") + k * 10 + n % 10;
                let takes = if ate { 0.9 } else { 0.45 };
                ate = chance() < takes;
                if on >= until {
                    let counts = (0..28).contains(&on.days_since(until));
                    *eaten.entry(counts && ate).or_default() += 1;
                } else {
                    let meal = if ate { Meal::Taken } else { Meal::Refused };
                    room.fed(m, on, "small rat", 1, meal);
                }
            }
        }
        let answer = needed(&room, &until.to_string(), 4);
        let all = &answer.sizes[0].all;
        let n = eaten.get(&true).copied().unwrap_or(0);
        held += u32::from((all.low..=all.high).contains(&n));
    }
    // Whole numbers make an interval hold somewhat more than 80 %: 48 of 60 less three errors of 3.1.
    assert!((39..=60).contains(&held), "{held} of {spans}");
}
