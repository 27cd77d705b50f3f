//! Random rooms: no animal twice, no rule broken, nothing better by trying, every fact true.

use proptest::prelude::*;
use schedule::{
    Choice, Fact, Female, Follicles, Keeping, LockOutcome, Male, NightTogether, PastNight, Plan,
    PlannedPair, Room, Rule, Rules, Size, Stay, StayState, Subject, Value, Weighing, next_free,
    tonight,
};
use units::{Grams, Probability};

use crate::oracle::{
    allowed, best_by_trying, closing, free_again, greedy, lock_rate, matrix, outgrows_in_a_week,
    plan_weight, wanted, worth,
};

fn chance() -> impl Strategy<Value = Probability> {
    prop_oneof![Just(0.0), Just(1.0), 0.0..=1.0].prop_map(Probability::clamped)
}

fn in_band() -> impl Strategy<Value = [Probability; 4]> {
    // Mostly in one band, as a check leaves it.
    (0usize..4, 0.3f64..1.0, 0.0f64..1.0).prop_map(|(k, main, share)| {
        let mut bands = [0.0; 4];
        bands[k] = main;
        bands[(k + 1) % 4] += (1.0 - main) * share;
        bands.map(Probability::clamped)
    })
}

fn lock() -> impl Strategy<Value = LockOutcome> {
    use LockOutcome::{NoneSeen, NotLooked, Seen, Suspected};
    prop_oneof![Just(Seen), Just(Suspected), Just(NoneSeen), Just(NotLooked)]
}

fn rarely() -> impl Strategy<Value = bool> {
    prop::bool::weighted(0.1)
}

fn keeping(least: i32) -> impl Strategy<Value = Keeping> {
    let mass = (least * 10 - 3..least * 10 + 20).prop_map(Grams::from_steps);
    let weight = prop::option::weighted(0.95, (mass, 50u32..70))
        .prop_map(|w| w.map(|(mass, age_days)| Weighing { mass, age_days }));
    (prop::bool::weighted(0.95), rarely(), rarely(), weight).prop_map(
        |(in_house, quarantine, treatment, weight)| Keeping {
            in_house,
            quarantine,
            treatment,
            weight,
        },
    )
}

fn size() -> impl Strategy<Value = Size> {
    let night = (in_band(), lock()).prop_map(|(in_band, lock)| NightTogether { in_band, lock });
    let leaves = prop::collection::vec(prop::array::uniform4(chance()), 0..9);
    let followed = (in_band(), leaves, prop::collection::vec(night, 0..4)).prop_map(
        |(in_band, leaves, nights)| Size::Followed(Follicles { in_band, leaves, nights }),
    );
    let unchecked = prop::option::of(28u32..32)
        .prop_map(|nights_since_placed| Size::Unchecked { nights_since_placed });
    prop_oneof![5 => followed, 1 => unchecked]
}

fn female() -> impl Strategy<Value = Female> {
    let flags = (rarely(), rarely(), any::<bool>(), rarely());
    (keeping(1500), size(), flags, 0.0f64..0.9).prop_map(
        |(keeping, size, (ovulated, laid_this_season, second_clutch, in_shed), r)| Female {
            keeping,
            ovulated,
            resorbing: Probability::clamped(r),
            laid_this_season,
            second_clutch,
            in_shed,
            size,
        },
    )
}

fn male() -> impl Strategy<Value = Male> {
    let night = (1u32..12, lock()).prop_map(|(ago, lock)| PastNight { ago, lock });
    let opening = prop::option::of((5000i32..6000).prop_map(Grams::from_steps));
    (keeping(500), opening, rarely(), prop::collection::vec(night, 0..6)).prop_map(
        |(keeping, weight_at_opening, in_blue, nights)| Male {
            keeping,
            weight_at_opening,
            in_blue,
            nights,
        },
    )
}

fn room() -> impl Strategy<Value = Room> {
    (1usize..7, 1usize..6).prop_flat_map(|(f, m)| {
        let choice = prop_oneof![Just(Choice::First), Just(Choice::Second)];
        // One index past the end now and then: it must be passed over.
        let planned = (0..f, prop::collection::vec(0..=m, 0..3), choice, 0.0f64..2.0).prop_map(
            |(female, males, choice, weight)| PlannedPair { female, males, choice, weight },
        );
        let state = prop_oneof![
            Just(StayState::Tonight),
            Just(StayState::StillLocked { nights: 1 }),
            Just(StayState::LeftTogether { nights: 1 }),
        ];
        let stay =
            (0..m, 0..f, state).prop_map(|(male, female, state)| Stay { male, female, state });
        (
            prop::collection::vec(female(), f),
            prop::collection::vec(male(), m),
            prop::collection::vec(planned, 0..=2 * f),
            prop::collection::vec(stay, 0..2),
            prop::collection::vec((0..m, 0..f), 0..2),
        )
            .prop_map(|(females, males, planned, stays, ruled_out)| Room {
                females,
                males,
                planned,
                stays,
                ruled_out,
            })
    })
}

