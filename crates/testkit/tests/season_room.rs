//! The made-up room over several seeds: published numbers, rules of thumb, truth beside records.

use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::LazyLock;

use testkit::season_room::{Event, Happened, Key, Laying, Lock, SeasonRoom, What, evening, room};
use units::Day;

static ROOMS: LazyLock<Vec<SeasonRoom>> = LazyLock::new(|| (1..=3).map(room).collect());

fn rooms() -> &'static [SeasonRoom] {
    &ROOMS
}

fn day(event: &Event) -> Day {
    match event.happened {
        Happened::Undated => event.written.day,
        Happened::On(day) => day,
        Happened::At(moment) => moment.day,
    }
}

fn layings(room: &SeasonRoom) -> BTreeMap<usize, (Day, Laying)> {
    let laid = |e: &Event| match &e.what {
        What::Laid { clutch, laying } => Some((*clutch, (day(e), laying.clone()))),
        _ => None,
    };
    room.events.iter().filter_map(laid).collect()
}

/// Hatching day and hatchlings of each clutch.
fn hatchings(room: &SeasonRoom) -> BTreeMap<usize, (Day, u16)> {
    let hatched = |e: &Event| match e.what {
        What::HatchedOut { clutch, hatchlings } => Some((clutch, (day(e), hatchlings))),
        _ => None,
    };
    room.events.iter().filter_map(hatched).collect()
}

#[test]
fn a_seed_gives_one_room_written_in_order_and_never_ahead_of_time() {
    let (a, b) = (room(1), room(1));
    assert_eq!(a.events, b.events);
    assert!(a.events.is_sorted_by_key(|e| e.written));
    for event in &a.events {
        assert!(day(event) <= event.written.day, "{event:?}");
        assert!(event.written.day < evening() || event.written.minute <= 18 * 60, "{event:?}");
    }
}

/// 5,344 eggs in 783 clutches, 81 % hatched: Morrill et al. 2011, Herpetological Review 42:226-231.
#[test]
fn clutches_are_as_large_and_hatch_as_often_as_published() {
    let (mut clutches, mut eggs, mut out) = (0.0, 0.0, 0.0);
    for room in rooms() {
        let hatched = hatchings(room);
        for (number, (laid, laying)) in layings(room) {
            if evening().days_since(laid) > 75 {
                clutches += 1.0;
                eggs += f64::from(laying.eggs);
                out += hatched.get(&number).map_or(0.0, |(_, n)| f64::from(*n));
            }
        }
    }
    assert!(clutches > 180.0, "{clutches}");
    assert!((eggs / clutches - 6.825).abs() < 0.4, "{} eggs", eggs / clutches);
    assert!((out / eggs - 0.81).abs() < 0.03, "{} hatched", out / eggs);
}

/// About 50 days from ovulation to laying, 60 to hatching (common practice, no source).
#[test]
fn eggs_take_as_long_as_keepers_say() {
    for room in rooms() {
        let hatched = hatchings(room);
        for (number, (laid, laying)) in layings(room) {
            let own = room.truth.ovulations.iter().filter(|(female, _)| *female == laying.female);
            let carried = own.map(|(_, on)| laid.days_since(*on)).filter(|n| *n > 0).min().unwrap();
            assert!((40..=58).contains(&carried), "{} carried {carried} days", laying.code);
            if let Some((out, _)) = hatched.get(&number) {
                let lain = out.days_since(laid);
                assert!((55..=70).contains(&lain), "{} lay {lain} days", laying.code);
            }
        }
    }
}

/// Ovulation at 40-45 mm, growth of 1-3 mm a week (common practice, no source).
#[test]
fn true_follicles_grow_and_ovulate_as_keepers_say() {
    let mut ovulated = 0;
    for room in rooms() {
        for truth in &room.truth.follicles {
            let last = f64::from(*truth.tenths.last().unwrap()) / 10.0;
            let on = truth.from + i32::try_from(truth.tenths.len()).unwrap() - 1;
            if room.truth.ovulations.contains(&(truth.female, on)) {
                ovulated += 1;
                assert!((39.0..=47.0).contains(&last), "ovulated at {last} mm");
            }
            for week in truth.tenths.windows(8) {
                assert!(week[7].saturating_sub(week[0]) <= 31, "{week:?}");
            }
        }
    }
    assert!(ovulated > 180, "{ovulated}");
}

