//! From ovulation to hatching: what happens to her, and what is written of it.
//!
//! About 50 days from ovulation to laying and 60 from laying to hatching (common practice, no
//! source). Eggs: a clutch weighs about a third of the female (Ellis and Chappell 1987), an egg
//! about 94 g (amniote life-history database, Myhrvold et al. 2015), which gives about seven; 81 %
//! of the eggs hatch (Morrill et al. 2011).

use units::Day;

use super::diary::{Key, Laying, What};
use super::dice::Dice;
use super::world::{Eggs, World};
use super::young;

const CLUTCH_SHARE: f64 = 0.285;
/// No clutch takes more of her than this. Our own choice.
const MOST_OF_HER: f64 = 0.33;
const EGG_GRAMS: f64 = 94.0;
/// Slugs and lost eggs of fertile clutches: .92 x .885 = .81 hatch.
const SLUGS: f64 = 0.08;
const LOST: f64 = 0.115;

pub(super) fn pass(world: &mut World) {
    if world.is(1, 1) {
        world.laid_this_year = 0;
    }
    for key in world.present() {
        let Some(cycle) = &world.animals[key].cycle else { continue };
        if cycle.ovulated.is_some() {
            carry(world, key);
        } else if let Some(warmed) = cycle.seen.warmed {
            // Seen on the hot spot for good, some days after it was made warm.
            let after = 2 + i32::try_from(key % 5).unwrap_or(0);
            if world.today == warmed + after {
                world.diary.at(world.today, 20 * 60 + 40, What::Settled { female: key });
            }
        }
    }
    lost_eggs(world);
    let due: Vec<usize> =
        (0..world.eggs.len()).filter(|at| world.eggs[*at].hatches_on == world.today).collect();
    for at in due {
        young::hatch(world, at);
    }
}

fn carry(world: &mut World, key: Key) {
    let today = world.today;
    let Some(cycle) = &mut world.animals[key].cycle else { return };
    let Some(day) = cycle.ovulated else { return };
    if day == today {
        let dice = &mut world.dice.clutches;
        cycle.seen.ovulation_told_on = Some(today + dice.pick(&[0, 0, 0, 0, 1, 1, 2, 3]));
        let shed = today + dice.whole(16, 21);
        cycle.seen.sheds_on = Some(shed);
        cycle.seen.lays_on = Some(shed + dice.whole(26, 33));
        world.truth.ovulations.push((key, today));
    }
    let seen = &mut cycle.seen;
    let tells = seen.ovulation_told_on == Some(today);
    let (sheds, lays) = (seen.sheds_on == Some(today), seen.lays_on == Some(today));
    seen.told |= tells;
    if tells {
        // A swelling seen on the day itself or the next is sure; later it is gathered from her look.
        let what = What::Ovulated { female: key, seen: today.days_since(day) < 2 };
        world.diary.on(today, 18 * 60 - 40, what);
    }
    if sheds {
        world.diary.on(today, 8 * 60 + 5, What::Shed { animal: key, pre_lay: true });
    }
    if lays {
        lay(world, key);
    }
}

/// The clutch of the day, as laid and as written.
fn lay(world: &mut World, key: Key) {
    let today = world.today;
    let (matings, credited) = match &world.animals[key].cycle {
        Some(cycle) => (cycle.matings.clone(), cycle.seen.last_lock),
        None => return,
    };
    let before = world.animals[key].mass;
    let dice = &mut world.dice.clutches;
    let most = count(before * MOST_OF_HER / EGG_GRAMS).min(13);
    let eggs = count(before * CLUTCH_SHARE / EGG_GRAMS + 1.1 * dice.normal()).clamp(3, most);
    let sire = sire(&matings, dice);
    let slugs = if sire.is_none() { eggs } else { drawn(eggs, SLUGS, dice) };
    let lost = drawn(eggs - slugs, LOST, dice);
    let good = eggs - slugs - lost;
    let mass: f64 = (0..eggs).map(|n| egg_mass(n < slugs, dice)).sum();
    let (number, hatches_on) = (world.clutches, today + dice.whole(56, 63));
    let lost_on = today + dice.whole(14, 48);
    world.clutches += 1;
    world.laid_this_year += 1;
    let code = format!("C{:02}-{:02}", today.year() % 100, world.laid_this_year);
    let credited = credited.filter(|_| sire.is_some());
    let laying = Laying {
        female: key,
        sire: credited,
        code: code.clone(),
        eggs,
        slugs,
        in_incubator: good > 0,
        grams: u32::from(count(mass)),
    };
    world.diary.on(today, 8 * 60 + 20, What::Laid { clutch: number, laying });
    tell_where(world, key, &code, good);
    world.truth.sires.push((code.clone(), sire));
    world.animals[key].mass = before - mass * 1.02;
    // She is offered food again like any other, however often she refused before.
    world.animals[key].refusals = 0;
    super::growth::close(world, key);
    world.eggs.push(Eggs {
        number,
        code,
        dam: key,
        credited,
        sire,
        good,
        lost,
        lost_on,
        hatches_on,
    });
}

fn tell_where(world: &mut World, key: Key, code: &str, good: u16) {
    let text = if good == 0 {
        format!("{code}: all slugs, thrown away.")
    } else {
        let box_number = world.clutches % 6 + 1;
        let incubator = world.clutches % 2 + 1;
        format!("{code}: incubator {incubator}, box {box_number}, 31.2 °C. She is off the eggs.")
    };
    world.diary.on(world.today, 8 * 60 + 26, What::Noted { animal: Some(key), text });
}

fn lost_eggs(world: &mut World) {
    let today = world.today;
    let gone = world.eggs.iter().filter(|e| e.lost > 0 && e.lost_on == today);
    let told: Vec<(Key, String)> = gone
        .map(|eggs| {
            let many =
                if eggs.lost == 1 { "one egg".to_owned() } else { format!("{} eggs", eggs.lost) };
            (eggs.dam, format!("{}: {many} sunken and mouldy, taken out.", eggs.code))
        })
        .collect();
    for (dam, text) in told {
        world.diary.on(today, 8 * 60 + 50, What::Noted { animal: Some(dam), text });
    }
}

/// The true sire: mostly the last to mate once follicles are well grown, otherwise one before.
fn sire(matings: &[(Day, Key, f64)], dice: &mut Dice) -> Option<Key> {
    let mut able: Vec<Key> = matings.iter().filter(|m| m.2 >= 18.0).map(|m| m.1).collect();
    if able.is_empty() {
        able = matings.iter().map(|m| m.1).collect();
    }
    let last = able.last().copied()?;
    Some(if dice.chance(0.75) { last } else { dice.pick(&able) })
}

fn egg_mass(is_slug: bool, dice: &mut Dice) -> f64 {
    let mass = EGG_GRAMS - 2.0 + 7.0 * dice.normal();
    if is_slug { mass * 0.6 } else { mass }
}

/// How many of `n` fall to a chance of `p` each.
fn drawn(n: u16, p: f64, dice: &mut Dice) -> u16 {
    u16::try_from((0..n).filter(|_| dice.chance(p)).count()).unwrap_or(0)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "below ten thousand")]
fn count(value: f64) -> u16 {
    (value.max(0.0) + 0.5) as u16
}