fn each_animal_once(room: &Room, plan: &Plan) -> Result<(), TestCaseError> {
    let (mut males, mut females) = (vec![0; room.males.len()], vec![0; room.females.len()]);
    for m in plan.moves.iter().chain(&plan.done).chain(&plan.left_alone).chain(&plan.staying) {
        males[m.male] += 1;
        females[m.female] += 1;
    }
    prop_assert!(males.iter().all(|&n| n <= 1), "{males:?}");
    for out in &plan.left_out {
        females[out.female] += 1;
    }
    prop_assert!(females.iter().all(|&n| n == 1), "placed or left out, never both: {females:?}");
    Ok(())
}

/// Whether a fact is true, found again from the room alone.
fn is_true(room: &Room, fact: &Fact) -> bool {
    match fact.about {
        Subject::Male(i) => of_male(room, fact, i),
        Subject::Female(j) => of_female(room, fact, j),
        Subject::Pair { male, female } => of_pair(room, fact, male, female),
    }
}

fn share(fact: &Fact, found: f64) -> bool {
    matches!(fact.value, Value::Share(s) if (s.get() - found.clamp(0.0, 1.0)).abs() < 1e-9)
}

fn limit(fact: &Fact, expected: f64) -> bool {
    fact.limit.and_then(Value::number) == Some(expected)
}

fn of_keeping(fact: &Fact, keeping: &Keeping) -> Option<bool> {
    Some(match fact.rule {
        Rule::NotInHouse => !keeping.in_house,
        Rule::Quarantine => keeping.quarantine,
        Rule::Treatment => keeping.treatment,
        Rule::WeightAge => {
            let age = keeping.weight.unwrap().age_days;
            fact.value == Value::Days(age) && age > 60 && limit(fact, 60.0)
        }
        _ => return None,
    })
}

fn of_male(room: &Room, fact: &Fact, i: usize) -> bool {
    let male = &room.males[i];
    of_keeping(fact, &male.keeping).unwrap_or_else(|| match fact.rule {
        Rule::MaleWeight => fact.value == mass(&male.keeping) && limit(fact, 500.0),
        Rule::MaleLoss => {
            let then = male.weight_at_opening.unwrap().get();
            share(fact, 1.0 - male.keeping.weight.unwrap().mass.get() / then) && limit(fact, 0.12)
        }
        Rule::InBlue => male.in_blue,
        Rule::NightsPlaced => {
            let nights = (1..=7).filter(|ago| male.nights.iter().any(|n| n.ago == *ago)).count();
            let nights = u32::try_from(nights).unwrap();
            fact.value == Value::NightsOf { nights, window: 7 } && limit(fact, 5.0)
        }
        Rule::RestAfterLock => {
            let locked =
                |n: &&PastNight| matches!(n.lock, LockOutcome::Seen | LockOutcome::Suspected);
            let ago = male.nights.iter().filter(locked).map(|n| n.ago).min().unwrap();
            fact.value == Value::Nights(ago) && limit(fact, 2.0)
        }
        Rule::LockRate | Rule::Suggestion => share(fact, lock_rate(room, i)),
        Rule::FreeAgain => {
            let nights = |n: Option<i64>| n.map(|n| Value::Nights(u32::try_from(n).unwrap()));
            [true, false].iter().any(|t| nights(free_again(male, *t)) == Some(fact.value))
        }
        other => panic!("{other:?} is not about a male"),
    })
}

fn of_female(room: &Room, fact: &Fact, j: usize) -> bool {
    let female = &room.females[j];
    let wanted = wanted(female);
    let in_band = |k: usize| match &female.size {
        Size::Followed(f) => f.in_band[k].get(),
        Size::Unchecked { .. } => panic!("no band without a check"),
    };
    of_keeping(fact, &female.keeping).unwrap_or_else(|| match fact.rule {
        Rule::FemaleWeight => fact.value == mass(&female.keeping) && limit(fact, 1500.0),
        Rule::Ovulated => female.ovulated,
        Rule::LaidThisSeason => female.laid_this_season && !female.second_clutch,
        Rule::Resorbing => fact.value == Value::Share(female.resorbing) && limit(fact, 0.8),
        Rule::InShed => female.in_shed && share(fact, outgrows_in_a_week(female)),
        Rule::MatingWanted => share(fact, wanted.unwrap().iter().sum()) && limit(fact, 0.5),
        Rule::WantedIn(k) => share(fact, wanted.unwrap()[k]) && limit(fact, 0.5),
        Rule::InBand(k) => share(fact, in_band(k)),
        // wanted(k) = in band x (1 - mated(k)), so mated follows where she may be in the band.
        Rule::MatedIn(k) => in_band(k) == 0.0 || share(fact, 1.0 - wanted.unwrap()[k] / in_band(k)),
        Rule::UncheckedTurn => match (&female.size, fact.value) {
            (Size::Unchecked { nights_since_placed: None }, value) => value == Value::Unknown,
            (Size::Unchecked { nights_since_placed: Some(n) }, value) => {
                value == Value::Nights(*n) && limit(fact, 30.0)
            }
            _ => false,
        },
        Rule::CheckDue => wanted.is_none(),
        Rule::NoPlannedPair => room.planned.iter().all(|p| p.female != j),
        Rule::NoMaleFits => {
            let named = room.planned.iter().filter(|p| p.female == j);
            named.flat_map(|p| &p.males).all(|&i| i >= room.males.len())
        }
        other => panic!("{other:?} is not about a female"),
    })
}

