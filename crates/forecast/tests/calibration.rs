//! Scores against general-purpose libraries; files, script and versions in
//! tests/published/calibration.

use forecast::calibration::fell::{Fell, distance};
use forecast::calibration::share::{Case, Share, clustered, standard_error};
use forecast::calibration::stretch::{factor, needed, stretched};
use forecast::calibration::tally::{Scored, Tally};
use forecast::calibration::{brier, crps, error};
use forecast::follicle::normal::below;
use proptest::prelude::*;

fn rows(text: &'static str) -> Vec<Vec<&'static str>> {
    text.lines().skip(1).map(|line| line.split(',').collect()).collect()
}

fn number(cell: &str) -> f64 {
    cell.parse().unwrap()
}

fn numbers(cell: &str) -> Vec<f64> {
    cell.split(' ').map(number).collect()
}

fn close(ours: f64, theirs: f64, what: &str) {
    assert!((ours - theirs).abs() < 1e-9 * theirs.abs().max(1.0), "{what}: {ours} for {theirs}");
}

#[test]
fn the_interval_of_a_share_is_statsmodels_wilson() {
    let rows = rows(include_str!("../../../tests/published/calibration/wilson.csv"));
    assert_eq!(rows.len(), 25);
    for r in rows {
        let [held, of, low, high] = [0, 1, 2, 3].map(|i| number(r[i]));
        let ours = Share::of(held / of, of);
        close(ours.low, low.max(0.0), &format!("{held} of {of}, low"));
        close(ours.high, high.min(1.0), &format!("{held} of {of}, high"));
    }
}

#[test]
fn crps_of_a_normal_forecast_is_the_integral_that_defines_it() {
    let rows = rows(include_str!("../../../tests/published/calibration/crps_normal.csv"));
    assert_eq!(rows.len(), 21);
    for r in rows {
        let [mean, spread, truth, score] = [0, 1, 2, 3].map(|i| number(r[i]));
        close(crps::normal(mean, spread, truth), score, "closed form");
        let ends = (mean - 10.0 * spread, mean + 10.0 * spread);
        let share = |x: f64| below((x - mean) / spread);
        close(crps::by_share(share, ends, 2.0 * spread, truth), score, "by its shares");
        close(crps::mixture(&[(0.3, mean, spread), (0.7, mean, spread)], truth), score, "parts");
    }
}

#[test]
fn crps_of_a_mixture_is_the_integral_that_defines_it() {
    let rows = rows(include_str!("../../../tests/published/calibration/crps_mixture.csv"));
    assert_eq!(rows.len(), 12);
    for r in rows {
        let parts: Vec<(f64, f64, f64)> =
            r[0].split(';').map(numbers).map(|part| (part[0], part[1], part[2])).collect();
        let (truth, score) = (number(r[1]), number(r[2]));
        close(crps::mixture(&parts, truth), score, "mixture");
        let share = |x: f64| parts.iter().map(|(w, m, s)| w * below((x - m) / s)).sum::<f64>();
        let ours = crps::by_share(share, (-60.0, 110.0), 1.0, truth);
        close(ours, score, "mixture by its shares");
    }
}

#[test]
fn crps_of_a_truth_beyond_all_that_was_forecast_is_the_distance() {
    let even = |x: f64| x.clamp(0.0, 1.0);
    for (truth, score) in [(-3.0, 3.0 + 1.0 / 3.0), (5.0, 4.0 + 1.0 / 3.0), (0.5, 1.0 / 12.0)] {
        close(crps::by_share(even, (0.0, 1.0), 0.5, truth), score, "even forecast over 0 to 1");
    }
}

#[test]
fn crps_of_a_count_is_the_sum_that_defines_it() {
    let rows = rows(include_str!("../../../tests/published/calibration/crps_counted.csv"));
    assert_eq!(rows.len(), 12);
    for r in rows {
        let (mean, truth) = (number(r[0]), number(r[1]));
        let mut chances = vec![(-mean).exp()];
        for n in 1..60 {
            chances.push(chances[n - 1] * mean / n as f64);
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count")]
        close(crps::counted(&chances, truth as usize), number(r[2]), "count");
    }
}

#[test]
fn distance_from_an_even_spread_is_scipys() {
    for r in rows(include_str!("../../../tests/published/calibration/even.csv")) {
        let falls: Vec<(Fell, f64)> =
            numbers(r[0]).into_iter().map(|pit| (Fell::at(pit), 3.0)).collect();
        close(distance(&falls), number(r[1]), "distance");
    }
}

#[test]
fn brier_is_scikit_learns() {
    for r in rows(include_str!("../../../tests/published/calibration/brier.csv")) {
        let (chances, came) = (numbers(r[1]), numbers(r[2]));
        let n = came.len();
        let each = |i: usize| match r[0] {
            "two" => brier::of_two(chances[i], came[i] > 0.5),
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 2")]
            _ => brier::of_several(&chances[3 * i..3 * i + 3], came[i] as usize),
        };
        close((0..n).map(each).sum::<f64>() / n as f64, number(r[3]), r[0]);
    }
}

#[test]
fn a_share_of_cases_in_clusters_is_statsmodels() {
    let rows = rows(include_str!("../../../tests/published/calibration/clustered.csv"));
    assert_eq!(rows.len(), 3);
    for r in rows {
        let [sources, weights, helds] = [0, 1, 2].map(|i| numbers(r[i]));
        let cases: Vec<Case> = (0..sources.len())
            .map(|i| {
                #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "ids")]
                let source = sources[i] as usize;
                Case { source, weight: weights[i], held: helds[i] }
            })
            .collect();
        let (share, effective) = clustered(&cases).unwrap();
        close(share.share, number(r[3]), "share");
        let error = standard_error(&cases);
        close(error, number(r[4]), "standard error");
        let by_error = share.share * (1.0 - share.share) / (error * error);
        let n_sources = sources.last().unwrap() + 1.0;
        let most = weights.iter().sum::<f64>().max(n_sources).min(sources.len() as f64);
        close(effective, by_error.clamp(n_sources.min(weights.iter().sum()), most), "effective");
    }
}

#[test]
fn quantiles_by_weight_are_numpys() {
    let rows = rows(include_str!("../../../tests/published/calibration/weighted_quantile.csv"));
    assert_eq!(rows.len(), 16);
    for r in rows {
        let values: Vec<(f64, f64)> = numbers(r[0]).into_iter().zip(numbers(r[1])).collect();
        close(error::quantile(&values, number(r[2])).unwrap(), number(r[3]), "quantile");
    }
}

/// The table of docs/methods/track_record.md.
#[test]
fn worked_examples_of_the_methods() {
    let near = |ours: f64, told: f64| assert!((ours - told).abs() < 6e-4, "{ours} for {told}");
    near(Fell::between(0.05, 0.25).inside(0.8), 0.75);
    let wilson = Share::of(24.0 / 30.0, 30.0);
    near(wilson.low, 0.627);
    near(wilson.high, 0.905);
    let case = |source, held| Case { source, weight: 1.0, held };
    let cases = [(0, 1.0), (0, 1.0), (0, 1.0), (1, 1.0), (1, 0.0), (1, 0.0)];
    let cases = cases.map(|(source, held)| case(source, held));
    let (share, effective) = clustered(&cases).unwrap();
    near(share.share, 2.0 / 3.0);
    near(standard_error(&cases).powi(2), 1.0 / 9.0);
    near(effective, 2.0);
    near(distance(&[(Fell::at(0.3), 1.0)]), 0.7);
    let median = |off: [f64; 3]| error::quantile(&off.map(|x| (x, 1.0)), 0.5).unwrap();
    near(median([1.0, 2.0, 6.0]), 2.0);
    near(median([-1.0, 2.0, 6.0]), 2.0);
    near(crps::normal(5.0, 1.0, 5.0), 0.2337);
    near(crps::mixture(&[(0.5, 5.0, 1.0), (0.5, 5.0, 1.0)], 5.0), 0.2337);
    near(crps::by_share(|x| x.clamp(0.0, 1.0), (0.0, 1.0), 0.5, 0.5), 1.0 / 12.0);
    near(crps::counted(&[0.2, 0.5, 0.3], 1), 0.13);
    near(0.5 * (brier::of_two(0.7, true) + brier::of_two(0.7, false)), 0.29);
}

/// Ten truths at 1, 2 ... 10 tenths of the half interval: of a forecast that claims 80 %, nine tenths
/// of them needed at most .9. Doubling all of them needs 1.8; drawn towards 1 by 10 of 30 cases.
#[test]
fn a_factor_is_the_stretch_that_would_have_held() {
    let tenths = |times: f64| -> Vec<(f64, f64)> {
        (1..=10).map(|i| (0.1 * f64::from(i) * times, 1.0)).collect()
    };
    // One more case reckoned as a miss: the 8.8th of ten, rounded up.
    close(factor(&tenths(2.0), 0.8, 10.0), 1.8_f64.powf(10.0 / 30.0), "too narrow by half");
    close(factor(&tenths(1.0), 0.8, 10.0), 1.0, "wide enough is left alone");
    close(factor(&[], 0.8, 0.0), 1.0, "nothing seen");
    close(factor(&tenths(90.0), 0.8, 1e9), 3.0, "never beyond three times");
    close(needed((10.0, 20.0, 25.0), 30.0, 0.5), 2.0, "above");
    close(needed((10.0, 20.0, 25.0), 5.0, 0.5), 1.5, "below");
    assert_eq!(stretched((10.0, 20.0, 25.0), 2.0), (0.0, 20.0, 30.0));
}

/// A normal forecast of the right mean that claims half the spread there is: its 80 % interval holds
/// 1 - 2 below(-1.2816 / 2) = 47.8 %, and twice the width is what it needs.
#[test]
fn a_forecast_half_as_wide_as_the_truth_is_found_out_and_stretched_to_twice() {
    let n = 4000;
    let truths: Vec<f64> = (0..n).map(|i| 2.0 * quantile((f64::from(i) + 0.5) / 4000.0)).collect();
    let half = 1.281_551_565_544_6;
    let scored: Vec<Scored> = truths
        .iter()
        .enumerate()
        .map(|(source, truth)| Scored {
            source,
            weight: 1.0,
            fell: Fell::at(below(*truth)),
            off: Some(*truth),
            crps: Some(crps::normal(0.0, 1.0, *truth)),
        })
        .collect();
    let tally = Tally::of(&scored).unwrap();
    let held = 1.0 - 2.0 * below(-0.5 * half);
    assert!((tally.held[1].share - held).abs() < 1e-3, "{}", tally.held[1].share);
    assert!((tally.error.unwrap() - 2.0 * 0.674_489_75).abs() < 2e-3, "{:?}", tally.error);
    assert!(tally.bias.unwrap().abs() < 1e-9);
    // Mean score over truths of variance 4: sqrt((1 + 4) 2 / pi) - 1 / sqrt(pi).
    let mean = (10.0 / std::f64::consts::PI).sqrt() - 1.0 / std::f64::consts::PI.sqrt();
    assert!((tally.crps.unwrap() - mean).abs() < 2e-3, "{:?}", tally.crps);
    let stretches: Vec<(f64, f64)> =
        truths.iter().map(|t| (needed((-half, 0.0, half), *t, 1e-9), 1.0)).collect();
    let factor = factor(&stretches, 0.8, 4000.0);
    assert!((factor - 2.0).abs() < 0.02, "{factor}");
}

/// The standard normal quantile, by halving.
fn quantile(share: f64) -> f64 {
    let (mut low, mut high) = (-9.0, 9.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if below(middle) < share { low = middle } else { high = middle }
    }
    low
}

fn falls() -> impl Strategy<Value = Vec<(Fell, f64)>> {
    let one = (0.0..1.0_f64, 0.0..1.0_f64, 0.01..1.0_f64);
    prop::collection::vec(one.prop_map(|(a, b, w)| (Fell::between(a, b), w)), 1..30)
}

proptest! {
    #[test]
    fn the_distance_is_that_of_a_slow_look_everywhere(falls in falls()) {
        let total: f64 = falls.iter().map(|f| f.1).sum();
        let slow = (0..=20_000)
            .map(|i| {
                let at = f64::from(i) / 20_000.0;
                let sum: f64 = falls.iter().map(|(f, w)| w * f.below(at)).sum();
                (sum / total - at).abs()
            })
            .fold(0.0, f64::max);
        // Steep ramps turn between the points looked at.
        let fast = distance(&falls);
        prop_assert!(fast >= slow - 1e-9);
        let steep = falls.iter().any(|(f, _)| f.to - f.from < 0.01);
        prop_assert!(steep || fast <= slow + 0.01, "{fast} {slow}");
    }

    #[test]
    fn wider_intervals_hold_no_less(falls in falls(), a in 0.0..1.0_f64, b in 0.0..1.0_f64) {
        for (fell, _) in falls {
            prop_assert!(fell.inside(a.min(b)) <= fell.inside(a.max(b)) + 1e-12);
            prop_assert!((0.0..=1.0).contains(&fell.inside(a)));
        }
    }

    #[test]
    fn a_stretched_interval_holds_the_old_one_and_just_reaches_what_it_needed(
        median in 0.0..50.0_f64, down in 0.5..20.0_f64, up in 0.5..20.0_f64, truth in -50.0..90.0_f64,
        needs in prop::collection::vec((0.0..4.0_f64, 0.1..1.0_f64), 1..40), cases in 1.0..60.0_f64,
    ) {
        let interval = (median - down, median, median + up);
        let times = factor(&needs, 0.8, cases);
        let wide = stretched(interval, times);
        prop_assert!(times >= 1.0 && wide.0 <= interval.0 && wide.2 >= interval.2);
        let needs = needed(interval, truth, 0.1);
        let (low, _, high) = stretched(interval, needs);
        prop_assert!((truth - low).abs().min((truth - high).abs()) < 1e-9);
    }
}
