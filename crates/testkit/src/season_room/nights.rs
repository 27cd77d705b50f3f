//! Evenings and mornings of the season: who goes in with whom, and what is seen.
//!
//! The keeper goes by the rules of common practice (no source): five nights a week, two off, rest
//! after a lock, one mating at each of the four sizes; who is larger comes first.

use units::Day;

use super::diary::{Key, Lock, What};
use super::follicles::reckoned;
use super::world::{NightOut, Pair, World, date, weekday};

/// From these sizes on a mating is wanted, mm (our own cuts between 12, 22, 32 and 40 mm).
const BANDS: [f64; 4] = [10.0, 17.0, 27.0, 36.0];
/// Until this day a night is written as a line of a list; from then on taking out is written too.
const WITH_THE_PHONE: (i16, i8, i8) = (2024, 10, 1);
const MOST_PAIRS: usize = 9;
/// For so many days before the last evening the keepers were ill, so that the room is not all
/// served when it is opened, but for these evenings, on which few males were placed.
const ILL_SINCE: i32 = 19;
const WORKED: [i32; 5] = [1, 4, 8, 11, 15];
const MOST_PAIRS_WHEN_ILL: usize = 4;

pub(super) fn evening(world: &mut World) {
    let today = world.today;
    if !is_working_night(today) {
        return;
    }
    let mut wanting: Vec<(i64, Key, usize)> = Vec::new();
    for key in world.present() {
        if let Some((worth, band)) = wanted(world, key) {
            wanting.push((-worth, key, band));
        }
    }
    wanting.sort_unstable();
    let ill = is_ill(today);
    let most = if ill { MOST_PAIRS_WHEN_ILL } else { MOST_PAIRS };
    if today == date(2025, 12, 11) {
        wrong_tub(world, &wanting);
    }
    for (_, female, band) in wanting {
        if world.pairs.len() >= most {
            break;
        }
        let free = |male: &Key| is_free(world, *male);
        if let Some(male) = world.animals[female].planned.iter().copied().find(free) {
            put_in(world, male, female, band);
        }
    }
}

/// A placing written for the wrong tub, and taken back a minute later.
fn wrong_tub(world: &mut World, wanting: &[(i64, Key, usize)]) {
    let male = world.present().into_iter().rfind(|key| world.animals[*key].male);
    let (Some(male), Some((_, female, _))) = (male, wanting.last()) else { return };
    let wrong = What::Placed { male, female: *female, until_noon: false };
    world.diary.at(world.today, 19 * 60 + 20, wrong.clone());
    let why = "wrong tub";
    world.diary.on(world.today, 19 * 60 + 24, What::Retracted { wrong: Box::new(wrong), why });
}

/// Off on Saturdays and Sundays, and while the keeper was ill.
fn is_working_night(today: Day) -> bool {
    let in_season =
        matches!(today.month(), 12 | 1..=5) || (today.month() == 11 && today.day_of_month() > 9);
    let works = !is_ill(today) || WORKED.contains(&super::evening().days_since(today));
    in_season && weekday(today) < 5 && works
}

pub(super) fn is_ill(today: Day) -> bool {
    super::evening().days_since(today) <= ILL_SINCE
}

/// How much a mating is wanted of her tonight, and in which band.
fn wanted(world: &World, key: Key) -> Option<(i64, usize)> {
    let (animal, today) = (&world.animals[key], world.today);
    let cycle = animal.cycle.as_ref()?;
    let waits = animal.quarantine || animal.treatment || animal.sheds_on.is_some();
    if animal.male || waits || animal.written_mass < 1500 || cycle.seen.told || cycle.seen.resorbed
    {
        return None;
    }
    if animal.last_meal == Some(today) || world.pairs.iter().any(|p| p.female == key) {
        return None;
    }
    let size = reckoned(&cycle.seen.checks, today);
    let band = BANDS.iter().rposition(|from| size >= *from)?;
    let (tries, last) = cycle.seen.tries[band];
    // After four nights without a lock she has a week's peace.
    let tired = tries >= 4 && last.is_some_and(|d| today.days_since(d) < 7);
    if cycle.seen.locks[band] > 0 || tired {
        return None;
    }
    #[expect(clippy::cast_possible_truncation, reason = "millimetres")]
    let worth = (size * 10.0) as i64;
    Some((worth, band))
}

