//! What a keeper would expect of a forecast.

use forecast::{Classes, Cycle, Found, Model};
use units::{Day, Estimate};

use crate::rooms::{opening, scans};

fn after(cycle: &Cycle, days: i32) -> forecast::Belief {
    Model::default().follow(cycle, opening() + days)
}

/// Common practice, no source: 12 mm in November at 2 mm a week is 22 mm in five weeks.
#[test]
fn twelve_millimetres_in_november_is_twenty_two_five_weeks_later() {
    let looks = [(0, 8.0), (7, 10.0), (14, 12.0)];
    for (cycle, day) in [(scans(&looks), 14), (scans(&looks[1..]), 14), (scans(&[(0, 12.0)]), 0)] {
        let date: Estimate<Day> = after(&cycle, day).reaches(22.0).unwrap();
        let five_weeks = opening() + day + 35;
        assert!(date.low <= five_weeks && five_weeks <= date.high, "{date:?}");
        assert!((-7..=28).contains(&date.median.days_since(five_weeks)), "{date:?}");
    }
}

#[test]
fn two_falling_scans_are_resorption_and_two_rising_ones_are_not() {
    let falls = after(&scans(&[(0, 24.0), (14, 20.0), (28, 15.0)]), 28);
    assert!(falls.states().resorbing.get() > 0.8, "{:?}", falls.states());
    let falls = after(&scans(&[(0, 14.0), (14, 19.0), (28, 24.0), (42, 20.0), (56, 15.0)]), 56);
    assert!(falls.states().resorbing.get() > 0.8, "{:?}", falls.states());
    let rises = after(&scans(&[(0, 15.0), (14, 20.0), (28, 24.0)]), 28);
    assert!(rises.states().resorbing.get() < 0.05, "{:?}", rises.states());
}

#[test]
fn who_shrinks_has_still_passed_her_largest_size() {
    let falls = after(&scans(&[(0, 14.0), (14, 19.0), (28, 24.0), (42, 20.0), (56, 15.0)]), 56);
    assert!(falls.size().high.get() < 20.0);
    assert!(falls.chance(20.0).passed.get() > 0.95);
    assert!(falls.chance(32.0).never.get() > 0.8);
}

/// Sixteen, nineteen, twenty, twenty-four: a pause, then growth again.
#[test]
fn a_pause_is_no_verdict() {
    let cycle = scans(&[(0, 16.0), (14, 19.6), (38, 20.1), (59, 31.1)]);
    let paused = after(&cycle, 38);
    assert!(paused.states().stalled.get() < 0.6, "{:?}", paused.states());
    let growing = after(&cycle, 59);
    assert!(growing.states().growing.get() > 0.85, "{:?}", growing.states());
    assert!(growing.reaches(22.0).is_none(), "passed with .95 or more");
}

#[test]
fn nothing_felt_lies_below_the_lowest_word_and_words_rise() {
    let classes = Classes::default();
    let mut found = vec![classes.nothing_felt()];
    found.extend((0..classes.n_words()).map(|k| classes.felt(k).unwrap()));
    assert_eq!(classes.felt(classes.n_words()), None);
    let sizes: Vec<f64> = found
        .iter()
        .map(|found| {
            let check = forecast::Check { day: opening(), found: *found };
            let cycle = Cycle::new(opening(), vec![check]);
            after(&cycle, 0).size().median.get()
        })
        .collect();
    assert!(sizes.windows(2).all(|s| s[0] + 1.5 < s[1]), "{sizes:?}");
}

/// Common practice, no source: 11-12, 22, early 30s and about 40 mm; cuts about 17, 27, 36.
#[test]
fn cuts_lie_halfway_between_the_trades_sizes() {
    let classes = Classes::halfway(&[11.5, 22.0, 32.0, 40.0], 8.0, 2.0);
    for (cut, usual) in classes.cuts.iter().zip([17.0, 27.0, 36.0]) {
        assert!((cut - usual).abs() <= 0.5, "{cut}");
    }
}

#[test]
fn years_of_silence_and_absurd_numbers_do_no_harm() {
    let cycle = scans(&[(0, 12.0), (10, 3000.0), (20, 0.0)]);
    let belief = after(&cycle, 3_000_000);
    let s = belief.states();
    let sum = s.resting.get() + s.growing.get() + s.stalled.get() + s.resorbing.get();
    assert!((sum - 1.0).abs() < 1e-9, "{s:?}");
    let mut odd = cycle;
    odd.checks[1].found = Found::Felt { from: f64::NAN, to: 3.0, blur: f64::INFINITY };
    assert!(after(&odd, 30).size().median.get() > 0.0);
}