#[test]
fn the_true_sire_was_with_her_and_is_mostly_but_not_always_the_credited_one() {
    let (mut right, mut all) = (0, 0);
    for room in rooms() {
        let sires: HashMap<&str, Option<Key>> =
            room.truth.sires.iter().map(|(code, sire)| (code.as_str(), *sire)).collect();
        for (laid, laying) in layings(room).into_values() {
            let Some(sire) = sires[laying.code.as_str()] else {
                assert_eq!(laying.slugs, laying.eggs, "{} has no sire", laying.code);
                continue;
            };
            let mated = room.truth.matings.iter().any(|(night, male, female)| {
                (*male, *female) == (sire, laying.female)
                    && (0..330).contains(&laid.days_since(*night))
            });
            assert!(mated, "{}", laying.code);
            all += 1;
            right += i32::from(laying.sire == Some(sire));
        }
    }
    assert!(right * 10 > all * 6 && right < all, "{right} of {all}");
}

/// Five nights a week, two nights of rest after a lock, one tub a night (common practice, no
/// source), and nobody below 500 g or 1,500 g: Morrill et al. 2011 bred above these.
#[test]
fn the_keepers_break_no_rule() {
    for room in rooms() {
        let withdrawn: HashSet<usize> = withdrawn(&room.events);
        let mut nights: HashMap<Key, Vec<Day>> = HashMap::new();
        let mut locks: HashMap<Key, Day> = HashMap::new();
        let mut mass: HashMap<Key, u32> = HashMap::new();
        let mut together: HashSet<(Day, Key)> = HashSet::new();
        for (n, event) in room.events.iter().enumerate() {
            match &event.what {
                What::Weighed { animal, grams } => {
                    mass.insert(*animal, *grams);
                }
                What::Corrected { right, .. } => {
                    if let What::Weighed { animal, grams } = **right {
                        mass.insert(animal, grams);
                    }
                }
                What::LockLooked { male, night, lock, .. } => {
                    let own = nights.entry(*male).or_default();
                    if !own.contains(night) {
                        own.push(*night);
                    }
                    if matches!(lock, Lock::Seen | Lock::Suspected) {
                        locks.insert(*male, *night);
                    }
                }
                What::Placed { male, female, .. } if !withdrawn.contains(&n) => {
                    let tonight = day(event);
                    assert!(mass[male] >= 500 && mass[female] >= 1500, "{event:?}");
                    let own = nights.entry(*male).or_default();
                    let week = own.iter().filter(|d| (1..=7).contains(&tonight.days_since(**d)));
                    assert!(week.count() < 5, "{event:?}");
                    assert!(
                        locks.get(male).is_none_or(|l| tonight.days_since(*l) > 2),
                        "{event:?}"
                    );
                    assert!(together.insert((tonight, *male)), "{event:?}");
                    assert!(together.insert((tonight, *female)), "{event:?}");
                }
                _ => {}
            }
        }
    }
}

/// Places of the events that a later one withdraws.
fn withdrawn(events: &[Event]) -> HashSet<usize> {
    let said = |what: &What, before: usize| events[..before].iter().rposition(|e| e.what == *what);
    let of = |(n, event): (usize, &Event)| match &event.what {
        What::Retracted { wrong, .. } => said(wrong, n),
        _ => None,
    };
    events.iter().enumerate().filter_map(of).collect()
}

/// About 55 g at hatching (Myhrvold et al. 2015, amniote life-history database) and at least four
/// times that a year later (Ellis and Chappell 1987).
#[test]
fn hatchlings_weigh_and_grow_as_published() {
    for room in rooms() {
        let mut hatched: HashMap<Key, Day> = HashMap::new();
        let (mut first, mut grown) = (Vec::new(), 0);
        for event in &room.events {
            match &event.what {
                What::Added(newcomer) if newcomer.dam.is_some() => {
                    hatched.insert(newcomer.animal, newcomer.hatched);
                }
                What::Weighed { animal, grams } => {
                    let age = hatched.get(animal).map(|h| day(event).days_since(*h));
                    if age == Some(0) {
                        first.push(f64::from(*grams));
                    }
                    if age.is_some_and(|age| (350..400).contains(&age)) {
                        grown += 1;
                        assert!(*grams >= 220, "{event:?}");
                    }
                }
                _ => {}
            }
        }
        let n = f64::from(u32::try_from(first.len()).unwrap());
        assert!((first.iter().sum::<f64>() / n - 55.0).abs() < 1.5);
        assert!(first.iter().all(|g| (40.0..=72.0).contains(g)));
        assert!(grown >= 6, "{grown} weights of yearlings");
    }
}
