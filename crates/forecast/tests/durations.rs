//! Durations that learn. Reference values, script and versions in tests/published/durations.

use forecast::{Duration, Durations, student};
use proptest::prelude::*;

fn rows(text: &'static str) -> Vec<Vec<&'static str>> {
    text.lines().skip(1).map(|line| line.split(',').collect()).collect()
}

fn number(cell: &str) -> f64 {
    cell.parse().unwrap()
}

#[test]
fn students_t_is_scipys() {
    let rows = rows(include_str!("../../../tests/published/durations/student.csv"));
    assert_eq!(rows.len(), 108);
    for r in rows {
        let [t, freedom, p] = [0, 1, 2].map(|i| number(r[i]));
        let ours = student::below(t, freedom);
        assert!((ours - p).abs() < 1e-11, "{t} at {freedom}: {ours} for {p}");
    }
    assert!((student::below(-1.2816, f64::INFINITY) - 0.1).abs() < 1e-5);
}

/// The closed form against prior times likelihood summed over a grid.
#[test]
fn the_next_one_is_the_summed_posteriors() {
    let rows = rows(include_str!("../../../tests/published/durations/next.csv"));
    assert_eq!(rows.len(), 35);
    for r in rows {
        let days: Vec<f64> = r[0].split_whitespace().map(number).collect();
        assert!((number(r[2]) - forecast::duration::MEAN_COUNTS_FOR).abs() < 1e-12);
        assert!((number(r[4]) - forecast::duration::SPREAD_COUNTS_FOR).abs() < 1e-12);
        let prior = Duration::prior(number(r[1]), number(r[3]), (0.0, 100.0));
        let (location, scale, freedom) = prior.after(&days).next();
        let ours = student::below((number(r[5]) - location) / scale, freedom);
        assert!((ours - number(r[6])).abs() < 2e-6, "{r:?}: {ours}");
    }
}

/// A textbook's update by hand: prior mean 19 counting for 3, seen 24, 26, 28. The mean is
/// (3 x 19 + 3 x 26) / 6 = 22.5; squares 6 x 12 (prior: 4 squared / (4/3) = 12) + 8 about the
/// average + 3 x 3 / 6 x 7 x 7 = 73.5 between, over 9 degrees of freedom: 153.5 / 9 = 17.06; the
/// next one has 7 / 6 of that (Gelman et al. 2013, section 3.3).
#[test]
fn an_update_worked_out_by_hand() {
    let learned = Durations::default().ovulation_to_shed.after(&[24.0, 26.0, 28.0]);
    let (location, scale, freedom) = learned.next();
    assert!((location - 22.5).abs() < 1e-12);
    assert!((scale * scale - 153.5 / 9.0 * 7.0 / 6.0).abs() < 1e-9);
    assert!((freedom - 9.0).abs() < 1e-12);
    assert_eq!((learned.seen, learned.left_out), (3, 0));
    // t with 9 degrees of freedom has 10 % below -1.383 (any table): 22.5 - 1.383 x 4.461 = 16.3.
    assert_eq!((learned.quantile(0.1), learned.quantile(0.5), learned.quantile(0.9)), (16, 23, 29));
}

#[test]
fn a_wrong_date_is_left_out_and_counted() {
    let prior = Durations::default().laying_to_hatch;
    let clean = prior.after(&[58.0, 60.0, 61.0]);
    let dirty = prior.after(&[58.0, 60.0, 425.0, 61.0, -3.0]);
    assert_eq!(clean.next(), dirty.next());
    assert_eq!((dirty.seen, dirty.left_out), (3, 2));
}

#[test]
fn a_rooms_own_hundred_outweigh_the_prior() {
    let own: Vec<f64> = (0..100).map(|n| 54.0 + f64::from(n % 3)).collect();
    let learned = Durations::default().laying_to_hatch.after(&own);
    assert!((learned.mean() - 55.0).abs() < 0.3, "{}", learned.mean());
    assert!(learned.quantile(0.9) - learned.quantile(0.1) <= 4);
}

proptest! {
    /// Learning in two steps is learning at once, and order says nothing.
    #[test]
    fn it_does_not_matter_in_which_order_they_were_seen(
        days in prop::collection::vec(5.0..45.0_f64, 0..20),
        cut in 0_usize..20,
    ) {
        let prior = Durations::default().ovulation_to_shed;
        let cut = cut.min(days.len());
        let at_once = prior.after(&days);
        let in_steps = prior.after(&days[cut..]).after(&days[..cut]);
        let ([a, b, c], [x, y, z]) = (
            <[f64; 3]>::from(at_once.next()),
            <[f64; 3]>::from(in_steps.next()),
        );
        prop_assert!((a - x).abs() + (b - y).abs() + (c - z).abs() < 1e-9);
        prop_assert_eq!(at_once.seen, in_steps.seen);
    }
}
