//! What the records say, on invented rooms of which the truth is known.

use answers::learned as asked_of;
use answers::learned::{Effect, Learned, Picture, Question, Verdict};
use records::facts::{Checked, HatchedOut, Laid, LockLooked};
use records::words::Lock;
use records::{AnimalId, ClutchId, EggsKept, Fact, Found, Meal, Sex};
use units::{Day, Millimetres, Night, When};

use crate::dice::Dice;
use crate::room::{Room, day};

fn learned(room: &Room, on: &str) -> Learned {
    asked_of::learned(&room.on_evening_of(on))
}

fn of<'l>(learned: &'l Learned, id: &str) -> &'l Question {
    learned.questions.iter().find(|q| q.id == id).unwrap()
}

fn effect(question: &Question) -> &Effect {
    question.effect.as_ref().unwrap_or_else(|| panic!("{}", question.sentence))
}

fn count(question: &Question, what: &str) -> usize {
    let all = question.counts.iter().chain(&question.left_out);
    all.into_iter().find(|c| c.what.contains(what)).map_or(0, |c| c.n)
}

fn scan(room: &mut Room, female: AnimalId, on: Day, mm: f64) {
    let found = Found::Scan(vec![Millimetres::new(mm).unwrap()]);
    room.write(When::Day(on), Fact::Checked(Checked { female, found }));
}

fn looked(room: &mut Room, male: AnimalId, female: AnimalId, evening: Day, lock: Lock) {
    let night = Night::beginning(evening);
    let fact = Fact::LockLooked(LockLooked { male, female, night, lock });
    room.write(When::Day(evening + 1), fact);
}

/// `females` in five seasons: her food before each and `per_rat` mm a week for each medium rat a
/// month beyond two, on rates of 2 that differ by female and season.
fn fed_and_grown(per_rat: f64, females: usize, dice: &mut Dice) -> Room {
    let mut room = Room::default();
    let seasons: Vec<f64> = (0..5).map(|_| 0.2 * dice.normal()).collect();
    for n in 0..females {
        let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
        let own = 0.3 * dice.normal();
        for (year, season) in (2020..2025).zip(&seasons) {
            let opened = day(&format!("{year}-11-10"));
            let mut rats = 0;
            for meal in 1..=10 {
                let count = (3.0 * dice.chance()) as u16;
                rats += count;
                let how = if count > 0 { Meal::Taken } else { Meal::Refused };
                room.fed(female, opened - meal * 11, "medium rat", count.max(1), how);
            }
            let rate = 2.0 + own + season + per_rat * (f64::from(rats) / 4.0 - 2.0);
            let rate = rate + 0.25 * dice.normal();
            for week in 0..7 {
                let size = 12.0 + rate * 2.0 * f64::from(week) + 1.0 * dice.normal();
                scan(&mut room, female, opened + week * 14, size);
            }
        }
    }
    room
}

#[test]
fn food_that_speeds_growth_is_found_and_told() {
    let room = fed_and_grown(0.5, 8, &mut Dice(3));
    let learned = learned(&room, "2025-11-01");
    let question = of(&learned, "growth_food");
    let found = effect(question);
    assert!(!found.ninety_five.excludes(0.5), "{found:?}");
    assert_eq!(question.verdict, Verdict::Clear, "{}", question.sentence);
    assert!(question.sentence.starts_with("More food, faster growth: in your records +0."));
    assert_eq!(count(question, "female-seasons"), 40);
    let Some(Picture::Points { points, line, band, .. }) = &question.picture else { panic!() };
    assert_eq!((points.len(), line.len()), (40, band.len()));
    assert!(line[0].1 < line[8].1);
    assert_eq!(learned.looks, 1, "nothing else could be looked at");
}

/// Intervals over 60 rooms, of which half have no effect, hold what is true about as often as they
/// say; and without an effect nothing is called clear more often than said.
#[test]
fn intervals_of_food_hold_the_truth_and_chance_is_seldom_clear() {
    let (mut dice, mut held, mut clear) = (Dice(11), 0, 0);
    for n in 0..60 {
        let truth = if n % 2 == 0 { 0.0 } else { 0.3 };
        let room = fed_and_grown(truth, 5, &mut dice);
        let learned = learned(&room, "2025-11-01");
        let question = of(&learned, "growth_food");
        held += u32::from(!effect(question).eighty.excludes(truth));
        clear += u32::from(truth == 0.0 && question.verdict == Verdict::Clear);
    }
    // Binomial with 60 and .8: 48 and three standard deviations of 3.1.
    assert!((39..=57).contains(&held), "80 % intervals held {held} of 60");
    assert!(clear <= 5, "{clear} of 30 rooms without an effect are called clear");
}

