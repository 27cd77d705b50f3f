//! What must hold for any cycle whatever.

use forecast::{Check, Classes, Cycle, Found, Milestone, Model};
use proptest::prelude::*;
use units::Millimetres;

use crate::rooms::opening;

fn found() -> impl Strategy<Value = Found> {
    prop_oneof![
        (0i32..6_000).prop_map(|s| Found::Scan(Millimetres::from_steps(s))),
        (0usize..4).prop_map(|k| Classes::default().felt(k).unwrap()),
        Just(Classes::default().nothing_felt()),
    ]
}

fn any_cycle() -> impl Strategy<Value = Cycle> {
    prop::collection::vec((-5i32..200, found()), 0..12).prop_map(|checks| Cycle {
        locks: vec![],
        opened: opening(),
        checks: checks
            .into_iter()
            .map(|(day, found)| Check { day: opening() + day, found })
            .collect(),
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn chances_are_chances(cycle in any_cycle(), nights in -3i32..250) {
        let belief = Model::default().follow(&cycle, opening() + nights);
        let s = belief.states();
        let sum = s.resting.get() + s.growing.get() + s.stalled.get() + s.resorbing.get();
        prop_assert!((sum - 1.0).abs() < 1e-9);
        let size = belief.size();
        prop_assert!(size.low <= size.median && size.median <= size.high);
        let levels = [12.0, 22.0, 32.0, 40.0].map(Milestone::Size);
        let mut before = 1.0;
        for milestone in levels.into_iter().chain([Milestone::Ovulation]) {
            let outlook = belief.outlook(milestone);
            let p = outlook.passage;
            prop_assert!((p.passed.get() + p.ahead.get() + p.never.get() - 1.0).abs() < 1e-9);
            if milestone != Milestone::Ovulation {
                prop_assert!(p.passed.get() <= before + 1e-9, "larger sizes are passed later");
                before = p.passed.get();
            }
            let within: Vec<f64> = (0..300).map(|n| outlook.within(n).get()).collect();
            prop_assert!(within.windows(2).all(|w| w[0] <= w[1] + 1e-12));
            prop_assert_eq!(outlook.date().is_none(), p.passed.get() >= 0.95);
            if let Some(date) = outlook.date() {
                prop_assert!(opening() + nights < date.low);
                prop_assert!(date.low <= date.median && date.median <= date.high);
            }
        }
    }

    #[test]
    fn order_of_writing_and_the_future_do_not_matter(cycle in any_cycle(), nights in 0i32..220) {
        let today = opening() + nights;
        let mut known = cycle.clone();
        known.checks.retain(|c| c.day <= today && c.day >= cycle.opened);
        known.checks.sort_by_key(|c| std::cmp::Reverse(c.day));
        // Within one evening the order must stay: felt classes are taken in one after another.
        let same_day = known.checks.windows(2).any(|w| w[0].day == w[1].day);
        prop_assume!(!same_day);
        let model = Model::default();
        let (a, b) = (model.follow(&cycle, today), model.follow(&known, today));
        prop_assert_eq!(a.states(), b.states());
        prop_assert_eq!(a.size(), b.size());
        prop_assert_eq!(a.reaches(32.0), b.reaches(32.0));
    }

    #[test]
    fn the_fan_opens_at_tonights_size(cycle in any_cycle(), nights in 0i32..150) {
        let today = opening() + nights;
        let belief = Model::default().follow(&cycle, today);
        let fan = belief.fan(&[today - 3, today, today + 20, today + 60]);
        prop_assert_eq!(fan.len(), 3);
        prop_assert!((fan[0].sizes[2] - belief.size().median.get()).abs() < 0.02);
        prop_assert!(fan.iter().all(|on| on.sizes.windows(2).all(|s| s[0] <= s[1])));
    }
}
