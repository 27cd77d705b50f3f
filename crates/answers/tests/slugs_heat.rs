//! Slugs against the temperature of the hot spot, in invented rooms of which the truth is known.

use answers::learned::{Effect, Picture, Question, Verdict};
use records::facts::{Checked, Laid, Reading};
use records::{AnimalId, Fact, Found, Place, ReadingKind, Sex};
use units::{Celsius, Day, Millimetres, When};

use crate::dice::Dice;
use crate::room::{Room, day};

fn asked(room: &Room) -> Question {
    let learned = answers::learned::learned(&room.on_evening_of("2025-11-01"));
    learned.questions.into_iter().find(|q| q.id == "slugs_heat").unwrap()
}

fn read(room: &mut Room, place: &str, on: Day, kind: ReadingKind, celsius: f64) {
    let (place, celsius) = (Place::new(place).unwrap(), Celsius::new(celsius).unwrap());
    room.write(When::Day(on), Fact::Reading(Reading { place, kind, celsius, humidity: None }));
}

fn check(room: &mut Room, female: AnimalId, on: Day) {
    let found = Found::Scan(vec![Millimetres::new(14.0).unwrap()]);
    room.write(When::Day(on), Fact::Checked(Checked { female, found }));
}

fn laid(room: &mut Room, female: AnimalId, on: Day, (eggs, slugs): (u16, u16)) {
    let (eggs, slugs) = (Some(eggs), Some(slugs));
    let laid = Laid { female, sire: None, clutch: None, eggs, slugs, mass: None, kept: None };
    room.write(When::Day(on), Fact::Laid(laid));
}

fn share(log_odds: f64) -> f64 {
    1.0 / (1.0 + (-log_odds).exp())
}

/// Ten females in four seasons, each tub as warm as it is that year, read on five days of each
/// cycle and, much hotter, after laying. A degree adds `per_degree` to the log odds of a slug, of
/// which 15 % are usual; females differ. Also the share of slugs in all.
fn heated(per_degree: f64, dice: &mut Dice) -> (Room, f64) {
    let mut room = Room::default();
    let (mut n_eggs, mut n_slugs) = (0.0, 0.0);
    for n in 0..10 {
        let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
        let own = 0.4 * dice.normal();
        for year in 2020..2024 {
            let opened = day(&format!("{year}-11-20"));
            check(&mut room, female, opened);
            let warm = 29.0 + 4.0 * dice.chance();
            for reading in 0..5 {
                let on = opened + 20 * reading + 3;
                let celsius = warm + 0.3 * dice.normal();
                read(&mut room, &format!("Hot spot R1-F{n}"), on, ReadingKind::Measured, celsius);
            }
            check(&mut room, female, opened + 100);
            let chance = share(-1.73 + own + per_degree * (warm - 31.0));
            let slugs = (0..7).filter(|_| dice.chance() < chance).count() as u16;
            laid(&mut room, female, opened + 150, (7, slugs));
            let after = opened + 160;
            read(&mut room, &format!("Hot spot R1-F{n}"), after, ReadingKind::Measured, 35.0);
            n_eggs += 7.0;
            n_slugs += f64::from(slugs);
        }
    }
    (room, n_slugs / n_eggs)
}

fn effect(question: &Question) -> &Effect {
    question.effect.as_ref().unwrap_or_else(|| panic!("{}", question.sentence))
}

#[test]
fn heat_that_makes_slugs_is_found_and_told_by_the_degree() {
    let question = asked(&heated(0.7, &mut Dice(7)).0);
    assert_eq!(question.verdict, Verdict::Clear, "{}", question.sentence);
    assert!(question.sentence.starts_with("Warmer, more slugs: in your records +"));
    assert!(question.sentence.contains("percentage points for each °C (1.8 °F) more (80 %: +"));
    let Some(Picture::Points { points, line, .. }) = &question.picture else { panic!() };
    assert_eq!((points.len(), question.counts[0].n), (40, 40));
    assert!(points.iter().all(|p| (27.5..34.5).contains(&p.0)), "what was read later is not in it");
    assert!(line[0].1 < line[8].1);
}

