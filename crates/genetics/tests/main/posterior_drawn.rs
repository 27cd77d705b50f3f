//! Chances that are drawn, against the exact ones of the same collection.

use genetics::linkage::{BySex, LinkageGroup, SexLink};
use genetics::posterior::{Accuracy, Budget, Posteriors, Sampling, Unanswered, posteriors};
use genetics::{Evidence, Origin, Pedigree, Sex};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// Animals of a generation; parents are out of the last two generations: loops everywhere.
const EACH: usize = 14;

pub struct Case {
    pub pedigree: Pedigree,
    pub group: LinkageGroup,
    pub evidence: Evidence,
}

/// Genotypes are dropped through a random collection; of a share of the animals `look` is known.
pub fn case(
    (seed, generations): (u64, usize),
    group: LinkageGroup,
    frequencies: &[Vec<f64>],
    (seen_share, look): (f64, &dyn Fn(usize) -> usize),
) -> Case {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let n = generations * EACH;
    let prior = group.founder_weights(frequencies);
    let mut evidence = Evidence::flat(n, group.n_states());
    let (mut origins, mut states) = (Vec::new(), Vec::<usize>::new());
    for animal in 0..n {
        // Of a group without sexes, even animals are males.
        let is_male =
            |a: usize| group.sex(states[a]).map_or(a.is_multiple_of(2), |s| s == Sex::Male);
        let before = (animal / EACH).saturating_sub(2) * EACH..animal / EACH * EACH;
        let males: Vec<usize> = before.clone().filter(|a| is_male(*a)).collect();
        let females: Vec<usize> = before.filter(|a| !is_male(*a)).collect();
        let young: Vec<(u16, f64)> = if males.is_empty() || females.is_empty() {
            origins.push(Origin::Founder);
            evidence.see(animal, &prior);
            (0_u16..).zip(prior.iter().copied()).collect()
        } else {
            let sire = males[random.random_range(0..males.len())];
            let dam = females[random.random_range(0..females.len())];
            origins.push(Origin::Parents { sire, dam });
            group.young(states[sire], states[dam]).to_vec()
        };
        let mut left: f64 = random.random();
        let drawn = young.iter().find(|(_, p)| {
            left -= p;
            left < 0.0
        });
        states.push(usize::from(drawn.unwrap_or(&young[0]).0));
        if random.random::<f64>() < seen_share {
            let seen = look(states[animal]);
            let fits = |state| f64::from(u8::from(look(state) == seen));
            evidence.see(animal, &(0..group.n_states()).map(fits).collect::<Vec<_>>());
        }
    }
    Case { pedigree: Pedigree::new(origins).unwrap(), group, evidence }
}

/// Tables so small that next to nothing is summed out beforehand and most of the rest is held.
fn drawn(seed: u64, most_sweeps: u32) -> Budget {
    let sampling = Sampling { target_error: 0.0, most_sweeps, seed };
    Budget { table_entries: 128, sampling: Some(sampling) }
}

impl Case {
    fn ask(&self, budget: &Budget) -> Result<Posteriors, Unanswered> {
        posteriors(&self.pedigree, &self.group, &self.evidence, budget)
    }

    /// Differences from the exact chances, in standard errors, of all chances that were drawn.
    fn misses(&self, budget: &Budget) -> Vec<f64> {
        let exact = self.ask(&Budget::default().exact()).unwrap();
        assert_eq!(exact.accuracy(), Accuracy::Exact);
        let drawn = self.ask(budget).unwrap();
        let Accuracy::Sampled { worst_error, error_95, .. } = drawn.accuracy() else {
            panic!("it is exact");
        };
        assert!(error_95 <= worst_error && worst_error < 0.5, "{worst_error}");
        assert_eq!(drawn.log10_likelihood(), None);
        let mut misses = Vec::new();
        for animal in 0..self.pedigree.len() {
            let (mine, true_ones) = (drawn.of(animal), exact.of(animal));
            assert!((mine.iter().sum::<f64>() - 1.0).abs() < 1e-9);
            for ((chance, truth), error) in mine.iter().zip(true_ones).zip(drawn.errors_of(animal))
            {
                let miss = (chance - truth).abs();
                assert!(*error <= worst_error);
                if *error > 0.0 {
                    misses.push(miss / error);
                } else {
                    assert!(miss < 1e-9, "animal {animal} is off by {miss} and said to be exact");
                }
            }
        }
        misses
    }
}

/// At least 95 of 100 chances are within two standard errors, over several collections, and none
/// is far off. Chances of one collection err together, so one collection alone says little.
fn claimed_errors_hold(cases: &[Case]) {
    let of = |(seed, case): (u64, &Case)| case.misses(&drawn(seed, 120));
    let misses: Vec<f64> = (0..).zip(cases).flat_map(of).collect();
    let animals: usize = cases.iter().map(|case| case.pedigree.len()).sum();
    assert!(misses.len() > animals, "most are drawn: {} chances of {animals}", misses.len());
    let within = misses.iter().filter(|miss| **miss <= 2.0).count();
    assert!(within * 100 >= misses.len() * 95, "{within} of {}", misses.len());
    let worst = misses.iter().copied().fold(0.0, f64::max);
    assert!(worst < 5.0, "{worst}");
}

