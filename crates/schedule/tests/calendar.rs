//! What is due, at the day it falls due.

use schedule::due::{
    Cycle, DueRules, Event, What, follicle_check, overdue, take_out, warm_up, weighing_list,
};
use schedule::{Rule, Rules, Stay, StayState, Subject, Value, tonight};

use crate::rooms::{bands, female, followed, male, p, pair, weighing};

#[test]
fn a_check_falls_due_when_its_interval_is_full() {
    let rules = DueRules::default();
    for (cycle, every) in
        [(Cycle::Resting, 28), (Cycle::Growing, 14), (Cycle::Stalled, 21), (Cycle::LastBand, 7)]
    {
        assert_eq!(follicle_check(0, cycle, Some(every - 1), None, &rules), None, "{cycle:?}");
        let due = follicle_check(0, cycle, Some(every), None, &rules).unwrap();
        assert_eq!((due.since, due.by), (Some(0), 0));
        let late = follicle_check(0, cycle, Some(every + 3), None, &rules).unwrap();
        assert_eq!((late.since, late.by), (Some(-3), -3));
        assert!(follicle_check(0, cycle, None, None, &rules).is_some(), "no date of a check");
    }
    assert!(follicle_check(0, Cycle::Unchecked, None, None, &rules).is_some());
    assert_eq!(follicle_check(0, Cycle::Closed, Some(500), None, &rules), None);
}

/// Common practice, no source: growth is 1-3 mm a week, so no band may go by between two checks.
#[test]
fn no_band_is_outgrown_between_two_checks_of_a_growing_female() {
    let from = Rules::default().band_from.map(|m| m.get());
    let narrowest = from.windows(2).map(|w| w[1] - w[0]).fold(f64::INFINITY, f64::min);
    let fastest = 3.0 / 7.0 * f64::from(DueRules::default().check_growing);
    assert!(fastest < narrowest, "{fastest} mm in a band of {narrowest} mm");
}

/// Common practice, no source: over 40 mm with several matings she is warmed up.
#[test]
fn warmed_up_over_the_last_size_with_several_matings() {
    let rules = DueRules::default();
    let due = |over, mated| warm_up(0, p(over), &bands(mated), &rules).is_some();
    assert!(due(0.5, [1.0, 0.5, 0.5, 0.0]));
    assert!(!due(0.49, [1.0, 0.5, 0.5, 0.0]));
    assert!(!due(0.5, [1.0, 0.5, 0.4, 0.0]));
}

#[test]
fn a_date_is_overdue_the_day_after_and_a_vet_is_named_after_two_weeks() {
    let rules = DueRules::default();
    assert_eq!(overdue(0, Event::Laying, 0, &rules), None);
    let due = overdue(0, Event::Laying, -1, &rules).unwrap();
    assert_eq!((due.what, due.since), (What::Overdue(Event::Laying), Some(0)));
    let vet = |event, late: i32| {
        let due = overdue(0, event, -late, &rules).unwrap();
        due.facts.iter().any(|f| f.rule == Rule::CallVet)
    };
    assert!(!vet(Event::Laying, 13));
    assert!(vet(Event::Laying, 14));
    assert!(!vet(Event::Ovulation, 30));
}

/// What was never done is due since there was somebody to do it to, whatever the evening asked.
#[test]
fn a_due_day_stands_still_from_evening_to_evening() {
    let rules = DueRules::default();
    for late in [1, 2, 40] {
        let never = follicle_check(0, Cycle::Unchecked, None, Some(late), &rules).unwrap();
        let late = i32::try_from(late).unwrap();
        assert_eq!((never.since, never.by), (Some(-late), -late));
        let overdue = overdue(0, Event::Hatching, -late, &rules).unwrap();
        assert_eq!((overdue.since, overdue.by), (Some(1 - late), -late));
    }
    let mut room = pair(female(), male());
    for age in [61u32, 62, 101] {
        room.females[0].keeping.weight = weighing(2000.0, age);
        room.males[0].keeping.weight = None;
        let list = weighing_list(&room, &Rules::default(), |_| Some(age));
        let days: Vec<_> = list.iter().map(|d| (d.since, d.by)).collect();
        let age = i32::try_from(age).unwrap();
        assert_eq!(days, [(Some(-age), -age), (Some(60 - age), 60 - age)]);
    }
}

#[test]
fn males_with_nothing_to_do_are_taken_out_and_long_locks_looked_at() {
    let rules = DueRules::default();
    let due = |state, mated: bool| {
        let small = [0.1, 0.0, 0.0, 0.0];
        let f = if mated { followed(small) } else { female() };
        let stay = Stay { male: 0, female: 0, state };
        let room = schedule::Room { stays: vec![stay], ..pair(f, male()) };
        take_out(&stay, &tonight(&room, &Rules::default()), &rules)
    };
    assert_eq!(due(StayState::Tonight, true), None);
    assert_eq!(due(StayState::StillLocked { nights: 3 }, true), None);
    let long = due(StayState::StillLocked { nights: 6 }, true).unwrap();
    assert_eq!((long.since, long.by), (Some(-2), -2));
    assert_eq!(due(StayState::LeftTogether { nights: 3 }, false), None, "he stays");
    let left = due(StayState::LeftTogether { nights: 3 }, true).unwrap();
    assert_eq!(left.about, Subject::Pair { male: 0, female: 0 });
    assert_eq!((left.since, left.by), (Some(0), 0), "tonight decides");
    assert_eq!(left.facts[0].value, Value::Nights(3));
    assert!(left.facts.iter().any(|f| f.rule == Rule::MatingWanted && !f.is_met()));
}

#[test]
fn the_weighing_list_names_the_unweighed_and_the_stale() {
    let (mut f, mut m) = (female(), male());
    f.keeping.weight = weighing(2000.0, 61);
    m.keeping.weight = None;
    let mut room = pair(f, m);
    let list = |room: &schedule::Room| weighing_list(room, &Rules::default(), |_| None);
    let about: Vec<Subject> = list(&room).iter().map(|d| d.about).collect();
    assert_eq!(about, [Subject::Male(0), Subject::Female(0)]);
    room.females[0].keeping.weight = weighing(2000.0, 60);
    room.males[0].keeping.in_house = false;
    assert!(list(&room).is_empty());
}
