//! From the first placement to ovulation, in rooms of which the truth is known.

use answers::learned::{Curve, Learned, Picture, Question, Row, Verdict};
use records::facts::{Checked, Laid, Ovulated, Weighed};
use records::words::Certainty;
use records::{AnimalId, Fact, Found, Meal, Sex};
use units::{Day, Grams, Millimetres, When};

use crate::dice::Dice;
use crate::room::{Room, day};

fn learned(room: &Room, on: &str) -> Learned {
    answers::learned::learned(&room.on_evening_of(on))
}

fn of<'l>(learned: &'l Learned, id: &str) -> &'l Question {
    learned.questions.iter().find(|q| q.id == id).unwrap()
}

fn curve(question: &Question) -> &Curve {
    match &question.picture {
        Some(Picture::Curve(curve)) => curve,
        _ => panic!("{}", question.sentence),
    }
}

fn check(room: &mut Room, female: AnimalId, on: Day) {
    let found = Found::NothingFelt;
    room.write(When::Day(on), Fact::Checked(Checked { female, found }));
}

fn ovulated(room: &mut Room, female: AnimalId, on: Day) {
    let fact = Ovulated { female, certainty: Certainty::Seen, sire: None };
    room.write(When::Day(on), Fact::Ovulated(fact));
}

/// Weeks in remission of 21 patients, and whether it ended then: Freireich and others (1963, Blood
/// 21:699), as Cox (1972) prints them. R's survival 3.5-3 gives the shares, and with log-log limits
/// the ends.
const FREIREICH: [(i32, bool); 21] = [
    (6, true),
    (6, true),
    (6, true),
    (6, false),
    (7, true),
    (9, false),
    (10, true),
    (10, false),
    (11, false),
    (13, true),
    (16, true),
    (17, false),
    (19, false),
    (20, false),
    (22, true),
    (23, true),
    (25, false),
    (32, false),
    (32, false),
    (34, false),
    (35, false),
];

/// The worked example of docs/methods/learned.md: the same numbers as days of 21 females.
#[test]
fn the_curve_of_a_room_is_that_of_a_textbook() {
    let mut room = Room::default();
    let male = room.animal("M1", Sex::Male, 800.0);
    let placed = day("2024-12-01");
    for (n, (days, came)) in FREIREICH.into_iter().enumerate() {
        let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
        // A check before he is put in opens the cycle, and nothing else.
        check(&mut room, female, placed - 9);
        room.placed(male, female, &placed.to_string());
        if came {
            ovulated(&mut room, female, placed + days);
        } else {
            check(&mut room, female, placed + days);
        }
    }
    let learned = learned(&room, "2025-10-01");
    let question = of(&learned, "wait_ovulation");
    let curve = curve(question);
    let shares: Vec<f64> = curve.steps.iter().map(|s| 1.0 - s.share).collect();
    let published = [0.857, 0.807, 0.753, 0.690, 0.627, 0.538, 0.448];
    for (share, published) in shares.iter().zip(published) {
        assert!((share - published).abs() < 6e-4, "{shares:?}");
    }
    let waiting: Vec<usize> = curve.steps.iter().map(|s| s.waiting).collect();
    assert_eq!(waiting, [21, 17, 15, 12, 11, 7, 6]);
    assert_eq!(curve.half, Some((23.0, Some(16.0), None)));
    assert_eq!(curve.waiting_at(20.0), 8);
    assert_eq!(question.verdict, Verdict::Told);
    assert_eq!(
        question.sentence,
        "In your records half of the cycles had come to ovulation 23 days after the first placement \
         (80 %: from 16 on, no upper end yet); a quarter by 13 days."
    );
    assert_eq!(learned.looks, 0, "nothing is compared");
}

#[test]
fn what_nobody_wrote_is_counted_back_and_what_came_before_is_left_out() {
    let mut room = Room::default();
    let male = room.animal("M1", Sex::Male, 800.0);
    for n in 0..12 {
        let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
        check(&mut room, female, day("2024-11-20"));
        // The usual 49 days from ovulation to laying, and 61 days before it, the first night: 12 on.
        let laying = day("2025-02-10");
        match n {
            0..=8 => room.placed(male, female, "2024-12-11"),
            // He came when she had ovulated already.
            9 => room.placed(male, female, "2025-01-20"),
            _ => {}
        }
        if n < 10 {
            let laid = Laid {
                female,
                sire: None,
                clutch: None,
                eggs: Some(7),
                slugs: None,
                mass: None,
                kept: None,
            };
            room.write(When::Day(laying), Fact::Laid(laid));
        }
    }
    let learned = learned(&room, "2025-10-01");
    let question = of(&learned, "wait_ovulation");
    let steps = &curve(question).steps;
    assert_eq!(steps.iter().map(|s| (s.days, s.waiting)).collect::<Vec<_>>(), [(12.0, 9)]);
    let count = |what: &str| {
        let all = question.counts.iter().chain(&question.left_out);
        all.filter(|c| c.what.contains(what)).map(|c| c.n).next().unwrap_or(0)
    };
    assert_eq!(count("counted back from laying"), 9);
    assert_eq!(count("before a placement"), 1);
    assert_eq!(count("cycles without a placement"), 2);
}