#[test]
fn intervals_hold_the_truth_and_chance_is_seldom_clear() {
    let (mut dice, mut held, mut clear) = (Dice(13), 0, 0);
    for n in 0..40 {
        let truth = if n % 2 == 0 { 0.0 } else { 0.5 };
        let (room, usual) = heated(truth, &mut dice);
        let question = asked(&room);
        let middle = (usual / (1.0 - usual)).ln();
        let points = 100.0 * (share(middle + 0.5 * truth) - share(middle - 0.5 * truth));
        held += u32::from(!effect(&question).eighty.excludes(points));
        clear += u32::from(truth == 0.0 && question.verdict == Verdict::Clear);
    }
    // Binomial with 40 and .8: 32 and three standard deviations of 2.5.
    assert!((24..=39).contains(&held), "80 % intervals held {held} of 40");
    assert!(clear <= 4, "{clear} of 20 rooms without an effect are called clear");
}

/// The worked example of docs/methods/learned.md.
#[test]
fn the_hot_spot_of_a_clutch_is_that_of_her_tub_else_her_rack_else_the_room() {
    let mut room = Room::default();
    let (measured, set) = (ReadingKind::Measured, ReadingKind::Set);
    for n in 0..8 {
        let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
        check(&mut room, female, day("2024-12-01"));
        laid(&mut room, female, day("2025-04-01"), (7, 1));
    }
    // Her tub: two readings of one day make one, (31 + 33) / 2 = 32; (30 + 32 + 34) / 3 = 32.
    for (on, celsius) in
        [("2024-12-05", 30.0), ("2025-01-05", 31.0), ("2025-01-05", 33.0), ("2025-02-05", 34.0)]
    {
        read(&mut room, "hot spot R1-F0", day(on), measured, celsius);
    }
    // Before the cycle, after it, and on too few days.
    for (place, on) in [
        ("hot spot R1-F0", "2024-11-30"),
        ("hot spot R1-F0", "2025-04-02"),
        ("hot spot R1-F1", "2025-01-05"),
        ("hot spot R1-F1", "2025-01-06"),
        ("hot spot R2-F3", "2025-01-06"),
    ] {
        read(&mut room, place, day(on), measured, 36.0);
    }
    // The rack: set to 28 °C, and from half of the 122 days on to 31 °C.
    read(&mut room, "hot spot rack R1", day("2024-10-01"), set, 28.0);
    read(&mut room, "hot spot rack R1", day("2025-01-31"), set, 31.0);
    // The room is asked only where a rack has nothing.
    for n in 0..3 {
        read(&mut room, "hot spot", day("2025-01-01") + n, measured, 25.0);
    }
    let question = asked(&room);
    let Some(Picture::Points { points, .. }) = &question.picture else {
        panic!("{}", question.sentence)
    };
    let celsius: Vec<f64> = points.iter().map(|p| p.0).collect();
    let rack = (28.0 * 61.0 + 31.0 * 61.0) / 122.0;
    assert_eq!(celsius[0], 32.0);
    assert!(celsius[1..].iter().all(|c| (c - rack).abs() < 1e-9), "{celsius:?}");
    let lost = question.left_out.iter().find(|c| c.what.contains("no female's")).unwrap();
    assert_eq!(lost.n, 1);
}

#[test]
fn alike_or_few_hot_spots_say_nothing() {
    let mut room = Room::default();
    for n in 0..9 {
        let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
        check(&mut room, female, day("2024-12-01"));
        laid(&mut room, female, day("2025-04-01"), (7, n % 3));
    }
    let none = asked(&room);
    assert_eq!(none.verdict, Verdict::NothingWritten);
    read(&mut room, "hot spot R1-F3", day("2024-12-02"), ReadingKind::Set, 31.0);
    let few = asked(&room);
    assert_eq!(few.verdict, Verdict::TooFew);
    assert!(few.sentence.contains("1 clutch with hot-spot"), "{}", few.sentence);
    read(&mut room, "hot spot", day("2024-12-02"), ReadingKind::Set, 31.1);
    let alike = asked(&room);
    assert_eq!(alike.verdict, Verdict::TooFew);
    assert!(alike.sentence.contains("about as warm"), "{}", alike.sentence);
    assert!(alike.effect.is_none() && alike.picture.is_none());
}
