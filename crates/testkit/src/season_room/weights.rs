//! Weighing: everybody once a month, one rack a day.

use super::diary::{Key, What};
use super::world::{World, date};

/// Left out of the rounds of this winter, so that an old weight is to be seen.
const MISSED: [&str; 2] = ["F21", "M06"];

/// Her weight lost its last digit once, and was put right an hour later.
const MISTYPED: &str = "F22";

pub(super) fn pass(world: &mut World) {
    let day = i32::from(world.today.day_of_month());
    for key in world.present() {
        let animal = &world.animals[key];
        let is_done = animal.weighed_on == Some(world.today);
        if !animal.followed || is_done || rack_day(&animal.tub) != day {
            continue;
        }
        let missed = world.today > date(2025, 12, 1) && MISSED.contains(&animal.code.as_str());
        // Nobody lifts a female that is about to lay.
        let laying = animal.cycle.as_ref().is_some_and(|c| {
            c.seen.lays_on.is_some_and(|lays| (0..10).contains(&lays.days_since(world.today)))
        });
        if !missed && !laying {
            weigh(world, key, 16 * 60 + 10 + i32::try_from(key % 60).unwrap_or(0));
        }
    }
}

/// Day of the month on which a rack is weighed: the second for R1, and so on.
fn rack_day(tub: &str) -> i32 {
    let number = tub.chars().nth(1).and_then(|c| c.to_digit(10)).unwrap_or(0);
    match tub.chars().next() {
        Some('R') => i32::try_from(number).unwrap_or(0) + 1,
        _ => 8,
    }
}

/// Writes the mass to the gram; the scales err by one gram or two.
pub(super) fn weigh(world: &mut World, key: Key, minute: i32) {
    let error = world.dice.body.normal();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "grams of a snake")]
    let grams = (world.animals[key].mass + error).max(20.0) as u32;
    world.animals[key].written_mass = grams;
    world.animals[key].weighed_on = Some(world.today);
    let right = What::Weighed { animal: key, grams };
    if world.today == date(2025, 12, 4) && world.animals[key].code == MISTYPED {
        let wrong = What::Weighed { animal: key, grams: grams / 10 };
        world.diary.on(world.today, minute, wrong.clone());
        let corrected = What::Corrected { wrong: Box::new(wrong), right: Box::new(right) };
        world.diary.on(world.today, minute + 70, corrected);
    } else {
        world.diary.on(world.today, minute, right);
    }
}
