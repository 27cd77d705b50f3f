//! What happens once: sheds, a death, a sale, newcomers, a loan, a treatment, notes.

use units::Day;

use super::cast::{Stock, buy};
use super::diary::{Key, Leaving, What};
use super::genes;
use super::world::{World, date};

pub(super) fn pass(world: &mut World) {
    sheds(world);
    departures(world);
    arrivals(world);
    ailments(world);
    moves(world);
    remarks(world);
}

/// Ordinary sheds that somebody saw coming: blue for about a week, then the skin.
fn sheds(world: &mut World) {
    let today = world.today;
    for key in world.present() {
        let animal = &world.animals[key];
        let carrying = animal.cycle.as_ref().is_some_and(|c| c.ovulated.is_some());
        if animal.sheds_on == Some(today) {
            world.animals[key].sheds_on = None;
            world.diary.on(today, 7 * 60 + 50, What::Shed { animal: key, pre_lay: false });
            continue;
        }
        let unseen = !animal.followed || animal.growing || carrying || animal.sheds_on.is_some();
        if !unseen && world.dice.body.chance(1.0 / 260.0) {
            world.animals[key].sheds_on = Some(today + world.dice.body.whole(6, 9));
            world.diary.on(today, 17 * 60 + 55, What::InBlue { animal: key });
        }
    }
}

fn leaves(world: &mut World, code: &str, how: Leaving, to: Option<&'static str>, why: &str) {
    let Some(key) = world.by_code(code) else { return };
    world.animals[key].gone = true;
    let today = world.today;
    world.diary.on(today, 10 * 60, What::Left { animal: key, how, to });
    note(world, Some(key), why);
}

fn note(world: &mut World, animal: Option<Key>, text: &str) {
    let text = text.to_owned();
    world.diary.on(world.today, 10 * 60 + 5, What::Noted { animal, text });
}

fn departures(world: &mut World) {
    if world.today == date(2024, 8, 21) {
        let why =
            "Found dead in the morning, nothing to be seen from outside; sent for an examination.";
        leaves(world, "F17", Leaving::Died, None, why);
    }
    if world.today == date(2024, 9, 14) {
        let why = "Makes room for two young females.";
        leaves(world, "F29", Leaving::Sold, Some("another keeper"), why);
    }
    if world.today == date(2025, 8, 30) {
        let why = "Three seasons here; makes room for the young males.";
        leaves(world, "M04", Leaving::Sold, Some("another keeper"), why);
    }
}

fn arrivals(world: &mut World) {
    let today = world.today;
    if today == date(2024, 3, 16) {
        come(world, Some("Fathom"), true, date(2021, 8, 3), 820.0, "R5-10");
    }
    if today == date(2025, 3, 8) {
        come(world, Some("Aster"), false, date(2020, 7, 19), 2080.0, "Q-01");
    }
    if today == date(2025, 12, 6) {
        let male = come(world, Some("Halyard"), true, date(2020, 6, 27), 960.0, "R5-04");
        let share = "every fourth hatchling of his clutches";
        let (owner, due) = ("a friend two villages on", date(2026, 3, 31));
        world.diary.on(today, 12 * 60, What::Borrowed { animal: male, owner, due, share });
        quarantined(world, male, true, "came with a clear test; ten days apart all the same");
    }
    if today == date(2025, 12, 16)
        && let Some(male) = world.by_code("M14")
    {
        quarantined(world, male, false, "no mites, eats");
        borrowed_plans(world, male);
    }
    if today == date(2026, 1, 17) {
        let female = come(world, Some("Ember"), false, date(2021, 9, 2), 1690.0, "Q-01");
        quarantined(world, female, true, "new; 90 days, swab sent off");
    }
    if today == date(2025, 6, 6)
        && let Some(female) = world.by_code("F43")
    {
        quarantined(world, female, false, "90 days without signs");
        shift(world, female, "R2-07");
    }
    if today == date(2025, 3, 8)
        && let Some(female) = world.by_code("F43")
    {
        quarantined(world, female, true, "new; 90 days");
    }
}

