//! Feeding: one rack on its weekday, males on their night off, refusals as the season brings them.

use super::body;
use super::diary::{Key, What};
use super::world::{World, date, weekday};

const FRIDAY: i32 = 4;
const SATURDAY: i32 = 5;
const SUNDAY: i32 = 6;
const TUESDAY: i32 = 1;

/// The room is not fed in the last week of a month: grown animals do well on less, and so does
/// whoever feeds them.
const WEEK_OFF_FROM: i8 = 25;

pub(super) fn pass(world: &mut World) {
    slips(world);
    let today = weekday(world.today);
    if world.today.day_of_month() >= WEEK_OFF_FROM {
        return;
    }
    for key in world.present() {
        let animal = &world.animals[key];
        let is_due = animal.followed && day_of(&animal.tub) == today && is_offered(world, key);
        if is_due {
            offer(world, key);
        }
    }
}

/// Two slips of the pen, so that there is something to put right: a meal of a male that was sold
/// the week before, and below a meal that was written twice.
fn slips(world: &mut World) {
    if world.today == date(2025, 9, 7)
        && let Some(animal) = world.by_code("M04")
    {
        let fed = What::Fed { animal, prey: "small rat", count: 1, taken: true };
        world.diary.on(world.today, 17 * 60 + 3, fed);
    }
}

/// The first meal taken in R2 on that Friday.
fn is_written_twice(world: &mut World, key: Key, taken: bool) -> bool {
    let here = world.today == date(2026, 2, 6) && world.animals[key].tub.starts_with("R2");
    let twice = here && taken && !world.slipped;
    world.slipped |= twice;
    twice
}

/// R1 and R2 on Fridays, R3 and R4 on Saturdays, the males of R5 on Sundays, young on Tuesdays.
fn day_of(tub: &str) -> i32 {
    match tub.get(..2) {
        Some("R1" | "R2") => FRIDAY,
        Some("R3" | "R4") => SATURDAY,
        Some("R5") => SUNDAY,
        _ => TUESDAY,
    }
}

/// Carrying females are left in peace from the pre-lay shed on; one that refused four times in a
/// row is offered every other week; hatchlings from their first shed on, about twelve days.
fn is_offered(world: &World, key: Key) -> bool {
    let (animal, today) = (&world.animals[key], world.today);
    let carrying = animal.cycle.as_ref().is_some_and(|c| {
        c.seen.sheds_on.is_some_and(|shed| shed <= today) && c.seen.lays_on.is_some()
    });
    let even_week = (today.number() / 7) % 2 == 0;
    !carrying && (animal.refusals < 4 || even_week) && animal.age(today) > 12
}

fn offer(world: &mut World, key: Key) {
    let refuses = refuses(world, key);
    let taken = !world.dice.meals.chance(refuses);
    let (today, animal) = (world.today, &mut world.animals[key]);
    let (prey, most) = prey(animal.mass, animal.mass < 0.87 * animal.target && !animal.male);
    let count = if taken { most } else { 1 };
    if taken {
        animal.refusals = 0;
        animal.last_meal = Some(today);
        body::eat(animal, count);
    } else {
        animal.refusals = animal.refusals.saturating_add(1);
    }
    let times = if is_written_twice(world, key, taken) { 2 } else { 1 };
    let minute = 17 * 60 + i32::try_from(key % 50).unwrap_or(0);
    for _ in 0..times {
        world.diary.on(today, minute, What::Fed { animal: key, prey, count, taken });
    }
}

/// Chance that a meal is left. Most females stop at 20-25 mm, and males in the season eat less
/// (common practice, no source; the numbers are our own choice).
fn refuses(world: &World, key: Key) -> f64 {
    let (animal, today) = (&world.animals[key], world.today);
    let in_season = matches!(today.month(), 11 | 12 | 1..=4);
    if animal.sheds_on.is_some() {
        return 0.85;
    }
    if animal.growing {
        return 0.05;
    }
    if animal.male {
        return if in_season { 0.3 } else { 0.06 };
    }
    let size =
        animal.cycle.as_ref().map_or(0.0, |c| if c.ovulated.is_some() { 45.0 } else { c.size });
    if size > 26.0 {
        0.88
    } else if size > 20.0 {
        0.25 + 0.1 * (size - 20.0)
    } else if in_season {
        0.09
    } else {
        0.03
    }
}

/// Prey no thicker than the animal, in the keeper's words.
fn prey(mass: f64, thin: bool) -> (&'static str, u16) {
    match mass {
        m if m < 110.0 => ("fuzzy rat", 1),
        m if m < 300.0 => ("weaned rat", 1),
        m if m < 1250.0 => ("small rat", 1),
        m if m < 2600.0 => ("medium rat", if thin { 2 } else { 1 }),
        _ => ("large rat", 1),
    }
}