/// Growth does not mind locks; he goes in because she grows. Yet she who has grown fast is locked.
#[test]
fn a_lock_that_follows_growth_is_not_taken_for_its_cause() {
    let (mut dice, mut held) = (Dice(5), 0);
    let n_rooms = 30;
    for _ in 0..n_rooms {
        let mut room = Room::default();
        let male = room.animal("M1", Sex::Male, 800.0);
        for n in 0..8 {
            let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
            let own = 0.5 * dice.normal();
            for year in 2021..2024 {
                let opened = day(&format!("{year}-11-10"));
                let rate = 1.8 + own + 0.3 * dice.normal();
                let mut size = 12.0;
                let mut seen: Vec<f64> = vec![];
                for check in 0..8 {
                    let found = size + 1.2 * dice.normal();
                    scan(&mut room, female, opened + check * 12, found);
                    let grew = seen.last().map_or(0.0, |last| found - last);
                    seen.push(found);
                    // The more she grew, the likelier he is put in and locks.
                    let lock = if dice.chance() < 0.2 + 0.12 * grew.clamp(0.0, 5.0) {
                        Lock::Seen
                    } else {
                        Lock::NoneSeen
                    };
                    looked(&mut room, male, female, opened + check * 12 + 1, lock);
                    size += rate * 12.0 / 7.0 + 0.4 * dice.normal();
                }
            }
        }
        let learned = learned(&room, "2025-02-01");
        let question = of(&learned, "growth_lock");
        held += u32::from(!effect(question).eighty.excludes(0.0));
        assert!(question.caution.contains("association"));
    }
    // Binomial with 30 and .8: 24 and three standard deviations of 2.2.
    assert!(held >= 17, "80 % intervals held none {held} of {n_rooms} times");
}

/// The 20-rat rule where it is true: those that ate more lay again in four years of five, the
/// others in one of five.
#[test]
fn the_rule_of_twenty_rats_is_tested() {
    let mut room = Room::default();
    let mut dice = Dice(17);
    for n in 0..24 {
        let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
        let eats = n % 2 == 0;
        for year in [2020, 2022] {
            laid(&mut room, female, None, &format!("{year}-04-10"), (7, 0), None);
            for meal in 0..14 {
                let on = day(&format!("{year}-04-20")) + meal * 12;
                room.fed(female, on, "small rat", if eats { 2 } else { 1 }, Meal::Taken);
            }
            scan(&mut room, female, day(&format!("{year}-12-01")), 11.0);
            if dice.chance() < if eats { 0.85 } else { 0.15 } {
                let next = format!("{}-04-20", year + 1);
                laid(&mut room, female, None, &next, (6, 0), None);
            }
        }
    }
    let answer = learned(&room, "2024-12-01");
    let question = of(&answer, "repeat_laying");
    let found = effect(question);
    assert!(found.eighty.low > 0.0, "{}", question.sentence);
    assert!(found.median > 20.0 && found.ninety_five.high < 95.0, "{found:?}");
    assert!(question.sentence.contains("percentage points"), "{}", question.sentence);
    assert_eq!(count(question, "more than 20 rats"), 24);
    // In the middle of a season nobody of it counts, not even who has laid already.
    let early = learned(&room, "2021-04-25");
    let question = of(&early, "repeat_laying");
    assert_eq!(question.verdict, Verdict::TooFew);
    let open = question.left_out.iter().find(|c| c.what.contains("not over")).unwrap();
    assert!(open.n >= 24, "{open:?}");
}

fn laid(
    room: &mut Room,
    female: AnimalId,
    sire: Option<AnimalId>,
    on: &str,
    (eggs, slugs): (u16, u16),
    kept: Option<EggsKept>,
) -> ClutchId {
    let laid =
        Laid { female, sire, clutch: None, eggs: Some(eggs), slugs: Some(slugs), mass: None, kept };
    ClutchId(room.on(on, Fact::Laid(laid)))
}

