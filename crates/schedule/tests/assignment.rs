//! The solver alone: against every matching tried, on odd shapes, and where greedy fails.

use proptest::prelude::*;
use schedule::assignment::assign;

use crate::oracle::{best_by_trying, greedy};

/// SplitMix64 (Steele, Lea and Flood 2014).
pub struct SplitMix64(pub u64);

impl SplitMix64 {
    pub fn draw(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let z = self.0;
        let z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        let z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }
}

/// Total worth of a matching; checks that no column is used twice and no worthless pair matched.
pub fn total(columns: usize, worth: &[f64], matched: &[Option<usize>]) -> f64 {
    let mut used = vec![false; columns];
    let mut sum = 0.0;
    for (i, column) in matched.iter().enumerate() {
        if let Some(j) = *column {
            assert!(!std::mem::replace(&mut used[j], true), "column {j} twice");
            assert!(worth[i * columns + j] > 0.0, "a pair without worth");
            sum += worth[i * columns + j];
        }
    }
    sum
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn as_good_as_trying_every_matching(
        (rows, columns, worth) in (0usize..6, 0usize..7).prop_flat_map(|(r, c)| {
            let entry = prop_oneof![Just(0.0), -1.0..0.0, 0.0..1.0, (0u8..4).prop_map(f64::from)];
            (Just(r), Just(c), prop::collection::vec(entry, r * c))
        })
    ) {
        let found = total(columns, &worth, &assign(rows, columns, &worth));
        prop_assert!((found - best_by_trying(rows, columns, &worth)).abs() < 1e-9);
        prop_assert!(found >= greedy(rows, columns, &worth).0 - 1e-9);
    }

    #[test]
    fn turning_the_matrix_or_scaling_it_changes_no_optimum(
        (rows, columns, worth) in (1usize..12, 1usize..12).prop_flat_map(|(r, c)| {
            (Just(r), Just(c), prop::collection::vec((0u16..50).prop_map(f64::from), r * c))
        }),
        power in -200i32..200,
    ) {
        let straight = total(columns, &worth, &assign(rows, columns, &worth));
        let turned: Vec<f64> =
            (0..columns).flat_map(|j| (0..rows).map(move |i| (i, j))).map(|(i, j)| worth[i * columns + j]).collect();
        prop_assert_eq!(straight, total(rows, &turned, &assign(columns, rows, &turned)));
        let scaled: Vec<f64> = worth.iter().map(|w| w * f64::from(power).exp2()).collect();
        prop_assert_eq!(assign(rows, columns, &scaled), assign(rows, columns, &worth));
    }
}

#[test]
fn a_bidding_war_on_few_good_columns_ends_at_the_optimum() {
    // Forty rows that all want the same three columns by a hair: bidding alone would go on.
    let (rows, columns) = (40, 60);
    let worth: Vec<f64> = (0..rows * columns)
        .map(|k| {
            if k % columns < 3 {
                1000.0 + f64::from(u32::try_from(k / columns).unwrap()) * 1e-3
            } else {
                1.0
            }
        })
        .collect();
    let found = total(columns, &worth, &assign(rows, columns, &worth));
    let expected = 1000.037 + 1000.038 + 1000.039 + 37.0;
    assert!((found - expected).abs() < 1e-6, "{found} against {expected}");
}

#[test]
fn strange_input_panics_nowhere() {
    assert_eq!(assign(0, 0, &[]), []);
    assert_eq!(assign(3, 0, &[]), [None; 3]);
    assert_eq!(assign(2, 2, &[1.0]), [Some(0), None], "missing pairs are worth nothing");
    assert_eq!(assign(1, 2, &[f64::NAN, 1.0]), [Some(1)]);
    assert_eq!(assign(1, 2, &[f64::INFINITY, 1.0]), [Some(1)]);
    assert_eq!(assign(1, 1, &[f64::MIN_POSITIVE]), [Some(0)]);
    assert_eq!(assign(1, 1, &[f64::MAX]), [Some(0)]);
    assert_eq!(assign(1, 1, &[5e-324]), [Some(0)]);
}

#[test]
fn equal_worths_go_to_the_lower_index() {
    assert_eq!(assign(2, 3, &[1.0; 6]), [Some(0), Some(1)]);
    assert_eq!(assign(3, 2, &[1.0; 6]), [Some(0), Some(1), None]);
}