#[test]
fn errors_of_a_recessive_hold() {
    let group = || LinkageGroup::autosomal(2).unwrap();
    let case =
        |seed| case((seed, 6), group(), &[vec![0.7, 0.3]], (0.5, &|state| usize::from(state == 2)));
    claimed_errors_hold(&(0..4).map(case).collect::<Vec<_>>());
}

#[test]
fn errors_of_three_visible_alleles_hold() {
    let group = || LinkageGroup::autosomal(3).unwrap();
    let case = |seed| case((seed, 6), group(), &[vec![0.4, 0.3, 0.3]], (0.3, &|state| state));
    claimed_errors_hold(&(0..4).map(case).collect::<Vec<_>>());
}

#[test]
fn errors_of_linked_loci_hold() {
    let between = [BySex { male: 0.08, female: 0.2 }];
    let group = LinkageGroup::linked(&[2, 2], &between).unwrap();
    let looks = group.clone();
    // Both loci recessive.
    let look = |state| {
        let shows = |locus| {
            let copies = looks.copies(state, locus).unwrap();
            usize::from(copies.first == copies.second && copies.first.index() == 1)
        };
        shows(0) * 2 + shows(1)
    };
    let frequencies = [vec![0.6, 0.4], vec![0.7, 0.3]];
    claimed_errors_hold(&[case((7, 4), group, &frequencies, (0.4, &look))]);
}

#[test]
fn errors_of_a_locus_on_x_and_y_hold() {
    let link = SexLink::BothChromosomes { recombination_male: 0.05 };
    let group = LinkageGroup::sex_linked(2, link).unwrap();
    let looks = group.clone();
    // Recessive; everybody's sex is known.
    let look = |state| {
        let copies = looks.copies(state, 0).unwrap();
        let shows = copies.first == copies.second && copies.first.index() == 1;
        usize::from(shows) * 2 + usize::from(looks.sex(state) == Some(Sex::Male))
    };
    claimed_errors_hold(&[case((11, 6), group, &[vec![0.6, 0.4]], (0.4, &look))]);
}

fn recessive(seed: u64) -> Case {
    let group = LinkageGroup::autosomal(2).unwrap();
    case((seed, 6), group, &[vec![0.7, 0.3]], (0.5, &|state| usize::from(state == 2)))
}

#[test]
fn the_same_seed_draws_the_same() {
    let case = recessive(1);
    let all = |seed| -> Vec<f64> {
        let found = case.ask(&drawn(seed, 60)).unwrap();
        (0..case.pedigree.len()).flat_map(|animal| found.of(animal).to_vec()).collect()
    };
    assert_eq!(all(5), all(5));
    assert_ne!(all(5), all(6));
}

#[test]
fn it_stops_when_the_error_is_small_enough() {
    let case = recessive(2);
    let ask = |target_error, most_sweeps| {
        let sampling = Sampling { target_error, most_sweeps, seed: 1 };
        let budget = Budget { sampling: Some(sampling), ..drawn(1, 0) };
        match case.ask(&budget).unwrap().accuracy() {
            Accuracy::Sampled { worst_error, sweeps, .. } => (worst_error, sweeps),
            Accuracy::Exact => panic!("it is exact"),
        }
    };
    let (worst, sweeps) = ask(0.02, 2_000);
    assert!(worst <= 0.02 && sweeps < 2_000, "{worst} after {sweeps}");
    let (worst, sweeps) = ask(1e-9, 100);
    assert!(worst > 1e-9 && (90..=100).contains(&sweeps), "{worst} after {sweeps}");
}

#[test]
fn without_leave_to_draw_there_is_no_answer() {
    let budget = drawn(1, 100).exact();
    assert!(
        matches!(recessive(3).ask(&budget), Err(Unanswered::TooWide { entries }) if entries > 128)
    );
}

#[test]
fn records_that_clash_are_no_reason_to_draw() {
    let mut case = recessive(4);
    // A visual one out of a founder that carries nothing.
    let young =
        (0..case.pedigree.len()).rev().find_map(|animal| match case.pedigree.origin(animal) {
            Origin::Parents { sire, .. } => Some((animal, sire)),
            _ => None,
        });
    let (young, sire) = young.unwrap();
    case.evidence.see(young, &[0.0, 0.0, 1.0]);
    case.evidence.see(sire, &[1.0, 0.0, 0.0]);
    assert!(matches!(case.ask(&drawn(1, 100)), Err(Unanswered::Impossible { .. })));
}
