//! What a test would tell.

use genetics::information::{Proof, Test, TestMisfit, Told, cheapest_first, entropy, laboratory};
use genetics::{LinkageGroup, Sex};
use proptest::prelude::*;

use crate::shelf::near;
use genetics::chances::ClutchSize;

/// States of one recessive: none, one, two copies. Words: looks normal, shows it.
fn looks() -> Vec<Vec<f64>> {
    vec![vec![1.0, 1.0, 0.0], vec![0.0, 0.0, 1.0]]
}

/// A dam that is het with `prior`, and a sire of known copies.
fn test_pair(prior: f64, sire: usize) -> Test {
    let group = LinkageGroup::autosomal(2).unwrap();
    let pairs = [(sire, 1, prior), (sire, 0, 1.0 - prior)];
    Test::by_young(&group, &pairs, Sex::Female, |state| state == 1, &looks()).unwrap()
}

fn after_normal(test: &Test, young: usize) -> f64 {
    test.told(young).outcome(&[young, 0]).unwrap().after
}

/// Prior 2/3, a visual mate, k normal-looking young: 1 / (1 + 2^(k-1)) (standard). Prior 1/2:
/// 1 / (1 + 2^k) (Bridge 1997). Prior 2/3 and a proven het: 2 (3/4)^k / (2 (3/4)^k + 1) (computed).
#[test]
fn normal_young_speak_against_a_het() {
    for k in 0..9 {
        let halves = 2_f64.powi(k);
        let k = k as usize;
        near(after_normal(&test_pair(2.0 / 3.0, 2), k), 1.0 / (1.0 + halves / 2.0));
        near(after_normal(&test_pair(0.5, 2), k), 1.0 / (1.0 + halves));
        let left = 2.0 * 0.75_f64.powi(k as i32);
        near(after_normal(&test_pair(2.0 / 3.0, 1), k), left / (left + 1.0));
    }
    near(test_pair(2.0 / 3.0, 2).told(3).outcome(&[2, 1]).unwrap().after, 1.0);
}

/// Three visual young of a visual mate leave a parent of prior 1/2 het with 1/9 (class notes).
#[test]
fn visual_young_speak_for_a_visual_parent() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let pairs = [(1, 2, 0.5), (2, 2, 0.5)];
    let test = Test::by_young(&group, &pairs, Sex::Male, |state| state == 1, &looks()).unwrap();
    near(test.told(3).outcome(&[0, 3]).unwrap().after, 1.0 / 9.0);
}

/// Chances of not being het after k normal young of a visual mate, prior 2/3: 1 - 1/9 at four,
/// 1 - 1/17 at five, 1 - 1/33 at six, 1 - 1/129 at eight (as above): these first pass 90, 95, 99 %.
#[test]
fn young_needed() {
    let visual = test_pair(2.0 / 3.0, 2);
    for (level, n) in [(0.9, 5), (0.95, 6), (0.99, 8)] {
        assert_eq!(visual.times_needed(level, 50), Some(n));
    }
    let het = test_pair(2.0 / 3.0, 1);
    // 2 (3/4)^k <= 1/9, 1/19, 1/99.
    for (level, n) in [(0.9_f64, 11), (0.95, 13), (0.99, 19)] {
        assert_eq!(het.times_needed(level, 50), Some(n));
        let left = |k: i32| 2.0 * 0.75_f64.powi(k) / (2.0 * 0.75_f64.powi(k) + 1.0);
        assert!(left(n as i32) <= 1.0 - level && left(n as i32 - 1) > 1.0 - level);
    }
    // A mate that carries nothing tells nothing.
    assert_eq!(test_pair(2.0 / 3.0, 0).times_needed(0.9, 50), None);
    near(test_pair(2.0 / 3.0, 0).told(9).bits(), 0.0);
    // What is sure already needs no test.
    assert_eq!(test_pair(0.95, 2).times_needed(0.9, 50), Some(0));
    // A mate that is het with one half never makes sure that she is not.
    let group = LinkageGroup::autosomal(2).unwrap();
    let pairs = [(1, 1, 0.25), (1, 0, 0.25), (0, 1, 0.25), (0, 0, 0.25)];
    let doubtful = Test::by_young(&group, &pairs, Sex::Female, |s| s == 1, &looks()).unwrap();
    assert_eq!(doubtful.times_needed(0.9, 50), None);
}

/// A laboratory wrong with chance e about an even question is a binary symmetric channel: 1 - H(e)
/// bits, .919207 at e = .01 (Shannon 1948).
#[test]
fn a_laboratory_is_a_channel() {
    let of = |prior: f64, error: f64| {
        let words = laboratory(3, |state| state == 1, error);
        Test::of_animal(&[1.0 - prior, prior, 0.0], |state| state == 1, &words).unwrap()
    };
    near(of(0.5, 0.0).told(1).bits(), 1.0);
    near(of(0.5, 0.01).told(1).bits(), 1.0 - entropy(0.01));
    assert!((of(0.5, 0.01).told(1).bits() - 0.919_207).abs() < 5e-7);
    near(of(0.5, 0.5).told(1).bits(), 0.0);
    near(of(2.0 / 3.0, 0.0).told(1).bits(), entropy(2.0 / 3.0));
    // Prior 2/3 and a yes: 2 (1 - e) / (2 (1 - e) + e).
    near(of(2.0 / 3.0, 0.01).told(1).outcome(&[1, 0]).unwrap().after, 1.98 / 1.99);
}