#[test]
fn males_are_told_apart_only_by_enough_nights() {
    let mut room = Room::default();
    let mut dice = Dice(23);
    let females: Vec<AnimalId> =
        (0..6).map(|n| room.animal(&format!("F{n}"), Sex::Female, 1900.0)).collect();
    let rates = [0.75, 0.3, 0.3, 0.3];
    for (m, rate) in rates.into_iter().enumerate() {
        let male = room.animal(&format!("M{m}"), Sex::Male, 800.0);
        for night in 0..60 {
            let evening = day("2024-11-05") + night * 2;
            let lock = if dice.chance() < rate { Lock::Seen } else { Lock::NoneSeen };
            looked(&mut room, male, females[(night as usize + m) % 6], evening, lock);
        }
    }
    let rare = room.animal("M9", Sex::Male, 800.0);
    for night in 0..6 {
        looked(&mut room, rare, females[0], day("2024-11-06") + night * 2, Lock::Seen);
    }
    let answer = learned(&room, "2025-04-01");
    let question = of(&answer, "lock_rates");
    let Some(Picture::Rows { rows, average, .. }) = &question.picture else { panic!() };
    assert_eq!(rows.iter().map(|r| r.name.as_str()).next(), Some("M0"));
    assert_eq!(rows.len(), 4, "six nights are too few to be told of");
    let raw: f64 = rows[0].counted.split(' ').next().unwrap().parse::<f64>().unwrap() / 60.0;
    let average = average.unwrap();
    assert!(average < rows[0].median && rows[0].median < raw, "drawn towards the average");
    assert_eq!(question.verdict, Verdict::Clear, "{}", question.sentence);
    // More than two that are clear are listed beside the average.
    let said = question.sentence.as_str();
    assert!(said.starts_with("In your records an average male locks on "), "{said}");
    assert!(said.contains("of his nights; more M0 ") && said.contains("; less M"), "{said}");
    assert_eq!(answer.looks, 4);
    assert!(answer.how_sure().contains("98.8 %"), "{}", answer.how_sure());
}

#[test]
fn alike_males_and_places_are_not_told_apart() {
    let mut room = Room::default();
    let mut dice = Dice(29);
    let males: Vec<AnimalId> =
        (0..3).map(|n| room.animal(&format!("M{n}"), Sex::Male, 800.0)).collect();
    for n in 0..18 {
        let female = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
        let slugs = (0..7).filter(|_| dice.chance() < 0.15).count() as u16;
        let kept = if n % 2 == 0 { EggsKept::Incubator } else { EggsKept::WithHer };
        let sire = Some(males[n % 3]);
        let clutch = laid(&mut room, female, sire, "2024-04-10", (7, slugs), Some(kept));
        if n < 16 {
            let hatchlings = (0..7 - slugs).filter(|_| dice.chance() < 0.8).count() as u16;
            let fact = Fact::HatchedOut(HatchedOut { clutch, hatchlings: Some(hatchlings) });
            room.on("2024-06-10", fact);
        }
    }
    let answer = learned(&room, "2024-06-15");
    for (id, looks) in [("slugs_male", 3), ("hatch_rate", 2)] {
        let question = of(&answer, id);
        let Some(Picture::Rows { rows, .. }) = &question.picture else { panic!("{id}") };
        assert_eq!(rows.len(), looks);
        assert_ne!(question.verdict, Verdict::Clear, "{}", question.sentence);
    }
    // Three males and one comparison of two places.
    assert_eq!(answer.looks, 4);
    assert_eq!(count(of(&answer, "hatch_rate"), "not hatched yet"), 2);
}

#[test]
fn without_records_every_question_says_what_to_write() {
    let answer = learned(&Room::default(), "2026-02-10");
    assert_eq!((answer.questions.len(), answer.looks), (9, 0));
    for question in &answer.questions {
        assert_eq!(question.verdict, Verdict::NothingWritten, "{}", question.id);
        assert!(question.sentence.contains(": nothing to "), "{}", question.sentence);
        assert!(!question.write.is_empty() && !question.needs.is_empty());
    }
}
