//! Who fathered a clutch: worked cases in print.

use genetics::LinkageGroup;
use genetics::linkage::SexLink;
use genetics::paternity::{ClutchSeen, GroupSeen, Parents, Prior, Verdict};

use crate::shelf::near;

/// State of two alleles of an ordinary locus.
fn state(a: usize, b: usize) -> usize {
    a.max(b) * (a.max(b) + 1) / 2 + a.min(b)
}

fn row(states: usize, of: usize) -> Vec<f64> {
    (0..states).map(|s| f64::from(u8::from(s == of))).collect()
}

/// Likelihood ratio of a man against an unknown one, one locus: alleles by number, the frequency of
/// each, mother, child and man. The last allele stands for all others.
fn ratio(
    frequencies: &[f64],
    mother: Option<(usize, usize)>,
    child: (usize, usize),
    man: (usize, usize),
) -> f64 {
    let mut all = frequencies.to_vec();
    all.push(1.0 - frequencies.iter().sum::<f64>());
    let group = LinkageGroup::autosomal(all.len()).unwrap();
    let unknown = group.founder_weights(&[all]);
    let n = group.n_states();
    let known = |alleles: Option<(usize, usize)>| match alleles {
        Some((a, b)) => row(n, state(a, b)),
        None => unknown.clone(),
    };
    let pair = |sire: &[f64]| {
        let dam = known(mother);
        let of = |s: usize| {
            let dam = &dam;
            (0..n).map(move |d| (s, d, sire[s] * dam[d]))
        };
        Parents::Pair((0..n).flat_map(of).collect())
    };
    let parents = vec![pair(&known(Some(man))), pair(&unknown)];
    let young = vec![row(n, state(child.0, child.1))];
    let seen = ClutchSeen::new(&[GroupSeen { group: &group, parents, young }]).unwrap();
    10_f64.powf(seen.log10_by_one(0) - seen.log10_by_one(1))
}

/// A worked case of the US justice institute: four loci (mother; child; man) (16;16;15,16),
/// (17,18;17,18;18,20), (25,27;23,25;21,23), (14,18;18;18,20). Printed 2.1598, 1.0317, 3.1625, 5.4466;
/// product (computed without rounding) 38.385841, W at prior 1/2 .974610.
#[test]
fn a_worked_case_of_four_loci() {
    let first = ratio(&[0.2315], Some((0, 0)), (0, 0), (1, 0));
    let second = ratio(&[0.2627, 0.2219], Some((0, 1)), (0, 1), (1, 2));
    let third = ratio(&[0.1581, 0.2, 0.2], Some((1, 2)), (0, 1), (3, 0));
    let fourth = ratio(&[0.0918, 0.1], Some((1, 0)), (0, 0), (0, 2));
    for (found, printed) in [(first, 2.1598), (second, 1.0317), (third, 3.1625), (fourth, 5.4466)] {
        // The page cuts the second one: 1.03178.
        assert!((found - printed).abs() < 0.000_1, "{found} {printed}");
    }
    let product = first * second * third * fourth;
    assert!((product - 38.385_841).abs() < 5e-7, "{product}");
    assert!((product / (product + 1.0) - 0.974_610).abs() < 5e-7);
}

/// The cells of the table of likelihood ratios (textbook formulas), at p = .2 and .3.
#[test]
fn ratios_by_formula() {
    let (pi, pj) = (0.2, 0.3);
    let of = |mother, child, man| ratio(&[pi, pj, 0.1, 0.1], mother, child, man);
    for mother in [(0, 0), (0, 2)] {
        near(of(Some(mother), (0, 0), (0, 0)), 1.0 / pi);
        near(of(Some(mother), (0, 0), (0, 1)), 1.0 / (2.0 * pi));
    }
    for man in [(0, 0), (0, 1), (1, 1)] {
        near(of(Some((0, 1)), (0, 1), man), 1.0 / (pi + pj));
    }
    near(of(Some((0, 1)), (0, 1), (0, 2)), 1.0 / (2.0 * (pi + pj)));
    near(of(Some((0, 2)), (0, 1), (1, 1)), 1.0 / pj);
    near(of(Some((0, 2)), (0, 1), (1, 3)), 1.0 / (2.0 * pj));
}

