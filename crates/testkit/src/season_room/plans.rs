//! The season's plan: a first male for every female, a second for most.

use units::Day;

use super::diary::{Key, What};
use super::genes::{RECESSIVE, recessive_name};
use super::world::{Animal, World, date};

/// The day on which the season of `today` opened (common practice, no source: 1 November).
pub(super) fn opening(today: Day) -> Day {
    let year = if today.month() >= 11 { today.year() } else { today.year() - 1 };
    date(year, 11, 1)
}

pub(super) fn pass(world: &mut World) {
    if !world.is(11, 1) {
        return;
    }
    let text =
        "Season opens: room 28.3 °C by day and 24.4 °C by night, hot spots 31.1 and 26.7 °C.";
    world.diary.on(world.today, 9 * 60, What::Noted { animal: None, text: text.to_owned() });
    let males: Vec<Key> = breeders(world, true);
    let mut load = vec![0_u32; world.animals.len()];
    for female in breeders(world, false) {
        let mut ranked: Vec<(i64, Key)> = males
            .iter()
            .map(|male| {
                let luck = world.dice.plans.between(0.0, 2.0) - 1.1 * f64::from(load[*male]);
                let worth = worth(&world.animals[*male], &world.animals[female], *male, female);
                #[expect(clippy::cast_possible_truncation, reason = "a few thousand")]
                (-((worth + luck) * 100.0) as i64, *male)
            })
            .collect();
        ranked.sort_unstable();
        let two = world.dice.plans.chance(0.8);
        let chosen: Vec<Key> =
            ranked.into_iter().take(if two { 2 } else { 1 }).map(|r| r.1).collect();
        let weight = world.dice.plans.pick(&[1.0, 1.0, 1.0, 1.0, 1.5, 2.0]);
        write(world, female, &chosen, weight, 9 * 60 + 10);
        if !two && world.dice.plans.chance(0.4) {
            any_carrier(world, female);
        }
        for (n, male) in chosen.iter().enumerate() {
            load[*male] += if n == 0 { 2 } else { 1 };
        }
    }
}

/// A second choice that names a gene instead of a male: one she shows or is known to carry.
fn any_carrier(world: &mut World, female: Key) {
    let animal = &world.animals[female];
    let known = |i: &usize| animal.genes.shows(*i) || animal.claims[*i] > 0.9;
    if let Some(gene) = (0..RECESSIVE).find(known) {
        let gene = recessive_name(gene);
        world.diary.on(world.today, 11 * 60, What::PlannedCarrier { female, gene });
    }
}

fn breeders(world: &World, male: bool) -> Vec<Key> {
    let fits = |key: &Key| {
        let animal = &world.animals[*key];
        animal.male == male && animal.is_breeding_size() && !animal.quarantine
    };
    world.present().into_iter().filter(fits).collect()
}

/// Plans a female with these males, the first choice first.
pub(super) fn write(world: &mut World, female: Key, males: &[Key], weight: f64, minute: i32) {
    for (n, male) in males.iter().enumerate() {
        let first = n == 0;
        let minute = minute + i32::try_from(female).unwrap_or(0);
        let what = What::Planned { female, male: *male, first, weight };
        world.diary.on(world.today, minute, what);
    }
    world.animals[female].planned = males.to_vec();
}

/// What a pair promises: recessives that meet, visible genes together; no close kin, no two
/// cinnamons (two copies do harm).
fn worth(male: &Animal, female: &Animal, male_key: Key, female_key: Key) -> f64 {
    let kin = female.sire == Some(male_key)
        || male.dam == Some(female_key)
        || (male.sire.is_some() && (male.sire == female.sire || male.dam == female.dam));
    if kin || (male.genes.has_cinnamon() && female.genes.has_cinnamon()) {
        return -50.0;
    }
    let known = |a: &Animal, i: usize| a.genes.shows(i) || a.claims[i] > 0.4;
    let meet = (0..RECESSIVE).filter(|i| known(male, *i) && known(female, *i)).count();
    let visible = male.genes.visible_with(&female.genes);
    let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(0));
    2.0 * count(meet) + 0.4 * count(visible)
}
