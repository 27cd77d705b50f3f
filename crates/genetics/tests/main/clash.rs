//! Records that cannot all be true.

use genetics::clash::{Case, Clash, Piece, clashes};
use genetics::linkage::{LinkageGroup, SexLink};
use genetics::posterior::Budget;
use genetics::{Evidence, Origin};
use proptest::prelude::*;

fn only(states: usize, allowed: &[usize]) -> Vec<f64> {
    (0..states).map(|s| f64::from(u8::from(allowed.contains(&s)))).collect()
}

fn case(group: &LinkageGroup, origins: Vec<Origin>, pieces: Vec<Piece>) -> Case<'_> {
    let half = [vec![0.5, 0.5]];
    let background = group.founder_weights(&half);
    let mut granted = Evidence::flat(origins.len(), group.n_states());
    for (animal, _) in origins.iter().enumerate().filter(|(_, o)| **o == Origin::Founder) {
        granted.see(animal, &background);
    }
    Case { origins, group, granted, background, pieces, budget: Budget::default() }
}

fn seen(animal: usize, group: &LinkageGroup, allowed: &[usize]) -> Piece {
    Piece::Seen { animal, weights: only(group.n_states(), allowed) }
}

// pedprobr's unit tests: father 11 with a child 22 has likelihood 0, whatever the mother.
#[test]
fn father_and_child_share_no_allele() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let origins = vec![Origin::Founder, Origin::Founder, Origin::Parents { sire: 0, dam: 1 }];
    let pieces = vec![
        seen(0, &group, &[0]),
        seen(1, &group, &[0, 1, 2]),
        seen(2, &group, &[2]),
        Piece::Sire { young: vec![2] },
        Piece::Dam { young: vec![2] },
    ];
    let found = case(&group, origins, pieces).clashes(5);
    assert_eq!(found, [Clash { set: vec![0, 2, 3], resolved_by: vec![0, 2, 3] }]);
}

// pedprobr's unit tests: X-linked, mother 11 with a son 2 has likelihood 0; the father is no part of it.
#[test]
fn mother_and_son_share_no_allele_on_the_x() {
    let group = LinkageGroup::sex_linked(2, SexLink::XOnly).unwrap();
    let state = |first: usize, is_male: bool| {
        (0..group.n_states())
            .filter(|s| {
                let alleles = group.alleles(*s, 0).unwrap();
                let fits = |a: genetics::AlleleId| a.index() == first;
                fits(alleles.0) && alleles.1.is_none_or(fits) && alleles.1.is_none() == is_male
            })
            .collect::<Vec<_>>()
    };
    let origins = vec![Origin::Founder, Origin::Founder, Origin::Parents { sire: 0, dam: 1 }];
    let pieces = vec![
        Piece::Seen { animal: 0, weights: only(group.n_states(), &state(1, true)) },
        Piece::Seen { animal: 1, weights: only(group.n_states(), &state(0, false)) },
        Piece::Seen { animal: 2, weights: only(group.n_states(), &state(1, true)) },
        Piece::Sire { young: vec![2] },
        Piece::Dam { young: vec![2] },
    ];
    let found = case(&group, origins, pieces).clashes(5);
    assert_eq!(found, [Clash { set: vec![1, 2, 4], resolved_by: vec![1, 2, 4] }]);
}

// A super of an incomplete dominant gives every one of its young one copy.
#[test]
fn clutch_of_a_super_with_one_normal_hatchling() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let young = |_| Origin::Parents { sire: 0, dam: 1 };
    let origins = [Origin::Founder, Origin::Founder].into_iter().chain((0..4).map(young));
    let mut pieces = vec![seen(0, &group, &[2]), seen(1, &group, &[0])];
    pieces.extend([2, 3, 4].map(|animal| seen(animal, &group, &[1])));
    pieces.push(seen(5, &group, &[0]));
    pieces.push(Piece::Sire { young: vec![2, 3, 4, 5] });
    let found = case(&group, origins.collect(), pieces).clashes(5);
    // Another sire resolves it, a wrong look of either does; the other hatchlings do not matter.
    assert_eq!(found, [Clash { set: vec![0, 5, 6], resolved_by: vec![0, 5, 6] }]);
}

