//! At least one of a clutch.

use genetics::chances::{ClutchError, ClutchSize, PairBelief};
use proptest::prelude::*;
use units::Probability;

use crate::shelf::{gene, label, near, shelf};

/// Table of 1-(1-p)^n, rounded as a handbook prints it (computed).
#[test]
fn table_of_at_least_one() {
    let sizes = [1, 2, 3, 4, 5, 6, 7, 8, 10, 12];
    let table: [(f64, [f64; 10]); 8] = [
        (1.0 / 2.0, [0.5, 0.75, 0.875, 0.9375, 0.9688, 0.9844, 0.9922, 0.9961, 0.9990, 0.9998]),
        (
            1.0 / 3.0,
            [0.3333, 0.5556, 0.7037, 0.8025, 0.8683, 0.9122, 0.9415, 0.9610, 0.9827, 0.9923],
        ),
        (1.0 / 4.0, [0.25, 0.4375, 0.5781, 0.6836, 0.7627, 0.8220, 0.8665, 0.8999, 0.9437, 0.9683]),
        (
            3.0 / 16.0,
            [0.1875, 0.3398, 0.4636, 0.5642, 0.6459, 0.7123, 0.7662, 0.8101, 0.8746, 0.9172],
        ),
        (
            1.0 / 8.0,
            [0.125, 0.2344, 0.3301, 0.4138, 0.4871, 0.5512, 0.6073, 0.6564, 0.7369, 0.7986],
        ),
        (
            1.0 / 16.0,
            [0.0625, 0.1211, 0.1760, 0.2275, 0.2758, 0.3211, 0.3635, 0.4033, 0.4755, 0.5390],
        ),
        (
            1.0 / 32.0,
            [0.0312, 0.0615, 0.0909, 0.1193, 0.1468, 0.1734, 0.1993, 0.2243, 0.2720, 0.3168],
        ),
        (
            1.0 / 64.0,
            [0.0156, 0.0310, 0.0461, 0.0611, 0.0757, 0.0902, 0.1044, 0.1184, 0.1457, 0.1722],
        ),
    ];
    for (p, row) in table {
        for (n, printed) in sizes.into_iter().zip(row) {
            let chance = ClutchSize::fixed(n).unwrap().at_least_one(p);
            assert!((chance - printed).abs() <= 0.000_051, "p {p}, {n} eggs: {chance} {printed}");
        }
    }
}

/// Eggs needed for 50, 90, 95 and 99 % (computed, the same handbook table).
#[test]
fn eggs_needed_for_a_chance() {
    let table = [
        (1.0 / 2.0, [1, 4, 5, 7]),
        (1.0 / 3.0, [2, 6, 8, 12]),
        (1.0 / 4.0, [3, 9, 11, 17]),
        (3.0 / 16.0, [4, 12, 15, 23]),
        (1.0 / 8.0, [6, 18, 23, 35]),
        (1.0 / 16.0, [11, 36, 47, 72]),
        (1.0 / 32.0, [22, 73, 95, 146]),
        (1.0 / 64.0, [45, 147, 191, 293]),
    ];
    for (p, needed) in table {
        for (wanted, n) in [0.5, 0.9, 0.95, 0.99].into_iter().zip(needed) {
            // Beyond the most eggs of one clutch: several of them.
            let chance = |n: usize| {
                let misses =
                    [n / 2, n - n / 2].map(|n| 1.0 - ClutchSize::fixed(n).unwrap().at_least_one(p));
                1.0 - misses[0] * misses[1]
            };
            assert!(chance(n) >= wanted && chance(n - 1) < wanted, "p {p}, {n} eggs for {wanted}");
        }
    }
}

/// 2/3 het x visual, six eggs: .65625; taking the mean first gives the wrong .9122 (computed).
#[test]
fn a_clutch_shares_its_parents() {
    let cat = shelf();
    let sire = label(&cat, &["66 clown"]);
    let dam = label(&cat, &["clown"]);
    let pair = PairBelief::from_labels(&cat, &sire, &dam);
    let chance =
        pair.target(&cat.shows(gene(&cat, "clown")), &ClutchSize::fixed(6).unwrap()).unwrap();
    near(chance.per_egg, 1.0 / 3.0);
    near(chance.at_least_one, 0.65625);
    let wrong = ClutchSize::fixed(6).unwrap().at_least_one(chance.per_egg);
    assert!((wrong - 0.9122).abs() < 1e-4);
}