fn is_free(world: &World, key: Key) -> bool {
    let (male, today) = (&world.animals[key], world.today);
    let locked = male.nights.iter().rev().find(|n| n.locked).map(|n| today.days_since(n.night));
    let week = male.nights.iter().filter(|n| (1..=7).contains(&today.days_since(n.night))).count();
    !male.gone
        && male.written_mass >= 500
        && !male.quarantine
        && !male.treatment
        && male.sheds_on.is_none()
        && locked.is_none_or(|nights| nights > 2)
        && week < 5
        && !world.pairs.iter().any(|p| p.male == key)
}

fn put_in(world: &mut World, male: Key, female: Key, band: usize) {
    let today = world.today;
    let minute = 19 * 60 + 30 + 4 * i32::try_from(world.pairs.len()).unwrap_or(0);
    let until_noon = today < date(WITH_THE_PHONE.0, WITH_THE_PHONE.1, WITH_THE_PHONE.2);
    world.diary.at(today, minute, What::Placed { male, female, until_noon });
    let zeal = world.animals[male].zeal;
    let Some(cycle) = &mut world.animals[female].cycle else { return };
    let receptive = match cycle.size {
        s if s < 9.0 => 0.2,
        s if s < 16.0 => 0.75,
        _ => 1.0,
    };
    let truly = cycle.ovulated.is_none() && world.dice.nights.chance(zeal * receptive);
    if truly {
        let size = cycle.size;
        cycle.matings.push((today, male, size));
        world.truth.matings.push((today, male, female));
    }
    let (tries, last) = &mut cycle.seen.tries[band];
    if last.is_some_and(|d| today.days_since(d) >= 7) {
        *tries = 0;
    }
    *tries += 1;
    *last = Some(today);
    world.pairs.push(Pair { male, female, night: today, stays_on: false, truly });
}

/// Looks at last night's pairs, writes what is seen, takes the males out.
pub(super) fn morning(world: &mut World) {
    let pairs = std::mem::take(&mut world.pairs);
    for (n, mut pair) in pairs.into_iter().enumerate() {
        let night = world.today - 1;
        let minute = 7 * 60 + 5 + 3 * i32::try_from(n).unwrap_or(0);
        let lock = seen(world, &pair);
        let (male, female) = (pair.male, pair.female);
        world.diary.at(world.today, minute, What::LockLooked { male, female, night, lock });
        note(world, &pair, night, lock);
        let phone = night >= date(WITH_THE_PHONE.0, WITH_THE_PHONE.1, WITH_THE_PHONE.2);
        let may_stay =
            phone && lock == Lock::Seen && night == pair.night && night < super::evening() - 4;
        // On the last morning one pair is still locked and left alone.
        let still = world.today == super::evening() && lock == Lock::Seen && world.pairs.is_empty();
        if still || may_stay && weekday(world.today) < 4 && world.dice.nights.chance(0.12) {
            pair.stays_on = true;
            world.pairs.push(pair);
        } else if phone {
            world.diary.at(world.today, minute + 1, What::TakenOut { male, female });
        }
    }
}

/// Somebody looks on most mornings; a lock is over by morning in some, and left signs in others.
fn seen(world: &mut World, pair: &Pair) -> Lock {
    let dice = &mut world.dice.nights;
    if pair.stays_on {
        return dice.pick(&[Lock::Seen, Lock::Seen, Lock::NoneSeen]);
    }
    let u = dice.unit();
    match pair.truly {
        true if u < 0.72 => Lock::Seen,
        true if u < 0.86 => Lock::Suspected,
        true if u < 0.93 => Lock::NoneSeen,
        false if u < 0.03 => Lock::Suspected,
        false if u < 0.92 => Lock::NoneSeen,
        _ => Lock::NotLooked,
    }
}

fn note(world: &mut World, pair: &Pair, night: Day, lock: Lock) {
    let locked = matches!(lock, Lock::Seen | Lock::Suspected);
    world.animals[pair.male].nights.push(NightOut { night, locked });
    let Some(cycle) = &mut world.animals[pair.female].cycle else { return };
    let size = reckoned(&cycle.seen.checks, night);
    let Some(band) = BANDS.iter().rposition(|from| size >= *from) else { return };
    if lock == Lock::Seen {
        cycle.seen.locks[band] += 1;
        cycle.seen.tries[band] = (0, None);
        cycle.seen.last_lock = Some(pair.male);
    } else if lock == Lock::Suspected {
        cycle.seen.last_lock = cycle.seen.last_lock.or(Some(pair.male));
    }
}