fn of_pair(room: &Room, fact: &Fact, male: usize, female: usize) -> bool {
    let stays = |wanted: fn(StayState) -> bool| {
        room.stays.iter().any(|s| (s.male, s.female) == (male, female) && wanted(s.state))
    };
    let number = |found: f64| (fact.value.number().unwrap() - found).abs() < 1e-9;
    match fact.rule {
        Rule::PlannedPair => number(plan_weight(room, male, female)),
        Rule::Worth | Rule::WorthMore => number(worth(room, male, female)),
        Rule::Closing => share(fact, closing(room, male, female).unwrap()),
        Rule::RuledOut => room.ruled_out.contains(&(male, female)),
        Rule::PlacedTonight => stays(|s| s == StayState::Tonight),
        Rule::StillLocked => stays(|s| matches!(s, StayState::StillLocked { .. })),
        Rule::PairNotPlanned => {
            let mut hers = room.planned.iter().filter(|p| p.female == female);
            hers.all(|p| !p.males.contains(&male))
        }
        Rule::OtherMale => {
            let plan = tonight(room, &Rules::default());
            plan.moves.iter().any(|m| (m.male, m.female) == (male, female))
        }
        Rule::LeftTogether | Rule::NightsTogether => {
            stays(|s| matches!(s, StayState::LeftTogether { .. }))
        }
        other => panic!("{other:?} is not about a pair"),
    }
}

fn mass(keeping: &Keeping) -> Value {
    keeping.weight.map_or(Value::Unknown, |w| Value::Mass(w.mass))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1500))]

    #[test]
    fn the_night_is_lawful_and_best(room in room()) {
        let plan = tonight(&room, &Rules::default());
        each_animal_once(&room, &plan)?;
        for m in plan.moves.iter().chain(&plan.staying) {
            prop_assert!(allowed(&room, m.male, m.female), "{m:?}");
            prop_assert!(m.facts.iter().all(Fact::is_met), "{:?}", m.facts);
        }
        let matrix = matrix(&room);
        let (rows, columns) = (room.males.len(), room.females.len());
        let best = best_by_trying(rows, columns, &matrix);
        prop_assert!((plan.worth - best).abs() < 1e-9, "{} against {best}", plan.worth);
        prop_assert!(plan.worth >= greedy(rows, columns, &matrix).0 - 1e-9);
    }

    #[test]
    fn every_fact_can_be_found_again(room in room()) {
        let plan = tonight(&room, &Rules::default());
        let stays = plan.left_alone.iter().chain(&plan.staying).chain(&plan.coming_out);
        let moves = plan.moves.iter().chain(&plan.done).chain(stays).map(|m| &m.facts);
        for fact in moves.chain(plan.left_out.iter().map(|o| &o.facts)).flatten() {
            prop_assert!(is_true(&room, fact), "{fact:?}");
        }
        for stay in room.stays.iter().filter(|s| s.is_left_together()) {
            let own = |m: &&schedule::Move| m.male == stay.male;
            let told = [&plan.staying, &plan.moves, &plan.coming_out].map(|l| l.iter().filter(own).count());
            prop_assert_eq!(told.iter().sum::<usize>(), 1, "one instruction: {:?}", told);
            prop_assert!(plan.moves.iter().filter(own).all(|m| m.from == Some(stay.female)));
        }
        for out in &plan.left_out {
            let unmet = out.facts.iter().any(|f| !f.is_met());
            let elsewhere = out.facts.iter().any(|f| {
                matches!(f.rule, Rule::WorthMore | Rule::PlacedTonight | Rule::StillLocked)
            });
            prop_assert!(unmet || elsewhere, "left out for no reason: {out:?}");
            for fact in out.facts.iter().filter(|f| f.rule == Rule::WorthMore) {
                prop_assert!(fact.is_met(), "worth more elsewhere, but is not: {fact:?}");
            }
        }
    }

    #[test]
    fn the_next_free_night_is_the_first_with_a_turn(male in male(), tonight: bool) {
        let found = next_free(&male, &Rules::default(), tonight);
        prop_assert_eq!(found.map(i64::from), free_again(&male, tonight));
    }

    #[test]
    fn the_order_of_plans_and_stays_changes_nothing(room in room()) {
        let mut turned = room.clone();
        turned.planned.reverse();
        turned.ruled_out.reverse();
        let pairs = |r: &Room| -> Vec<_> {
            let plan = tonight(r, &Rules::default());
            plan.moves.iter().chain(&plan.staying).map(|m| (m.male, m.female)).collect()
        };
        prop_assert_eq!(pairs(&room), pairs(&turned));
    }
}