// Two visual young of parents who are said to lack the gene altogether: two things are wrong.
#[test]
fn two_families_with_a_clash_each() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let origins = vec![
        Origin::Founder,
        Origin::Founder,
        Origin::Parents { sire: 0, dam: 1 },
        Origin::Founder,
        Origin::Founder,
        Origin::Parents { sire: 3, dam: 4 },
    ];
    let looks = [0, 0, 2, 0, 0, 2].into_iter().enumerate();
    let pieces = looks.map(|(animal, state)| seen(animal, &group, &[state])).collect();
    let found = case(&group, origins, pieces).clashes(5);
    // The dam alone makes it impossible, and so does the sire: one of them is enough for a proof,
    // and the look of the young one alone resolves it, whatever is wrong in the other family.
    assert_eq!(found.len(), 2);
    assert!(found.iter().all(|clash| clash.set.len() == 2));
    let resolved: Vec<_> = found.iter().map(|clash| clash.resolved_by.clone()).collect();
    assert_eq!(resolved, [[2], [5]]);
}

#[test]
fn without_a_clash_none_is_found() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let origins = vec![Origin::Founder, Origin::Founder, Origin::Parents { sire: 0, dam: 1 }];
    let pieces = vec![seen(0, &group, &[1]), seen(1, &group, &[1]), seen(2, &group, &[2])];
    assert_eq!(case(&group, origins, pieces).clashes(5), []);
}

// By hand: a normal look of a het costs nothing; a look with a miss chance of .01 that alone speaks
// against a sure child costs two powers of ten.
#[test]
fn relief_is_the_rise_of_the_likelihood() {
    let group = LinkageGroup::autosomal(2).unwrap();
    let origins = vec![Origin::Founder, Origin::Founder, Origin::Parents { sire: 0, dam: 1 }];
    let pieces = vec![
        seen(0, &group, &[2]),
        seen(1, &group, &[0]),
        Piece::Seen { animal: 2, weights: vec![1.0, 0.01, 0.01] },
    ];
    let relief = case(&group, origins, pieces).relief(&[2]).unwrap();
    assert!((relief[0] - 2.0).abs() < 1e-12, "{relief:?}");
}

// Records clash where a whole one of some given sets is kept.
fn possible(sets: &[Vec<usize>], kept: &[bool]) -> bool {
    !sets.iter().any(|set| set.iter().all(|i| kept[*i]))
}

proptest! {
    #[test]
    fn every_set_found_clashes_and_no_part_of_it_does(
        n in 1_usize..12,
        drawn in prop::collection::vec(prop::collection::vec(0_usize..12, 1..5), 0..5),
    ) {
        let sets: Vec<Vec<usize>> = drawn
            .into_iter()
            .map(|set| set.into_iter().filter(|i| *i < n).collect::<Vec<_>>())
            .filter(|set| !set.is_empty())
            .collect();
        let found = clashes(n, 20, |kept| possible(&sets, kept));
        let mut left = vec![true; n];
        let all_sets: Vec<usize> = found.iter().flat_map(|clash| clash.set.clone()).collect();
        for clash in &found {
            let with = |set: &[usize]| (0..n).map(|i| set.contains(&i)).collect::<Vec<_>>();
            prop_assert!(!possible(&sets, &with(&clash.set)));
            for i in &clash.set {
                let part: Vec<usize> = clash.set.iter().copied().filter(|j| j != i).collect();
                prop_assert!(possible(&sets, &with(&part)), "{:?} of {:?}", clash.set, sets);
                prop_assert!(left[*i], "in two sets");
                left[*i] = false;
            }
            let resolves = |i: &usize| {
                let is_kept = |j: usize| {
                    j != *i && (clash.set.contains(&j) || !all_sets.contains(&j))
                };
                possible(&sets, &(0..n).map(is_kept).collect::<Vec<_>>())
            };
            let all: Vec<usize> = clash.set.iter().copied().filter(resolves).collect();
            prop_assert_eq!(&clash.resolved_by, &all);
        }
        prop_assert!(possible(&sets, &left), "what is left clashes");
    }
}