fn come(
    world: &mut World,
    name: Option<&'static str>,
    male: bool,
    hatched: Day,
    mass: f64,
    tub: &str,
) -> Key {
    let code = super::young::next_code(world, if male { 'M' } else { 'F' });
    let (genes, claims) = genes::founder(&mut world.dice.genes);
    let stock = Stock { code, name, male, hatched, mass, genes, claims, tub: tub.to_owned() };
    let today = world.today;
    buy(world, stock, today, 11 * 60 + 20)
}

fn quarantined(world: &mut World, animal: Key, begins: bool, what: &'static str) {
    world.animals[animal].quarantine = begins;
    world.diary.on(world.today, 12 * 60 + 10, What::Quarantine { animal, begins, what });
}

/// The borrowed male becomes the second choice of females that had only one.
fn borrowed_plans(world: &mut World, male: Key) {
    let single = |key: &Key| !world.animals[*key].male && world.animals[*key].planned.len() == 1;
    let females: Vec<Key> = world.present().into_iter().filter(single).take(4).collect();
    for female in females {
        let what = What::Planned { female, male, first: false, weight: 1.0 };
        world.diary.on(world.today, 13 * 60, what);
        world.animals[female].planned.push(male);
    }
}

fn ailments(world: &mut World) {
    let today = world.today;
    let cases: [(&str, Day, Day, &'static str); 3] = [
        ("F08", date(2023, 12, 3), date(2023, 12, 24), "mouth: rinsed daily after the vet's visit"),
        ("M02", date(2025, 1, 20), date(2025, 2, 3), "scale rot on the belly, dry bedding"),
        ("M07", date(2026, 2, 5), date(2026, 3, 1), "wheezes; vet's course of ten days"),
    ];
    for (code, from, to, what) in cases {
        let Some(animal) = world.by_code(code) else { continue };
        let begins = from == today;
        if begins || to == today {
            world.animals[animal].treatment = begins;
            world.diary.on(today, 18 * 60 - 15, What::Treatment { animal, begins, what });
        }
    }
}

fn shift(world: &mut World, animal: Key, tub: &str) {
    world.animals[animal].tub = tub.to_owned();
    world.diary.on(world.today, 12 * 60 + 20, What::Moved { animal, tub: tub.to_owned() });
}

/// Home-bred ones move to the racks of the grown.
fn moves(world: &mut World) {
    let all = [
        ("M10", date(2024, 9, 28), "R5-11"),
        ("M12", date(2025, 10, 4), "R5-12"),
        ("F39", date(2025, 8, 23), "R4-09"),
        ("F40", date(2025, 8, 23), "R4-10"),
    ];
    for (code, day, tub) in all {
        if world.today == day
            && let Some(animal) = world.by_code(code)
        {
            shift(world, animal, tub);
        }
    }
}

fn remarks(world: &mut World) {
    let room: [(Day, &str); 6] = [
        (date(2023, 3, 4), "Thermostat of R3 replaced; it held two degrees too much for a night."),
        (date(2024, 1, 9), "Power out from 2 to 5 in the morning; room fell to 22 °C."),
        (
            date(2024, 10, 1),
            "From today everything goes straight into the phone, placings and takings out too.",
        ),
        (date(2025, 7, 19), "Second incubator serviced, new door seal."),
        (
            date(2026, 1, 26),
            "Both down with the flu: feeding and water first, few placings until it is over.",
        ),
        (date(2025, 12, 28), "Frozen rats: two boxes of medium left, order in January."),
    ];
    for (day, text) in room {
        if world.today == day {
            note(world, None, text);
        }
    }
    let animals = [
        ("F03", date(2023, 5, 2), "Always lays at night. Check her before breakfast."),
        ("M05", date(2024, 2, 11), "Shy with large females, locks when left in peace."),
        ("F12", date(2025, 1, 15), "Only eats when the lights are out."),
        (
            "F25",
            date(2026, 1, 25),
            "Lies on the cool side with her tail up; scan her first next time.",
        ),
        ("M09", date(2026, 2, 1), "Up and down in his tub every evening from seven on."),
    ];
    for (code, day, text) in animals {
        if world.today == day
            && let Some(animal) = world.by_code(code)
        {
            note(world, Some(animal), text);
        }
    }
}