/// Egeland, Kling & Mostad, example 2.1: a homozygous match at p = .05 gives 20, a second locus at
/// .1 makes it 200; without the mother the first is 20 as well.
#[test]
fn homozygous_matches() {
    near(ratio(&[0.05], None, (0, 0), (0, 0)), 20.0);
    near(ratio(&[0.05], Some((0, 0)), (0, 0), (0, 0)), 20.0);
    let both = ratio(&[0.05], None, (0, 0), (0, 0)) * ratio(&[0.1], None, (0, 0), (0, 0));
    assert!((both - 200.0).abs() < 1e-10);
}

fn known_pair(sire: usize, dam: usize) -> Parents {
    Parents::Pair(vec![(sire, dam, 1.0)])
}

fn weigh(seen: &ClutchSeen, candidates: &[f64], two: f64) -> Verdict {
    seen.weigh(&Prior { candidates: candidates.to_vec(), two }).unwrap()
}

/// A male who gives T to half of his young and one who never does share a clutch in unknown parts:
/// six young without T leave the first a share of .243110 (computed; likelihood (1 - s/2)^6).
#[test]
fn a_share_of_a_clutch_that_shows_nothing() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let parents = vec![known_pair(1, 0), known_pair(0, 0)];
    let mut young = vec![vec![1.0, 0.0, 0.0]; 6];
    // The mean share is the chance of the first for a seventh young that nobody has seen.
    young.push(vec![1.0; 3]);
    let seen = ClutchSeen::new(&[GroupSeen { group: &group, parents, young }]).unwrap();
    let verdict = weigh(&seen, &[0.5, 0.5], 1.0);
    assert!((verdict.hatchlings[6][0] - 0.243_110).abs() < 5e-7, "{:?}", verdict.hatchlings[6]);
    assert!((verdict.two - 1.0).abs() < 1e-12);
    // The integral of (1 - s/2)^6 is 2 (1 - 2^-7) / 7.
    let integral: f64 = 2.0 * (1.0 - 0.5_f64.powi(7)) / 7.0;
    near(seen.log10_by_several(&[0, 1]).unwrap(), integral.log10());
    near(verdict.log10_two.unwrap(), integral.log10());
}

/// Prior .1 and a combined index of 2,920,823: .999996919 (published).
#[test]
fn a_small_prior_and_a_large_index() {
    // Five loci with homozygous matches multiply to the index.
    let p = 2_920_823_f64.powf(-0.2);
    let group = LinkageGroup::autosomal(2).unwrap();
    let unknown = group.founder_weights(&[vec![1.0 - p, p]]);
    let pair =
        |sire: &[f64]| Parents::Pair(sire.iter().enumerate().map(|(s, w)| (s, 2, *w)).collect());
    let parents = vec![pair(&[0.0, 0.0, 1.0]), pair(&unknown)];
    let locus = GroupSeen { group: &group, parents, young: vec![vec![0.0, 0.0, 1.0]] };
    let seen = ClutchSeen::new(&vec![locus; 5]).unwrap();
    let verdict = weigh(&seen, &[0.1, 0.9], 0.0);
    assert!((verdict.candidates[0].alone - 0.999_996_919).abs() < 5e-10);
}

