//! Follicle checks: who is due, by scan or by hand, and what the keeper makes of it.

use units::Day;

use super::diary::{Key, What};
use super::dice::Dice;
use super::nights;
use super::world::{World, weekday};

const WEDNESDAY: i32 = 2;
const SUNDAY: i32 = 6;

/// Upper edges of what is felt, mm, the word, and the size the keeper takes it for: halfway
/// between the sizes of common practice (no source).
const FELT: [(f64, &str, f64); 4] = [
    (17.0, "pea", 12.0),
    (27.0, "marble to ping-pong", 22.0),
    (36.0, "hen egg", 32.0),
    (99.0, "python egg", 40.0),
];
/// Below this nothing is felt, mm.
const NOTHING_BELOW: f64 = 9.0;

pub(super) fn pass(world: &mut World) {
    let today = weekday(world.today);
    if today != WEDNESDAY && today != SUNDAY {
        return;
    }
    // One evening's scans err together: the same machine, the same hand.
    let shared = 0.7 * world.dice.checks.normal();
    let skipped = if nights::is_ill(world.today) { 0.3 } else { 0.1 };
    for key in world.present() {
        if is_due(world, key) && !world.dice.checks.chance(skipped) {
            check(world, key, shared);
        }
    }
}

fn is_due(world: &World, key: Key) -> bool {
    let (animal, today) = (&world.animals[key], world.today);
    let Some(cycle) = &animal.cycle else { return false };
    let rested = animal.quarantine || animal.treatment || animal.sheds_on.is_some();
    if animal.male || rested || animal.written_mass < 1500 || cycle.ovulated.is_some() {
        return false;
    }
    if cycle.seen.resorbed || !(in_months(today)) {
        return false;
    }
    let Some((last, size)) = cycle.seen.checks.last() else {
        let opens = super::plans::opening(today);
        return today.days_since(opens) >= 3 + i32::try_from(key % 14).unwrap_or(0);
    };
    let every = match *size {
        s if s < 9.0 => 25,
        s if s < 34.0 => 13,
        _ => 6,
    };
    // Who still rests in spring is left until autumn.
    let late = matches!(today.month(), 4..=6) && *size < 9.0;
    !late && today.days_since(*last) >= every
}

fn in_months(today: Day) -> bool {
    matches!(today.month(), 11 | 12 | 1..=6)
}

fn check(world: &mut World, key: Key, shared: f64) {
    let today = world.today;
    let minute = 14 * 60 + i32::try_from(key * 4 % 150).unwrap_or(0);
    let dice = &mut world.dice.checks;
    let Some(cycle) = &mut world.animals[key].cycle else { return };
    let (what, taken) = if dice.chance(0.74) {
        scan(cycle.size, shared, key, dice)
    } else {
        felt(cycle.size, key, dice)
    };
    let before = cycle.seen.checks.iter().map(|(_, size)| *size).fold(0.0, f64::max);
    cycle.seen.checks.push((today, taken));
    let gone_back = before >= 15.0 && taken <= 10.0;
    let matings = cycle.seen.locks.iter().filter(|n| **n > 0).count();
    let warm = taken >= 37.5 && matings >= 2 && cycle.seen.warmed.is_none();
    cycle.seen.resorbed = gone_back;
    if warm {
        cycle.seen.warmed = Some(today);
    }
    world.diary.on(today, minute, what);
    if gone_back {
        world.diary.on(today, minute + 2, What::Resorbed { female: key });
    }
    if warm {
        world.diary.on(today, 20 * 60 + 20, What::WarmedUp { female: key });
    }
}

/// Two or three follicles, largest first, to the half millimetre. A scan in fifteen is well off.
fn scan(size: f64, shared: f64, female: Key, dice: &mut Dice) -> (What, f64) {
    let gross = if dice.chance(0.06) { 2.5 } else { 1.0 };
    let largest = size + shared + 0.9 * gross * dice.normal();
    let mut sizes = vec![largest];
    for _ in 0..dice.whole(0, 2) {
        let smaller = sizes.last().copied().unwrap_or(largest) - dice.between(0.0, 1.6);
        sizes.push(smaller);
    }
    let tenths: Vec<u16> = sizes.into_iter().map(half_millimetres).collect();
    let taken = f64::from(tenths[0]) / 10.0;
    (What::Scanned { female, tenths }, taken)
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "3 to 60 mm")]
fn half_millimetres(size: f64) -> u16 {
    (size.max(3.0) * 2.0 + 0.5) as u16 * 5
}

fn felt(size: f64, female: Key, dice: &mut Dice) -> (What, f64) {
    let under_the_thumb = size + 1.8 * dice.normal();
    if under_the_thumb < NOTHING_BELOW {
        return (What::NothingFelt { female }, 0.0);
    }
    let class = FELT.iter().find(|(edge, ..)| under_the_thumb < *edge).unwrap_or(&FELT[3]);
    (What::Felt { female, word: class.1 }, class.2)
}

/// The size the keeper reckons with tonight: the last check and two millimetres a week since,
/// unless the last two checks stand still. 0 where nothing is known.
pub(super) fn reckoned(checks: &[(Day, f64)], today: Day) -> f64 {
    let Some((day, size)) = checks.last() else { return 0.0 };
    let still = checks.len() >= 2 && {
        let (before, earlier) = checks[checks.len() - 2];
        day.days_since(before) >= 10 && size - earlier < 1.0
    };
    if *size < 9.0 || still {
        return *size;
    }
    (size + 0.27 * f64::from(today.days_since(*day))).min(44.0)
}