/// `females` in four seasons; each 200 g more multiplies the hazard of ovulating by `e^by`. Half of
/// those that take longer than others stop.
fn waited(by: f64, females: usize, dice: &mut Dice) -> Room {
    let mut room = Room::default();
    let male = room.animal("M1", Sex::Male, 800.0);
    let seasons: Vec<f64> = (0..4).map(|_| 0.3 * dice.normal()).collect();
    for n in 0..females {
        let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
        let own = 0.3 * dice.normal();
        for (year, season) in (2020..2024).zip(&seasons) {
            let placed = day(&format!("{year}-11-20")) + (30.0 * dice.chance()) as i32;
            let grams = 1900.0 + 200.0 * dice.normal();
            let mass = Grams::new(grams.max(1000.0)).unwrap();
            room.write(When::Day(placed - 5), Fact::Weighed(Weighed { animal: female, mass }));
            // What she weighs later is not known yet.
            let mass = Grams::new(3000.0 * dice.chance() + 500.0).unwrap();
            room.write(When::Day(placed + 5), Fact::Weighed(Weighed { animal: female, mass }));
            room.placed(male, female, &placed.to_string());
            let hazard = (own + season + by * (grams - 1900.0) / 200.0).exp();
            let days = 70.0 * (-dice.chance().ln() / hazard).powf(0.25);
            let stops = 40.0 + 100.0 * dice.chance();
            if days < stops {
                ovulated(&mut room, female, placed + days as i32);
            } else {
                check(&mut room, female, placed + stops as i32);
            }
        }
    }
    room
}

fn rows(question: &Question) -> &[Row] {
    match &question.picture {
        Some(Picture::Rows { rows, .. }) => rows,
        _ => panic!("{}", question.sentence),
    }
}

#[test]
fn what_hastens_ovulation_is_found_and_told_as_a_chance() {
    let answer = learned(&waited(0.8, 12, &mut Dice(41)), "2025-10-01");
    let question = of(&answer, "wait_sooner");
    let heavier = rows(question).iter().find(|r| r.name == "200 g heavier").unwrap();
    // Of two that differ by 200 g: e^.8 / (1 + e^.8).
    assert!(!heavier.ninety_five.excludes(0.690), "{heavier:?}");
    assert_eq!(question.verdict, Verdict::Clear, "{}", question.sentence);
    assert!(
        question.sentence.starts_with(
            "In your records, of two females first placed alike, one that is 200 g heavier \
             ovulates first with a chance of "
        ),
        "{}",
        question.sentence
    );
    assert_eq!(answer.looks, rows(question).len(), "each thing looked at is a look");
    let curve = curve(of(&answer, "wait_ovulation"));
    assert!(curve.steps.windows(2).all(|w| w[0].share < w[1].share));
}

#[test]
fn intervals_of_haste_hold_the_truth_and_chance_is_seldom_clear() {
    let (mut dice, mut held, mut clear) = (Dice(43), 0, 0);
    for n in 0..30 {
        let truth = if n % 2 == 0 { 0.0 } else { 0.6 };
        let answer = learned(&waited(truth, 10, &mut dice), "2025-10-01");
        let question = of(&answer, "wait_sooner");
        let heavier = rows(question).iter().find(|r| r.name == "200 g heavier").unwrap();
        held += u32::from(!heavier.eighty.excludes(1.0 / (1.0 + (-truth).exp())));
        clear += u32::from(truth == 0.0 && question.verdict == Verdict::Clear);
    }
    // Binomial with 30 and .8: 24 and three standard deviations of 2.2.
    assert!((17..=30).contains(&held), "80 % intervals held {held} of 30");
    assert!(clear <= 3, "{clear} of 15 rooms without an effect are called clear");
}

/// Follicles that are large spoil her appetite and are near to ovulation: she who ate less ovulates
/// sooner, and food has no part in it.
#[test]
fn food_that_follicles_spoil_is_not_taken_for_what_delays() {
    let (mut dice, mut held) = (Dice(47), 0);
    for _ in 0..12 {
        let mut room = Room::default();
        let male = room.animal("M1", Sex::Male, 800.0);
        for n in 0..12 {
            let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
            for year in 2021..2024 {
                let placed = day(&format!("{year}-12-01"));
                let size = 12.0 + 16.0 * dice.chance();
                let found = Found::Scan(vec![Millimetres::new(size).unwrap()]);
                room.write(When::Day(placed - 1), Fact::Checked(Checked { female, found }));
                for meal in 1..=10 {
                    let takes = dice.chance() < 1.3 - 0.04 * size;
                    let how = if takes { Meal::Taken } else { Meal::Refused };
                    room.fed(female, placed - meal * 11, "medium rat", 1, how);
                }
                room.placed(male, female, &placed.to_string());
                let days = 7.0 * (43.0 - size) / (2.0 + 0.3 * dice.normal()).max(1.0);
                ovulated(&mut room, female, placed + days as i32);
            }
        }
        let answer = learned(&room, "2025-10-01");
        let ate = rows(of(&answer, "wait_sooner")).iter().find(|r| r.name.contains("rat"));
        held += u32::from(!ate.unwrap().eighty.excludes(0.5));
    }
    // Binomial with 12 and .8: 9.6 and three standard deviations of 1.4.
    assert!(held >= 6, "80 % intervals held none {held} of 12 times");
}
