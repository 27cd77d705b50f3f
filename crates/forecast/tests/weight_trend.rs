//! The robust line through weights, against statsmodels on the same data.

use forecast::weight_trend::{line, weight_trend};
use proptest::prelude::*;
use units::Grams;

fn logs(rows: &[(f64, f64)]) -> Vec<(f64, f64)> {
    rows.iter().map(|(day, grams)| (*day, grams.ln())).collect()
}

fn weights(rows: &[(f64, f64)]) -> Vec<(f64, Grams)> {
    rows.iter().map(|(day, grams)| (*day, Grams::new(*grams).unwrap())).collect()
}

const FALLING: [(f64, f64); 7] = [
    (0.0, 1900.0),
    (17.0, 1880.0),
    (31.0, 1851.0),
    (60.0, 1820.0),
    (66.0, 2150.0),
    (88.0, 1775.0),
    (101.0, 1769.0),
];
const GROWING: [(f64, f64); 10] = [
    (0.0, 62.0),
    (8.0, 70.0),
    (20.0, 83.0),
    (27.0, 96.0),
    (45.0, 121.0),
    (52.0, 140.0),
    (70.0, 171.0),
    (81.0, 205.0),
    (99.0, 260.0),
    (130.0, 371.0),
];
const UP_AND_DOWN: [(f64, f64); 6] =
    [(0.0, 1510.0), (3.0, 1560.0), (30.0, 1490.0), (41.0, 1525.0), (77.0, 1533.0), (110.0, 1480.0)];

/// statsmodels 0.15.0, RLM with HuberT (`tests/published/weight_trend/generate.py`).
#[test]
fn the_line_is_that_of_statsmodels() {
    let cases = [
        (FALLING.as_slice(), [7.549_517_718_94, -0.000_720_010_639_786, 6.712_490_395_78e-5]),
        (GROWING.as_slice(), [4.157_513_741_55, 0.014_056_726_303_5, 0.000_331_709_583_376]),
        (UP_AND_DOWN.as_slice(), [7.333_247_066_64, -0.000_215_003_969_912, 0.000_197_263_849_726]),
    ];
    for (rows, [at, slope, error]) in cases {
        let found = line(&logs(rows));
        assert!((found.at - at).abs() < 1e-8, "{found:?}");
        assert!((found.slope - slope).abs() < 1e-8 * slope.abs().max(1e-3), "{found:?}");
        assert!((found.error / error - 1.0).abs() < 1e-5, "{found:?} for {error}");
    }
}

/// statsmodels 0.15.0, OLS of four weights with its 80 % interval of the slope.
#[test]
fn few_weights_are_drawn_by_least_squares() {
    let four = [(0.0, 1000.0), (20.0, 1010.0), (50.0, 990.0), (90.0, 985.0)];
    let found = line(&logs(&four));
    assert!((found.slope + 0.000_229_389_536_109).abs() < 1e-12, "{found:?}");
    assert!((found.error - 0.000_118_195_985_985).abs() < 1e-12, "{found:?}");
    let trend = weight_trend(&weights(&four)).unwrap();
    // The scales' own ups and downs are larger than this fit's error: the interval is wider.
    let low = (30.0 * -0.000_452_262_024_64_f64).exp_m1();
    assert!(trend.monthly.low < low && trend.monthly.low > 2.5 * low, "{trend:?}");
}

/// The one weight of 2,150 g in a falling row hardly moves the line.
#[test]
fn a_slip_of_the_pen_does_not_turn_the_trend() {
    let with = weight_trend(&weights(&FALLING)).unwrap();
    let without: Vec<_> = FALLING.into_iter().filter(|w| w.1 < 2000.0).collect();
    let without = weight_trend(&weights(&without)).unwrap();
    assert!((with.monthly.median - without.monthly.median).abs() < 0.002);
    assert!(with.monthly.high < 0.0, "it loses, surely: {with:?}");
    assert!((with.now - 1769.0).abs() < 15.0, "{with:?}");
}

#[test]
fn two_weights_or_one_day_are_no_trend() {
    assert_eq!(weight_trend(&weights(&FALLING[..2])), None);
    assert_eq!(weight_trend(&weights(&[(3.0, 100.0), (3.0, 101.0), (3.0, 102.0)])), None);
}

proptest! {
    /// A weight that grows by a fixed share is found whatever the days; scales that read a tenth more
    /// change no share.
    #[test]
    fn an_exact_growth_is_found(
        days in proptest::collection::btree_set(0..400i32, 3..12),
        monthly in -0.1..0.3f64,
        start in 60.0..1500.0f64,
    ) {
        let grams = |d: i32| start * (f64::from(d) / 30.0 * monthly.ln_1p()).exp();
        let rows = |by: f64| -> Vec<(f64, Grams)> {
            days.iter().map(|d| (f64::from(*d), Grams::new((by * grams(*d)).clamp(20.0, 9e4)).unwrap())).collect()
        };
        prop_assume!(days.iter().all(|d| (25.0..8e4).contains(&grams(*d))));
        let trend = weight_trend(&rows(1.0)).unwrap();
        prop_assert!((trend.monthly.median - monthly).abs() < 0.02, "{trend:?}");
        prop_assert!(trend.monthly.low <= monthly + 0.01 && monthly - 0.01 <= trend.monthly.high);
        let more = weight_trend(&rows(1.1)).unwrap();
        prop_assert!((more.monthly.median - trend.monthly.median).abs() < 0.02);
    }
}