/// Chance that a random man is excluded by a random child alone, p = .1: 2 p² q² = .0162 on an
/// ordinary chromosome; X-linked, father and daughter, p q = .09, father and son 0 (published tests
/// of a general library for relatedness).
#[test]
fn exclusion_power() {
    let ordinary = LinkageGroup::autosomal(2).unwrap();
    let linked = LinkageGroup::sex_linked(2, SexLink::XOnly).unwrap();
    for (group, sex, expected) in [
        (&ordinary, None, 0.0162),
        (&linked, Some(genetics::Sex::Female), 0.09),
        (&linked, Some(genetics::Sex::Male), 0.0),
    ] {
        let founders = group.founder_weights(&[vec![0.1, 0.9]]);
        let n = group.n_states();
        let of_sex = |sex| (0..n).filter(move |s| group.sex(*s).is_none() || group.sex(*s) == sex);
        let share = |sex| of_sex(sex).map(|s| founders[s]).sum::<f64>();
        let (male, female) = (Some(genetics::Sex::Male), Some(genetics::Sex::Female));
        let mut excluded = 0.0;
        for man in of_sex(male) {
            for child in of_sex(sex) {
                let dams = of_sex(female).map(|d| (man, d, founders[d] / share(female)));
                let parents = vec![Parents::Pair(dams.collect())];
                let young = vec![row(n, child)];
                let seen = ClutchSeen::new(&[GroupSeen { group, parents, young }]).unwrap();
                if seen.log10_by_one(0) == f64::NEG_INFINITY {
                    excluded += founders[man] / share(male) * founders[child] / share(sex);
                }
            }
        }
        near(excluded, expected);
    }
}

/// The child of a dam without a father who shows two copies of all she has one of: parthenogenesis
/// is as likely as a male of the same look is not (computed: terminal fusion makes it certain, a
/// visual male gives 1/2 a locus).
#[test]
fn a_female_alone() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let parents = vec![known_pair(2, 1), Parents::Alone(vec![(1, 1.0)])];
    let visual = vec![0.0, 0.0, 1.0];
    let wild = vec![1.0, 0.0, 0.0];
    let locus = |young| GroupSeen { group: &group, parents: parents.clone(), young };
    let two = [locus(vec![visual.clone()]), locus(vec![visual])];
    let verdict = weigh(&ClutchSeen::new(&two).unwrap(), &[0.5, 0.5], 0.0);
    // Each locus: one half from either. The male gives no wild young at all.
    near(verdict.candidates[1].alone, 0.5);
    let verdict = weigh(&ClutchSeen::new(&[locus(vec![wild])]).unwrap(), &[0.99, 0.01], 0.0);
    near(verdict.candidates[1].alone, 1.0);
    assert_eq!(verdict.candidates[0].log10_likelihood, f64::NEG_INFINITY);
    // Sons have a father.
    let sexes = LinkageGroup::sex_linked(1, SexLink::XOnly).unwrap();
    let (female, male) = (0, 1);
    let son = vec![row(2, male)];
    let parents = vec![known_pair(male, female), Parents::Alone(vec![(female, 1.0)])];
    let seen = ClutchSeen::new(&[GroupSeen { group: &sexes, parents, young: son }]).unwrap();
    near(weigh(&seen, &[0.01, 0.99], 0.0).candidates[0].alone, 1.0);
}

/// Where the homozygote never hatches, hatchlings of two with one copy are 2:1 (yellow mice, Castle &
/// Little 1910, from memory): three of four that show it have (2/3)^3 (1/3) by such a sire and 1/16 by
/// one without.
#[test]
fn only_hatchlings_are_seen() {
    let group = LinkageGroup::autosomal(2).unwrap().per_hatchling(&[1.0, 1.0, 0.0]);
    let parents = vec![known_pair(1, 1), known_pair(0, 1)];
    let young = [1, 1, 1, 0].map(|state| row(3, state)).to_vec();
    let locus = GroupSeen { group: &group, parents, young };
    let seen = ClutchSeen::new(&[locus]).unwrap();
    near(10_f64.powf(seen.log10_by_one(0)), 8.0 / 81.0);
    near(10_f64.powf(seen.log10_by_one(1)), 1.0 / 16.0);
}