/// 5,344 eggs in 783 clutches (Morrill et al. 2011); cut to 1..=15 the mean moves by under .05.
#[test]
fn usual_clutch_has_the_published_mean() {
    let usual = ClutchSize::usual();
    assert!((usual.mean() - 5_344.0 / 783.0).abs() < 0.05, "{}", usual.mean());
    near(usual.chances().iter().sum(), 1.0);
}

#[test]
fn refuses_what_is_no_clutch() {
    assert_eq!(ClutchSize::fixed(201), Err(ClutchError::TooMany { eggs: 201 }));
    for bad in [&[][..], &[0.0, 0.0], &[1.0, -1.0], &[f64::NAN], &[f64::INFINITY]] {
        assert_eq!(ClutchSize::from_weights(bad), Err(ClutchError::NoWeights), "{bad:?}");
    }
}

/// Sums of chances overshoot 1 in the last digit; found at random, gave no number at all.
#[test]
fn a_chance_just_above_one_is_one() {
    let clutch = ClutchSize::fixed(1).unwrap();
    near(clutch.at_least_one(1.0 + f64::EPSILON), 1.0);
    near(clutch.at_least(2, -f64::EPSILON), 0.0);
}

#[test]
fn no_eggs_give_nothing() {
    let none = ClutchSize::fixed(0).unwrap();
    near(none.at_least_one(1.0), 0.0);
    near(none.at_least(2, 1.0), 0.0);
    near(none.at_least(0, 0.0), 1.0);
}

proptest! {
    /// Binomial tails by counting every way the eggs can turn out.
    #[test]
    fn at_least_k_is_what_counting_gives(weights in prop::collection::vec(0.01_f64..1.0, 1..9), p in 0.0_f64..=1.0, k in 0_usize..6) {
        let clutch = ClutchSize::from_weights(&weights).unwrap();
        let mut counted = 0.0;
        for (n, w) in clutch.chances().iter().enumerate() {
            for eggs in 0_u32..1 << n {
                let hits = eggs.count_ones() as usize;
                if hits >= k {
                    counted += w * p.powi(hits as i32) * (1.0 - p).powi((n - hits) as i32);
                }
            }
        }
        prop_assert!((clutch.at_least(k, p) - counted).abs() < 1e-14);
    }

    /// Many chances at once are those one by one; small ones keep their digits: k of n is then
    /// C(n, k) p^k up to terms of order p^(k+1).
    #[test]
    fn many_at_once(n in 1_usize..40, k in 1_usize..5, ps in prop::collection::vec(0.0_f64..=1.0, 0..50), tiny in 1e-12_f64..1e-9) {
        let hits = ClutchSize::fixed(n).unwrap().hits(k);
        let each: Vec<f64> = ps.iter().map(|p| hits.at_least(*p)).collect();
        prop_assert_eq!(hits.at_least_each(&ps), each);
        let ways: f64 = (0..k).map(|i| n.saturating_sub(i) as f64 / (i + 1) as f64).product();
        let first = ways * tiny.powi(k as i32);
        prop_assert!((hits.at_least(tiny) - first).abs() <= 1e-7 * first);
    }

    /// Each egg counting with chance s only is the same as a hit having chance s p.
    #[test]
    fn thinning_is_a_smaller_chance(weights in prop::collection::vec(0.01_f64..1.0, 1..12), s in 0.0_f64..=1.0, p in 0.0_f64..=1.0, k in 1_usize..4) {
        let clutch = ClutchSize::from_weights(&weights).unwrap();
        let thinned = clutch.thinned(Probability::new(s).unwrap());
        prop_assert!((thinned.at_least(k, p) - clutch.at_least(k, s * p)).abs() < 1e-12);
    }
}