#[test]
fn a_clutch_of_random_size_is_the_mean_of_its_sizes() {
    let test = test_pair(0.5, 2);
    let sizes = ClutchSize::from_weights(&[0.0, 1.0, 0.0, 3.0]).unwrap();
    let bits = |n| test.told(n).bits();
    near(test.of_clutch(&sizes, Told::bits), 0.25 * bits(1) + 0.75 * bits(3));
    let sure = |n| test.told(n).sure(0.85);
    near(test.of_clutch(&sizes, |told| told.sure(0.85)), 0.25 * sure(1) + 0.75 * sure(3));
    // One young settles half of the hets; three leave 1/9 where none shows it.
    near(sure(1), 0.25);
    near(sure(3), 1.0);
    // Of three young none shows it with 1/2 + 1/16: right in 1/2 of these; else one is sure.
    near(test.told(3).surety(), 0.5 + 0.5 * 7.0 / 8.0);
    near(test.told(3).after(|counts| counts[1] > 0).unwrap(), 1.0);
    near(test.told(3).after(|_| true).unwrap(), 0.5);
    assert_eq!(test.told(3).after(|counts| counts[1] > 3), None);
}

#[test]
fn cheap_bits_come_first() {
    let proof = |bits, cost| Proof { bits, cost };
    let proofs = [
        proof(0.9, Some(60.0)),
        proof(0.3, Some(10.0)),
        proof(0.5, None),
        proof(0.8, None),
        proof(0.0, Some(0.0)),
    ];
    assert_eq!(cheapest_first(&proofs), [1, 0, 3, 2]);
}

#[test]
fn refuses_what_does_not_fit() {
    let yes = |state: usize| state == 1;
    let half = vec![vec![0.5, 0.5], vec![0.5, 0.4]];
    assert_eq!(Test::of_animal(&[0.5, 0.5], yes, &half), Err(TestMisfit));
    assert_eq!(Test::of_animal(&[0.0, 0.0], yes, &laboratory(2, yes, 0.0)), Err(TestMisfit));
    assert_eq!(Test::of_animal(&[1.0], yes, &[]), Err(TestMisfit));
    let group = LinkageGroup::autosomal(2).unwrap();
    let beyond = Test::by_young(&group, &[(3, 0, 1.0)], Sex::Male, yes, &looks());
    assert_eq!(beyond, Err(TestMisfit));
}

proptest! {
    /// Bits by writing out every sequence of words: the mutual information by its definition, the sum
    /// of p(x, y) log2 p(x, y) / (p(x) p(y)).
    #[test]
    fn bits_by_definition(
        chances in prop::collection::vec(0.01_f64..1.0, 9), words in prop::collection::vec(0.01_f64..1.0, 9), times in 0_usize..5,
    ) {
        let group = LinkageGroup::autosomal(2).unwrap();
        let sum: f64 = chances.iter().sum();
        let pairs: Vec<_> = chances.iter().enumerate().map(|(i, p)| (i / 3, i % 3, p / sum)).collect();
        let whole = |state: usize| (0..3).map(|w| words[3 * w + state]).sum::<f64>();
        let words: Vec<Vec<f64>> = (0..3).map(|w| (0..3).map(|s| words[3 * w + s] / whole(s)).collect()).collect();
        let test = Test::by_young(&group, &pairs, Sex::Female, |state| state == 1, &words).unwrap();
        let young = |s, d, word: usize| group.young(s, d).iter().map(|(y, p)| p * words[word][usize::from(*y)]).sum::<f64>();
        let mut bits = 0.0;
        let yes: f64 = pairs.iter().filter(|(_, d, _)| *d == 1).map(|(_, _, p)| p).sum();
        for way in 0..3_usize.pow(times as u32) {
            let mut together = [0.0, 0.0];
            for (s, d, p) in &pairs {
                let said = (0..times).map(|i| young(*s, *d, way / 3_usize.pow(i as u32) % 3)).product::<f64>();
                together[usize::from(*d == 1)] += p * said;
            }
            let said = together[0] + together[1];
            for (both, answer) in together.into_iter().zip([1.0 - yes, yes]) {
                bits += both * (both / (said * answer)).log2();
            }
        }
        let told = test.told(times);
        prop_assert!((told.bits() - bits).abs() < 1e-12, "{} {bits}", told.bits());
        prop_assert!((told.outcomes.iter().map(|o| o.chance).sum::<f64>() - 1.0).abs() < 1e-12);
        let mean: f64 = told.outcomes.iter().map(|o| o.chance * o.after).sum();
        prop_assert!((mean - yes).abs() < 1e-12);
    }
}
