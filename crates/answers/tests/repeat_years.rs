//! Whether a female that laid last year lays again, by what she ate.

use answers::repeat_laying;
use answers::repeat_laying::{Group, repeat_years};
use records::facts::{Laid, Left};
use records::words::Leaving;
use records::{AnimalId, Fact, Meal, Sex};
use units::Day;

use crate::room::{Room, day};

fn laid(room: &mut Room, female: AnimalId, on: Day) {
    let laid = Laid {
        female,
        sire: None,
        clutch: None,
        eggs: Some(6),
        slugs: None,
        mass: None,
        kept: None,
    };
    room.on(&on.to_string(), Fact::Laid(laid));
}

/// So many rats, one every five days, from May on.
fn ate(room: &mut Room, animal: AnimalId, year: i16, rats: i32) {
    for n in 0..rats {
        room.fed(animal, Day::new(year, 5, 1).unwrap() + n * 5, "medium rat", 1, Meal::Taken);
    }
}

/// Of each year's females that laid in April: those who ate 25 rats until November lay again three
/// in four, those who ate 10 one in four.
fn house() -> Room {
    let mut room = Room::default();
    for n in 0..8 {
        let f = room.animal(&format!("F{n}"), Sex::Female, 1900.0);
        laid(&mut room, f, day("2024-04-10"));
        ate(&mut room, f, 2024, if n < 4 { 25 } else { 10 });
        if n % 4 < if n < 4 { 3 } else { 1 } {
            laid(&mut room, f, day("2025-04-10"));
        }
    }
    let last = room.animal("F9", Sex::Female, 1900.0);
    laid(&mut room, last, day("2025-04-10"));
    ate(&mut room, last, 2025, 25);
    room
}

#[test]
fn years_that_are_over_are_counted_by_what_was_eaten() {
    let colony = house().on_evening_of("2026-02-10");
    let years = repeat_years(&colony);
    assert_eq!(
        (years.more, years.less),
        (Group { females: 4, laid: 3 }, Group { females: 4, laid: 1 })
    );
    // The season under way tells nothing yet; a year earlier none was over.
    let early = repeat_years(&house().on_evening_of("2025-06-01"));
    assert_eq!((early.more, early.less), (Group::default(), Group::default()));
}

/// Three of four beside beta(3, 1): beta(6, 2), of mean .75.
#[test]
fn the_chance_is_the_conjugate_one() {
    let colony = house().on_evening_of("2026-02-10");
    let all = repeat_laying(&colony);
    let last = all.iter().find(|r| colony.code(r.place) == "F9").unwrap();
    assert_eq!((last.eaten, last.ate_more), (25, true));
    let chance = &last.chance;
    assert!((chance.median.get() - 0.75).abs() < 1e-9);
    assert!((chance.low.get() - BETA_6_2[0]).abs() < 1e-5, "{chance:?}");
    assert!((chance.high.get() - BETA_6_2[1]).abs() < 1e-5, "{chance:?}");
    assert!(
        last.reason.contains("of 4 in your records that ate more than 20, 3 laid again"),
        "{}",
        last.reason
    );
    assert_eq!(last.records.len(), 26);
}

/// scipy 1.17.1, scipy.stats.beta(6, 2).ppf([.1, .9]).
const BETA_6_2: [f64; 2] = [0.547_435, 0.921_177];

#[test]
fn who_left_or_whose_meals_nobody_wrote_is_not_counted() {
    let mut room = Room::default();
    let gone = room.animal("F1", Sex::Female, 1900.0);
    laid(&mut room, gone, day("2024-04-10"));
    ate(&mut room, gone, 2024, 25);
    room.on("2025-01-05", Fact::Left(Left { animal: gone, how: Leaving::Sold, to: None }));
    let silent = room.animal("F2", Sex::Female, 1900.0);
    laid(&mut room, silent, day("2024-04-10"));
    let years = repeat_years(&room.on_evening_of("2026-02-10"));
    assert_eq!((years.more, years.less), (Group::default(), Group::default()));
}
