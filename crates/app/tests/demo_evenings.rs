//! The made-up room lived on: everybody is placed, some mornings are answered, the next evening.

use std::collections::BTreeMap;

use answers::Tonight;
use answers::tonight::{Asking, in_grams};
use records::facts::Placed;
use records::words::Lock;
use records::{AsOf, Colony, Draft, Fact, StayEnd, facts};
use units::{Day, Night, When};

use crate::demo_room::{evening, store};

fn colony(store: &store::Store, day: Day) -> Colony {
    let zone = store.zone().unwrap();
    Colony::fold(&store.standing(), &zone, AsOf::evening_of(day, &zone))
}

fn tonight(colony: &Colony) -> Tonight {
    let carrying = web::Carrying::of(colony);
    let carries = |animal: &records::Animal, wanted: &str| carrying.chance(animal, wanted);
    let asking = Asking { fresh: false, carries: &carries, mass: &in_grams };
    answers::tonight(colony, &answers::RoomForecasts::usual(), &asking)
}

fn on_night(day: Day, fact: Fact) -> Draft {
    let id = store::new_id();
    let when = When::Night(Night::beginning(day));
    Draft { id, when, written: store::now(), who: String::new(), batch: None, source: None, fact }
}

/// Places every move of that evening, and answers every second morning "Not locked, Left together".
fn lived(store: &mut store::Store, day: Day) {
    let colony = colony(store, day);
    let id = |place: usize| colony.animals[place].id;
    for (n, m) in tonight(&colony).moves.iter().enumerate() {
        let (male, female) = (id(m.male), id(m.female));
        let placed = Fact::Placed(Placed { male, female, ends: StayEnd::Open });
        let mut drafts = vec![on_night(day, placed)];
        if n % 2 == 0 {
            let lock = Lock::NoneSeen;
            drafts.push(on_night(
                day,
                Fact::LockLooked(facts::LockLooked {
                    male,
                    female,
                    night: Night::beginning(day),
                    lock,
                }),
            ));
        }
        assert!(store.append(drafts).unwrap().refused.is_empty());
    }
}

#[test]
fn each_male_has_one_instruction_on_the_evenings_after() {
    let (_folder, mut store) = store();
    let mut seen = [0; 3];
    for late in 0..4 {
        let day = evening() + late;
        let colony = colony(&store, day);
        let tonight = tonight(&colony);
        let mut told: BTreeMap<usize, usize> = BTreeMap::new();
        let lists = [&tonight.moves, &tonight.staying, &tonight.left_alone];
        for m in lists.into_iter().flatten() {
            *told.entry(m.male).or_default() += 1;
        }
        for due in tonight.due.iter().filter(|d| d.what == "take out") {
            assert!(due.with.is_some() && due.reason.contains("; "), "{}", due.reason);
            *told.entry(due.animal).or_default() += 1;
        }
        let night = Night::beginning(day);
        for stay in colony.stays.iter().filter(|s| s.night == night && s.placed.is_some()) {
            let told = told.get(&stay.male).copied();
            assert_eq!(told, Some(1), "{} on {day}", colony.code(stay.male));
            let leaves = tonight.moves.iter().find(|m| m.male == stay.male);
            assert!(leaves.is_none_or(|m| m.from == Some(stay.female)));
        }
        assert!(told.values().all(|n| *n == 1), "{told:?}");
        let walks = tonight.moves.iter().filter(|m| m.from.is_some()).count();
        for (all, n) in
            seen.iter_mut().zip([tonight.staying.len(), walks, tonight.coming_out.len()])
        {
            *all += n;
        }
        lived(&mut store, day);
    }
    assert!(seen.iter().all(|n| *n > 0), "stay, go on, come out: {seen:?}");
}

#[test]
fn what_is_due_keeps_its_day_and_a_hatch_its_estimate() {
    let (_folder, store) = store();
    let on = |day: Day| {
        let colony = colony(&store, day);
        let answer = tonight(&colony);
        let kept = ["weigh", "follicle check"];
        let due: BTreeMap<(&str, usize), (Option<Day>, Day)> = answer
            .due
            .iter()
            .filter(|d| kept.contains(&d.what) && d.is_late(day))
            .map(|d| ((d.what, d.animal), (d.since, d.by)))
            .collect();
        let hatches: Vec<_> = answer
            .females
            .iter()
            .filter(|f| f.seen.laying.is_some())
            .filter_map(|f| Some((f.place, f.chain.hatch.clone()?)))
            .collect();
        (due, hatches)
    };
    let (first, hatches) = on(evening());
    let weighed: Day = "2025-11-04".parse().unwrap();
    let f21 = (Some(weighed + 60), weighed + 60);
    assert!(first.iter().any(|((what, _), days)| *what == "weigh" && *days == f21), "{first:?}");
    assert!(first.len() >= 5 && !hatches.is_empty());
    let colony = colony(&store, evening());
    for late in 1..5 {
        let (now, then) = on(evening() + late);
        for (key, days) in &first {
            assert_eq!(now.get(key), Some(days), "{key:?} {}", colony.code(key.1));
        }
        assert_eq!(then, hatches, "{late} days on");
    }
}

/// In need: a mating wanted in one band with .5 and more, and no rule of hers says that it is over.
#[test]
fn whoever_is_in_need_is_listed_so() {
    let (_folder, mut store) = store();
    for late in 0..3 {
        let day = evening() + late;
        let answer = tonight(&colony(&store, day));
        for left in &answer.left_out {
            let wanted = left.facts.iter().filter(|f| f.rule.starts_with("wanted_in_band"));
            let in_need = wanted.filter_map(|f| f.value).any(|share| share >= 0.5);
            assert!(left.in_need || !in_need, "{}", left.reason);
        }
        lived(&mut store, day);
    }
}

/// A size that is more likely still ahead is never passed over, whatever its chance, and no female
/// of whom growing is not the likeliest is said to be building.
#[test]
fn the_next_size_is_named_with_its_chance_and_no_doubt_is_called_building() {
    let (_folder, store) = store();
    for day in (0..30).step_by(5).map(|late| evening() + late) {
        for f in answers::follicles(&colony(&store, day), &answers::RoomForecasts::usual()) {
            let growing = f.state.growing.get();
            let is_less = growing < f.state.stalled.get() || growing < f.state.resorbing.get();
            assert!(f.said() != "building" || !is_less, "{:?}", f.state);
            assert!(f.said() != "stalled" || f.state.stalled.get() >= 0.6);
            let Some(next) = f.next() else { continue };
            let before = f.ahead.iter().take_while(|a| a.milestone != next.milestone);
            assert!(before.into_iter().all(|a| a.passage.passed.get() >= 0.5));
        }
    }
}
