//! True mass from day to day: what is burnt, what the eggs take, how young ones grow.

use super::world::{Animal, World};

/// Mass by age in days, g: four times the hatching mass within a year (Ellis and Chappell 1987)
/// and more where fed as captives are; grown at two to three years (common practice, no source).
const FEMALE: [(i32, f64); 8] = [
    (0, 60.0),
    (180, 230.0),
    (365, 520.0),
    (540, 950.0),
    (730, 1450.0),
    (850, 1660.0),
    (1100, 1900.0),
    (2000, 2200.0),
];
const MALE: [(i32, f64); 7] = [
    (0, 60.0),
    (180, 200.0),
    (365, 420.0),
    (540, 600.0),
    (730, 760.0),
    (1100, 900.0),
    (2000, 1000.0),
];

const GROWN_DAYS: i32 = 880;

/// Shares of mass burnt a day without food. Our own choice, within the slow loss of a fast.
const FEMALE_BURNS: f64 = 0.0015;
const MALE_BURNS: f64 = 0.0011;

pub(super) fn pass(world: &mut World) {
    let today = world.today;
    for animal in world.animals.iter_mut().filter(|a| !a.gone) {
        if animal.growing {
            let age = animal.age(today);
            // A small hatchling has caught up within a year.
            let head_start = (animal.target - 1.0) * (1.0 - f64::from(age) / 365.0).max(0.0);
            let wanted = along(if animal.male { &MALE } else { &FEMALE }, age);
            animal.mass = wanted * (1.0 + head_start);
            // Grown: from here on it eats and fasts like the others.
            if age > GROWN_DAYS {
                animal.growing = false;
                animal.target = animal.mass * 1.2;
            }
        } else {
            burn(animal);
        }
    }
}

fn burn(animal: &mut Animal) {
    let rate = if animal.male { MALE_BURNS } else { FEMALE_BURNS };
    // Follicles and eggs weigh about as much as a fasting female burns.
    let builds = animal.cycle.as_ref().is_some_and(|c| c.size > 18.0);
    animal.mass -= animal.mass * if builds { rate * 0.2 } else { rate };
}

/// What a meal adds: more the further the animal is below its own grown mass.
pub(super) fn eat(animal: &mut Animal, count: u16) {
    if animal.growing {
        return;
    }
    let room = ((1.09 * animal.target - animal.mass) / (0.2 * animal.target)).clamp(0.1, 1.0);
    let share = if animal.male { 0.016 } else { 0.026 };
    animal.mass += animal.mass * share * room * f64::from(count);
}

fn along(curve: &[(i32, f64)], age: i32) -> f64 {
    for pair in curve.windows(2) {
        let [(a, low), (b, high)] = [pair[0], pair[1]];
        if age < b {
            return low + (high - low) * f64::from(age - a) / f64::from(b - a);
        }
    }
    curve.last().map_or(0.0, |(_, mass)| *mass)
}
