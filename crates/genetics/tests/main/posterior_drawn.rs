//! Chances that are drawn, against the exact ones of the same collection.

use genetics::linkage::{BySex, LinkageGroup, SexLink};
use genetics::posterior::{Accuracy, Budget, Posteriors, Sampling, Unanswered, posteriors};
use genetics::{Evidence, Origin, Pedigree, Sex};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

/// Generations of `EACH` animals, parents out of the last two: loops everywhere.
const GENERATIONS: usize = 6;
const EACH: usize = 14;

struct Case {
    pedigree: Pedigree,
    group: LinkageGroup,
    evidence: Evidence,
}

/// Genotypes are dropped through a random collection; `look` is what can be seen of a state.
fn case(seed: u64, group: LinkageGroup, frequencies: &[Vec<f64>], look: &dyn Fn(usize) -> usize) -> Case {
    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let n = GENERATIONS * EACH;
    let prior = group.founder_weights(frequencies);
    let mut evidence = Evidence::flat(n, group.n_states());
    let (mut origins, mut states) = (Vec::new(), Vec::<usize>::new());
    for animal in 0..n {
        // Of a group without sexes, even animals are males.
        let is_male = |a: usize| group.sex(states[a]).map_or(a % 2 == 0, |s| s == Sex::Male);
        let before = (animal / EACH).saturating_sub(2) * EACH..animal / EACH * EACH;
        let males: Vec<usize> = before.clone().filter(|a| is_male(*a)).collect();
        let females: Vec<usize> = before.filter(|a| !is_male(*a)).collect();
        let young: Vec<(u16, f64)>;
        if males.is_empty() || females.is_empty() {
            origins.push(Origin::Founder);
            evidence.see(animal, &prior);
            young = (0_u16..).zip(prior.iter().copied()).collect();
        } else {
            let sire = males[random.random_range(0..males.len())];
            let dam = females[random.random_range(0..females.len())];
            origins.push(Origin::Parents { sire, dam });
            young = group.young(states[sire], states[dam]).to_vec();
        }
        let mut left: f64 = random.random();
        let drawn = young.iter().find(|(_, p)| {
            left -= p;
            left < 0.0
        });
        states.push(usize::from(drawn.unwrap_or(&young[0]).0));
        if random.random::<f64>() < 0.5 {
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
    Budget { table_entries: 600, sampling: Some(sampling) }
}

impl Case {
    fn ask(&self, budget: &Budget) -> Result<Posteriors, Unanswered> {
        posteriors(&self.pedigree, &self.group, &self.evidence, budget)
    }

    /// Largest differences from the exact chances, in standard errors, of the animals that were
    /// drawn.
    fn misses(&self, budget: &Budget) -> Vec<f64> {
        let exact = self.ask(&Budget::default().exact()).unwrap();
        assert_eq!(exact.accuracy(), Accuracy::Exact);
        let drawn = self.ask(budget).unwrap();
        let Accuracy::Sampled { worst_error, error_95, .. } = drawn.accuracy() else {
            panic!("it is exact");
        };
        assert!(error_95 <= worst_error && worst_error < 0.1, "{worst_error}");
        assert_eq!(drawn.log10_likelihood(), None);
        let mut misses = Vec::new();
        for animal in 0..self.pedigree.len() {
            let (mine, true_ones) = (drawn.of(animal), exact.of(animal));
            assert!((mine.iter().sum::<f64>() - 1.0).abs() < 1e-9);
            let error = drawn.error_of(animal);
            assert!(error <= worst_error);
            let differ = mine.iter().zip(true_ones).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            if error > 1e-9 {
                misses.push(differ / error);
            } else {
                assert!(differ < 1e-9, "animal {animal} is off by {differ} and said to be exact");
            }
        }
        misses
    }
}

/// At least 95 of 100 animals are within two standard errors, over several collections; and none
/// is far off. Animals of one collection err together, so one collection alone says little.
fn claimed_errors_hold(cases: &[Case]) {
    let of = |(seed, case): (u64, &Case)| case.misses(&drawn(seed, 400));
    let misses: Vec<f64> = (0..).zip(cases).flat_map(of).collect();
    assert!(misses.len() > cases.len() * GENERATIONS * EACH / 2, "most are drawn: {}", misses.len());
    let within = misses.iter().filter(|miss| **miss <= 2.0).count();
    assert!(within * 100 >= misses.len() * 95, "{within} of {}", misses.len());
    let worst = misses.iter().copied().fold(0.0, f64::max);
    assert!(worst < 5.0, "{worst}");
}

#[test]
fn errors_of_a_recessive_hold() {
    let group = || LinkageGroup::autosomal(2).unwrap();
    let case = |seed| case(seed, group(), &[vec![0.7, 0.3]], &|state| usize::from(state == 2));
    claimed_errors_hold(&(0..4).map(case).collect::<Vec<_>>());
}

#[test]
fn errors_of_three_visible_alleles_hold() {
    let group = || LinkageGroup::autosomal(3).unwrap();
    let case = |seed| case(seed, group(), &[vec![0.4, 0.3, 0.3]], &|state| state);
    claimed_errors_hold(&(0..4).map(case).collect::<Vec<_>>());
}
