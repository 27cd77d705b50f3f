//! Hatchlings: who they are, what becomes of them.

use units::Day;

use super::diary::{Key, Leaving, Newcomer, What};
use super::genes;
use super::world::{Animal, Eggs, World};

/// To whom a hatchling goes.
const BUYERS: [Option<&str>; 5] =
    [None, None, Some("autumn fair"), Some("collected here"), Some("another keeper")];

/// Names of those that are kept.
const NAMES: [&str; 9] =
    ["Kestrel", "Osier", "Tallow", "Fennel", "Bluebell", "Dibber", "Samphire", "Rowan", "Trivet"];

/// In the first years hatchlings were sexed out of the egg, from 2025 on ten days later.
fn is_sexed_later(hatched: Day) -> bool {
    hatched.year() >= 2025
}
const SEXED_AFTER: i32 = 10;

pub(super) fn pass(world: &mut World) {
    let today = world.today;
    for key in world.present() {
        let animal = &world.animals[key];
        let hatched_here = animal.leaves_on.is_some();
        if hatched_here && is_sexed_later(animal.hatched) && animal.age(today) == SEXED_AFTER {
            let told = What::SexTold { animal: key, male: animal.male, how: "popped" };
            world.diary.on(today, 10 * 60 + 40, told);
        }
        if world.animals[key].leaves_on == Some(today) {
            leave(world, key);
        }
    }
    if world.is(10, 12) {
        keep_the_best(world);
    }
}

fn leave(world: &mut World, key: Key) {
    let (today, dice) = (world.today, &mut world.dice.young);
    let died = dice.chance(0.02);
    let (how, to) = if died { (Leaving::Died, None) } else { (Leaving::Sold, dice.pick(&BUYERS)) };
    world.animals[key].gone = true;
    world.diary.on(today, 15 * 60 + 30, What::Left { animal: key, how, to });
}

/// A clutch hatches: the hatchlings are weighed and looked at, sexed at once in the first years.
pub(super) fn hatch(world: &mut World, at: usize) {
    let today = world.today;
    let Eggs { number, good, dam, credited, sire, ref code, .. } = world.eggs[at];
    let (Some(sire), code) = (sire, code.clone()) else { return };
    if good == 0 {
        return;
    }
    let minute = 9 * 60 + 4 * i32::try_from(number % 8).unwrap_or(0);
    world.diary.on(today, minute, What::HatchedOut { clutch: number, hatchlings: good });
    for n in 1..=good {
        let parents = Parents { dam, credited, sire };
        hatchling(world, &format!("{code}-{n}"), &code, &parents, minute + i32::from(n));
    }
    let text =
        format!("{code}: first pip on {}, last out on {}.", (today - 1).short(), today.short());
    world.diary.on(today, minute + 20, What::Noted { animal: Some(dam), text });
}

struct Parents {
    dam: Key,
    credited: Option<Key>,
    sire: Key,
}

fn hatchling(world: &mut World, code: &str, clutch: &str, parents: &Parents, minute: i32) {
    let (today, key) = (world.today, world.animals.len());
    let (dam, father) = (&world.animals[parents.dam], &world.animals[parents.sire]);
    let genes = genes::young(&father.genes, &dam.genes, &mut world.dice.genes);
    let told = parents.credited.map_or(father, |credited| &world.animals[credited]);
    let claims = genes::claims(&genes, (&told.genes, &told.claims), (&dam.genes, &dam.claims));
    let dice = &mut world.dice.young;
    let male = dice.chance(0.5);
    // Mean 55 g (amniote life-history database, Myhrvold et al. 2015); the curve begins at 60.
    let mass = 55.5 + 3.6 * dice.normal();
    let leaves_on = today + dice.whole(62, 190);
    let followed = leaves_on > super::evening();
    let newcomer = Newcomer {
        animal: key,
        code: code.to_owned(),
        name: None,
        male: (!is_sexed_later(today)).then_some(male),
        hatched: today,
        genes: genes::label(&genes, &claims),
        sire: parents.credited,
        dam: Some(parents.dam),
        clutch: Some(clutch.to_owned()),
        tub: format!("H{}-{:02}", key / 20 % 8 + 1, key % 20 + 1),
    };
    let look = genes.look().join(" ");
    let look = if look.is_empty() { "normal".to_owned() } else { look };
    let tub = newcomer.tub.clone();
    world.diary.on(today, minute, What::Added(Box::new(newcomer)));
    world.diary.on(today, minute, What::LooksLike { animal: key, look });
    world.animals.push(Animal {
        code: code.to_owned(),
        male,
        hatched: today,
        gone: false,
        genes,
        claims,
        sire: parents.credited,
        dam: Some(parents.dam),
        tub,
        mass,
        target: mass / 60.0,
        growing: true,
        refusals: 0,
        last_meal: None,
        written_mass: 0,
        weighed_on: None,
        quarantine: false,
        treatment: false,
        sheds_on: None,
        zeal: world.dice.young.between(0.25, 0.5),
        nights: Vec::new(),
        planned: Vec::new(),
        cycle: None,
        leaves_on: Some(leaves_on),
        followed,
    });
    super::weights::weigh(world, key, minute);
}

/// Each autumn two females and a male of the year are kept, the most promising by their looks.
fn keep_the_best(world: &mut World) {
    let today = world.today;
    let mut by_promise: Vec<(usize, Key)> = world
        .present()
        .into_iter()
        .filter(|key| is_of_the_year(&world.animals[*key], today))
        .map(|key| (usize::MAX - promise(&world.animals[key]), key))
        .collect();
    by_promise.sort_unstable();
    for (male, many) in [(false, 2), (true, 1)] {
        let chosen: Vec<Key> = by_promise
            .iter()
            .map(|(_, key)| *key)
            .filter(|key| world.animals[*key].male == male)
            .take(many)
            .collect();
        for key in chosen {
            keep(world, key);
        }
    }
}

fn is_of_the_year(animal: &Animal, today: Day) -> bool {
    animal.leaves_on.is_some() && (40..200).contains(&animal.age(today))
}

fn promise(animal: &Animal) -> usize {
    animal.genes.look().len() * 2 + animal.claims.iter().filter(|c| **c > 0.6).count()
}

fn keep(world: &mut World, key: Key) {
    let today = world.today;
    let letter = if world.animals[key].male { 'M' } else { 'F' };
    let code = next_code(world, letter);
    let minute = 11 * 60 + i32::try_from(key % 50).unwrap_or(0);
    let shelf =
        world.animals.iter().filter(|a| a.dam.is_some() && !a.code.starts_with('C')).count() + 1;
    let tub = format!("R6-{shelf:02}");
    world.diary.on(today, minute, What::Retagged { animal: key, code: code.clone() });
    world.diary.on(today, minute, What::Moved { animal: key, tub: tub.clone() });
    let name = NAMES[(shelf - 1) % NAMES.len()];
    world.diary.on(today, minute, What::Named { animal: key, name });
    let animal = &mut world.animals[key];
    (animal.code, animal.tub, animal.leaves_on, animal.followed) = (code, tub, None, true);
}

/// The next free number: a code is given once.
pub(super) fn next_code(world: &World, letter: char) -> String {
    let number = |code: &str| code.strip_prefix(letter).and_then(|n| n.parse::<u32>().ok());
    let last = world.animals.iter().filter_map(|a| number(&a.code)).max().unwrap_or(0);
    format!("{letter}{:02}", last + 1)
}
