//! A pair left together from an earlier night gets one instruction: it stays, or he goes on to
//! another female from the tub he is in, or he comes out.

use schedule::due::{DueRules, take_out};
use schedule::{Plan, Room, Rule, Rules, Stay, StayState, tonight};

use crate::rooms::{female, first, followed, male, pair};

const LEFT: StayState = StayState::LeftTogether { nights: 1 };

/// M0 and M1, F0 and F1; M0 is still with F0 and planned for both.
fn room(f0: schedule::Female, f1: schedule::Female) -> Room {
    Room {
        females: vec![f0, f1],
        males: vec![male(), male()],
        planned: vec![first(0, &[0]), first(1, &[0])],
        stays: vec![Stay { male: 0, female: 0, state: LEFT }],
        ..Room::default()
    }
}

/// Stays, moves and takings out in which M0 is named.
fn instructions(room: &Room) -> (Plan, [usize; 3]) {
    let plan = tonight(room, &Rules::default());
    let of = |moves: &[schedule::Move]| moves.iter().filter(|m| m.male == 0).count();
    let due = room.stays.iter().filter_map(|s| take_out(s, &plan, &DueRules::default())).count();
    assert_eq!(due, plan.coming_out.len());
    let counts = [of(&plan.staying), of(&plan.moves), of(&plan.coming_out)];
    (plan, counts)
}

#[test]
fn wanted_where_he_is_he_stays_and_nobody_walks() {
    let (plan, counts) = instructions(&room(female(), followed([0.1, 0.0, 0.0, 0.0])));
    assert_eq!(counts, [1, 0, 0]);
    assert!(plan.staying[0].facts.iter().any(|f| f.rule == Rule::LeftTogether));
    assert!(plan.worth > 0.0, "a pair that stays counts");
    assert!(plan.left_out.iter().all(|l| l.female != 0));
}

#[test]
fn wanted_elsewhere_he_goes_from_the_tub_he_is_in() {
    let (plan, counts) = instructions(&room(followed([0.1, 0.0, 0.0, 0.0]), female()));
    assert_eq!(counts, [0, 1, 0]);
    assert_eq!((plan.moves[0].female, plan.moves[0].from), (1, Some(0)));
}

#[test]
fn wanted_nowhere_he_comes_out_with_the_reason() {
    let small = || followed([0.1, 0.0, 0.0, 0.0]);
    let (plan, counts) = instructions(&room(small(), small()));
    assert_eq!(counts, [0, 0, 1]);
    let rules: Vec<Rule> = plan.coming_out[0].facts.iter().map(|f| f.rule).collect();
    assert_eq!(rules, [Rule::NightsTogether, Rule::MatingWanted]);
}

#[test]
fn every_way_of_coming_out_has_its_reason() {
    let why = |change: &dyn Fn(&mut Room)| {
        let mut room = room(female(), followed([0.1, 0.0, 0.0, 0.0]));
        change(&mut room);
        let (plan, counts) = instructions(&room);
        assert_eq!(counts, [0, 0, 1]);
        plan.coming_out[0].facts.iter().skip(1).map(|f| f.rule).collect::<Vec<_>>()
    };
    assert_eq!(why(&|r| r.males[0].in_blue = true), [Rule::InBlue]);
    assert_eq!(why(&|r| r.females[0].ovulated = true), [Rule::Ovulated]);
    assert_eq!(why(&|r| r.ruled_out = vec![(0, 0)]), [Rule::RuledOut]);
    assert_eq!(why(&|r| r.planned.clear()), [Rule::NoPlannedPair]);
    assert_eq!(
        why(&|r| {
            r.males[1].in_blue = true;
            r.planned = vec![first(0, &[1])];
        }),
        [Rule::PairNotPlanned]
    );
    let other = why(&|r| r.planned = vec![first(0, &[1])]);
    assert_eq!(other, [Rule::PairNotPlanned, Rule::OtherMale]);
    assert_eq!(why(&|r| r.planned[0].weight = 0.0), [Rule::Worth]);
    let placed = Stay { male: 1, female: 0, state: StayState::Tonight };
    assert_eq!(why(&|r| r.stays.push(placed)), [Rule::PlacedTonight]);
}

#[test]
fn a_lock_that_may_be_parted_counts_as_left_together() {
    let parted = Rules { locked_left_alone: false, ..Rules::default() };
    let stay = Stay { male: 0, female: 0, state: StayState::StillLocked { nights: 1 } };
    let room = Room { stays: vec![stay], ..pair(female(), male()) };
    let plan = tonight(&room, &parted);
    assert_eq!((plan.staying.len(), plan.left_alone.len()), (1, 0));
}

#[test]
fn in_need_is_what_the_definition_says() {
    let cases = [
        ([0.49, 0.49, 0.0, 0.0], false),
        ([0.0, 0.5, 0.0, 0.0], true),
        ([0.0, 0.0, 0.2, 0.3], false),
        ([0.0, 0.0, 0.0, 0.9], true),
    ];
    for (in_band, is_in_need) in cases {
        let mut m = male();
        m.in_blue = true;
        let plan = tonight(&pair(followed(in_band), m), &Rules::default());
        assert_eq!(plan.left_out[0].in_need, is_in_need, "{in_band:?}");
    }
}
