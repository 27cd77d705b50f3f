//! A female left out learns which rule, which male and when.

use schedule::{
    LockOutcome, PastNight, Plan, Room, Rule, Rules, Stay, StayState, Subject, Value, Why, tonight,
};

use crate::rooms::{female, first, followed, male, male_with_record, pair};

fn plan(room: &Room) -> Plan {
    tonight(room, &Rules::default())
}

#[test]
fn no_planned_pair_gives_a_suggestion_and_no_move() {
    let room = Room {
        females: vec![female()],
        males: vec![male_with_record(1, 10), male_with_record(8, 10)],
        ..Room::default()
    };
    let plan = plan(&room);
    assert!(plan.moves.is_empty());
    let out = &plan.left_out[0];
    assert_eq!(out.why, Why::NoPlannedPair);
    assert_eq!(out.facts[0].rule, Rule::NoPlannedPair);
    let suggestion = out.facts.last().unwrap();
    assert_eq!((suggestion.rule, suggestion.about), (Rule::Suggestion, Subject::Male(1)));
}

#[test]
fn no_suggestion_of_a_male_that_is_taken_or_barred_or_for_a_female_that_waits() {
    let mut blue = male();
    blue.in_blue = true;
    let mut room = Room {
        females: vec![female(), female()],
        males: vec![male(), blue],
        planned: vec![first(1, &[0])],
        ..Room::default()
    };
    let suggested =
        |room: &Room| plan(room).left_out[0].facts.iter().any(|f| f.rule == Rule::Suggestion);
    assert!(!suggested(&room), "M0 goes to F1 and M1 is in blue");
    room.males[1].in_blue = false;
    assert!(suggested(&room));
    room.females[0].ovulated = true;
    assert!(!suggested(&room));
}

#[test]
fn a_gene_that_nobody_carries() {
    let room = Room { planned: vec![first(0, &[])], ..pair(female(), male()) };
    assert_eq!(plan(&room).left_out[0].why, Why::NoMaleFits);
}

#[test]
fn a_rested_male_is_free_again_on_a_named_night() {
    let mut m = male();
    m.nights = vec![PastNight { ago: 1, lock: LockOutcome::Seen }];
    let out = &plan(&pair(female(), m)).left_out[0];
    assert_eq!(out.why, Why::NoMaleMay);
    assert!(out.in_need);
    let rules: Vec<Rule> = out.facts.iter().take(2).map(|f| f.rule).collect();
    assert_eq!(rules, [Rule::RestAfterLock, Rule::FreeAgain]);
    assert_eq!(out.facts[1].value, Value::Nights(2));
}

#[test]
fn a_male_in_blue_is_promised_for_no_night() {
    let mut m = male();
    m.in_blue = true;
    m.nights = vec![PastNight { ago: 1, lock: LockOutcome::Seen }];
    let out = &plan(&pair(female(), m)).left_out[0];
    assert!(out.facts.iter().all(|f| f.rule != Rule::FreeAgain));
}

#[test]
fn all_rules_that_clash_are_named() {
    let mut blue = male();
    blue.in_blue = true;
    let mut ill = male();
    ill.keeping.treatment = true;
    let room = Room {
        females: vec![female()],
        males: vec![blue, ill, male()],
        planned: vec![first(0, &[0, 1, 2])],
        ruled_out: vec![(2, 0)],
        ..Room::default()
    };
    let out = &plan(&room).left_out[0];
    assert_eq!(out.why, Why::NoMaleMay);
    let unmet: Vec<Rule> = out.facts.iter().filter(|f| !f.is_met()).map(|f| f.rule).collect();
    assert_eq!(unmet, [Rule::InBlue, Rule::Treatment, Rule::RuledOut]);
}

#[test]
fn a_male_placed_or_still_locked_is_named_with_his_female() {
    for (state, rule) in [
        (StayState::Tonight, Rule::PlacedTonight),
        (StayState::StillLocked { nights: 1 }, Rule::StillLocked),
    ] {
        let room = Room {
            females: vec![female(), followed([0.0; 4])],
            males: vec![male()],
            planned: vec![first(0, &[0])],
            stays: vec![Stay { male: 0, female: 1, state }],
            ..Room::default()
        };
        let out = &plan(&room).left_out[0];
        assert_eq!((out.female, out.why), (0, Why::MalesElsewhere));
        assert_eq!(out.facts[0].rule, rule);
        assert_eq!(out.facts[0].about, Subject::Pair { male: 0, female: 1 });
    }
}

#[test]
fn a_keeper_may_let_locked_pairs_be_parted() {
    let room = Room {
        females: vec![female(), followed([0.0; 4])],
        males: vec![male()],
        planned: vec![first(0, &[0])],
        stays: vec![Stay { male: 0, female: 1, state: StayState::StillLocked { nights: 1 } }],
        ..Room::default()
    };
    let parted = Rules { locked_left_alone: false, ..Rules::default() };
    let plan = tonight(&room, &parted);
    assert_eq!((plan.moves.len(), plan.left_alone.len()), (1, 0));
    assert_eq!((plan.moves[0].male, plan.moves[0].female), (0, 0));
    assert_eq!(tonight(&room, &Rules::default()).left_alone.len(), 1);
}

#[test]
fn a_female_that_waits_learns_her_own_rules() {
    let mut f = female();
    (f.ovulated, f.laid_this_season) = (true, true);
    let out = &plan(&pair(f, male())).left_out[0];
    assert_eq!(out.why, Why::SheWaits);
    let rules: Vec<Rule> = out.facts.iter().map(|f| f.rule).collect();
    assert_eq!(rules, [Rule::Ovulated, Rule::LaidThisSeason]);
}

#[test]
fn indices_outside_the_room_are_passed_over() {
    let mut room = pair(female(), male());
    room.planned.extend([first(9, &[0]), first(0, &[9])]);
    room.stays = vec![Stay { male: 9, female: 9, state: StayState::Tonight }];
    room.ruled_out = vec![(9, 0), (0, 9)];
    let plan = plan(&room);
    assert_eq!((plan.moves.len(), plan.done.len()), (1, 0));
    assert_eq!(tonight(&Room::default(), &Rules::default()), Plan::default());
}

#[test]
fn tonight_counts_as_a_turn_when_a_busy_male_is_free_again() {
    let mut m = male();
    m.nights = (1..=4).map(|ago| PastNight { ago, lock: LockOutcome::NoneSeen }).collect();
    let mut room = Room {
        females: vec![female(), female()],
        males: vec![m],
        planned: vec![first(0, &[0]), first(1, &[0])],
        ..Room::default()
    };
    let free_again = |room: &Room| {
        let plan = plan(room);
        let facts = &plan.left_out[0].facts;
        facts.iter().find(|f| f.rule == Rule::FreeAgain).map(|f| f.value)
    };
    assert_eq!(free_again(&room), Some(Value::Nights(4)), "tonight would be his fifth night");
    room.stays = vec![Stay { male: 0, female: 1, state: StayState::Tonight }];
    assert_eq!(free_again(&room), Some(Value::Nights(4)));
}
