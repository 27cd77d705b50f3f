//! The worked example of `docs/methods/tonight.md`: a night on which greedy is worse.

use schedule::{Choice, LockOutcome, NightTogether, PlannedPair, Room, Rule, Rules, Why, tonight};

use crate::oracle::{greedy, matrix};
use crate::rooms::{bands, female, first, follicles, followed, male_with_record};

/// F0 at 22 mm, placed once without a lock; F1 at 12 mm. M0 is first choice for both, M1 second
/// choice for F0 alone.
pub fn room() -> Room {
    let mut f0 = female();
    *follicles(&mut f0) = schedule::Follicles {
        in_band: bands([0.0, 0.9, 0.1, 0.0]),
        leaves: vec![bands([0.0, 0.05, 0.02, 0.0])],
        nights: vec![NightTogether {
            in_band: bands([0.2, 0.8, 0.0, 0.0]),
            lock: LockOutcome::NoneSeen,
        }],
    };
    let mut f1 = followed([0.8, 0.0, 0.0, 0.0]);
    follicles(&mut f1).leaves = vec![bands([0.03, 0.0, 0.0, 0.0])];
    Room {
        females: vec![f0, f1],
        males: vec![male_with_record(6, 10), male_with_record(2, 10)],
        planned: vec![
            first(0, &[0]),
            first(1, &[0]),
            PlannedPair { female: 0, males: vec![1], choice: Choice::Second, weight: 1.0 },
        ],
        ..Room::default()
    }
}

fn close(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-12
}

#[test]
fn worths_by_hand() {
    let plan = tonight(&room(), &Rules::default());
    let m0 = (6.0 + 10.0 * (11.0 / 30.0)) / 20.0;
    let m1 = (2.0 + 10.0 * (11.0 / 30.0)) / 20.0;
    let f0 = 0.9 * 0.92 * 1.05 + 0.1 * 1.02;
    let f1 = 0.8 * 1.03;
    let worth: Vec<f64> = plan.moves.iter().map(|m| m.worth.unwrap().total).collect();
    assert!(close(worth[0], m0 * f1), "{worth:?}");
    assert!(close(worth[1], 0.5 * m1 * f0), "{worth:?}");
}

#[test]
fn greedy_is_worse_tonight() {
    let room = room();
    let plan = tonight(&room, &Rules::default());
    let (greedy_worth, greedy_pairs) = greedy(2, 2, &matrix(&room));
    let pairs: Vec<_> = plan.moves.iter().map(|m| (m.male, m.female)).collect();
    println!("greedy  {greedy_pairs:?} worth {greedy_worth:.4}");
    println!("tonight {pairs:?} worth {:.4}", plan.worth);
    assert_eq!(greedy_pairs, [(0, 0)]);
    assert_eq!(pairs, [(0, 1), (1, 0)]);
    assert!(close((greedy_worth * 1e4).round() / 1e4, 0.4695));
    assert!(close((plan.worth * 1e4).round() / 1e4, 0.5359));
}

#[test]
fn without_the_second_choice_she_learns_who_is_worth_more_where() {
    let mut room = room();
    room.planned.truncate(2);
    let plan = tonight(&room, &Rules::default());
    assert_eq!(plan.left_out.len(), 1);
    let out = &plan.left_out[0];
    assert_eq!((out.female, out.why, out.in_need), (1, Why::MalesElsewhere, true));
    let fact = out.facts[0];
    assert_eq!(fact.rule, Rule::WorthMore);
    let worth = |v: schedule::Value| v.number().unwrap();
    assert!(worth(fact.value) > worth(fact.limit.unwrap()));
    assert_eq!(out.facts[1].rule, Rule::FreeAgain);
}
