//! The engine against the sum over every genotype of every animal, on random families with loops.

use genetics::linkage::{BySex, LinkageGroup, SexLink};
use genetics::pedigree::{Origin, Pedigree};
use genetics::posterior::{Budget, Unanswered, joints, posteriors};
use genetics::{Evidence, Sex};
use testkit::genotype_enumeration::{Carried, Case, Chromosome, Descent, Shape, sum_over_hatched};

/// Largest difference of a chance, and of the log-likelihood.
const SLACK: f64 = 1e-12;

/// The same chromosome for both.
struct Both {
    engine: LinkageGroup,
    slow: Chromosome,
    kept: f64,
    /// Chance of each of the engine's states to hatch.
    hatches: Vec<f64>,
}

impl Both {
    fn new(engine: LinkageGroup, slow: Chromosome) -> Self {
        let hatches = vec![1.0; engine.n_states()];
        Self { engine, slow, kept: 0.0, hatches }
    }

    fn autosomal(alleles: u8) -> Self {
        let slow = Chromosome::Ordinary { alleles: vec![alleles], crossing: Vec::new() };
        Self::new(LinkageGroup::autosomal(usize::from(alleles)).unwrap(), slow)
    }

    fn linked(alleles: &[u8], crossing: &[(f64, f64)]) -> Self {
        let counts: Vec<usize> = alleles.iter().map(|n| usize::from(*n)).collect();
        let between: Vec<BySex> =
            crossing.iter().map(|(male, female)| BySex { male: *male, female: *female }).collect();
        let slow = Chromosome::Ordinary { alleles: alleles.to_vec(), crossing: crossing.to_vec() };
        Self::new(LinkageGroup::linked(&counts, &between).unwrap(), slow)
    }

    fn on_x_and_y(alleles: u8, r: f64) -> Self {
        let link = SexLink::BothChromosomes { recombination_male: r };
        let engine = LinkageGroup::sex_linked(usize::from(alleles), link).unwrap();
        Self::new(engine, Chromosome::OnXAndY { alleles, crossing_male: r })
    }

    fn on_x(alleles: u8) -> Self {
        let engine = LinkageGroup::sex_linked(usize::from(alleles), SexLink::XOnly).unwrap();
        Self::new(engine, Chromosome::OnX { alleles })
    }

    fn keeping(mut self, kept: f64) -> Self {
        self.engine = self.engine.keeping_alone(kept);
        self.kept = kept;
        self
    }

    /// Of these chances to hatch, in turn, each state has one.
    fn hatching(mut self, chances: &[f64]) -> Self {
        self.hatches = chances.iter().copied().cycle().take(self.engine.n_states()).collect();
        self.engine = self.engine.per_hatchling(&self.hatches);
        self
    }

    /// For each of the engine's states its place among [`Chromosome::all`].
    fn places(&self) -> Vec<usize> {
        let all = self.slow.all();
        assert_eq!(all.len(), self.engine.n_states());
        let place = |state| {
            let carried = carried(&self.engine, state);
            all.iter().position(|c| *c == carried).unwrap()
        };
        (0..all.len()).map(place).collect()
    }

    /// Compares one drawn family; whether it can be at all.
    fn agree_on(&self, seed: u64, shape: Shape) -> bool {
        let case = Case::drawn(seed, shape, &self.slow);
        let places = self.places();
        let before = self.engine.founder_weights(&case.frequencies);
        let wanted = self.slow.of_founders(&case.frequencies);
        for (state, place) in places.iter().enumerate() {
            close(before[state], wanted[*place], seed, "a founder beforehand");
        }
        let pairs = drawn_pairs(seed, shape.animals);
        let mut hatches = vec![0.0; places.len()];
        places.iter().zip(&self.hatches).for_each(|(place, h)| hatches[*place] = *h);
        let laid = (self.kept, hatches.as_slice());
        let slow = sum_over_hatched(&case.families, &self.slow, &case.weights, laid, &pairs);
        let pedigree = Pedigree::new(case.families.iter().map(origin).collect()).unwrap();
        let mut evidence = Evidence::flat(shape.animals, places.len());
        for (animal, row) in case.weights.iter().enumerate() {
            let row: Vec<f64> = places.iter().map(|place| row[*place]).collect();
            evidence.see(animal, &row);
            if case.families[animal] != Descent::Nobody {
                evidence.see(animal, &self.hatches);
            }
        }
        let budget = Budget::default();
        let fast = match posteriors(&pedigree, &self.engine, &evidence, &budget) {
            Ok(fast) => fast,
            Err(Unanswered::Impossible { .. }) => {
                assert!(slow.log10_likelihood.is_infinite(), "case {seed} can be");
                return false;
            }
            Err(other) => panic!("case {seed}: {other}"),
        };
        close(fast.log10_likelihood().unwrap(), slow.log10_likelihood, seed, "log10 likelihood");
        for (animal, slow) in slow.of.iter().enumerate() {
            for (state, place) in places.iter().enumerate() {
                close(fast.of(animal)[state], slow[*place], seed, "an animal");
            }
        }
        let joint = joints(&pedigree, &self.engine, &evidence, &budget, &pairs).unwrap();
        for (joint, slow) in joint.iter().zip(&slow.of_pairs) {
            for (a, at) in places.iter().enumerate() {
                for (b, bt) in places.iter().enumerate() {
                    close(joint.of(a, b), slow[*at][*bt], seed, "a pair");
                }
            }
        }
        true
    }

    /// Compares many families of up to `most` animals, most of them possible; how many were not.
    fn agree(&self, cases: u64, most: usize, alone: f64) -> usize {
        let of = |seed: u64| {
            let animals = 3 + usize::try_from(seed).unwrap() % (most - 2);
            Shape { animals, founders: 2 + usize::try_from(seed / 8).unwrap() % 3, alone }
        };
        let impossible = (0..cases).filter(|seed| !self.agree_on(*seed, of(*seed))).count();
        assert!(impossible * 2 <= usize::try_from(cases).unwrap(), "{impossible} of {cases}");
        impossible
    }
}

fn close(fast: f64, slow: f64, seed: u64, what: &str) {
    assert!((fast - slow).abs() <= SLACK, "case {seed}, {what}: {fast} against {slow}");
}

fn origin(descent: &Descent) -> Origin {
    match *descent {
        Descent::Nobody => Origin::Founder,
        Descent::Both { sire, dam } => Origin::Parents { sire, dam },
        Descent::Alone { dam } => Origin::Alone { dam },
    }
}

fn carried(group: &LinkageGroup, state: usize) -> Carried {
    let at = |locus| group.alleles(state, locus).unwrap();
    let allele = |a: genetics::AlleleId| u8::try_from(a.index()).unwrap();
    let loci = 0..group.n_loci();
    let first: Vec<u8> = loci.clone().map(|l| allele(at(l).0)).collect();
    let second: Option<Vec<u8>> = loci.map(|l| at(l).1.map(allele)).collect();
    let is_male = group.sex(state).map(|sex| sex == Sex::Male);
    let mut strands: Vec<Vec<u8>> = [first].into_iter().chain(second).collect();
    if is_male != Some(true) {
        strands.sort();
    }
    Carried { is_male, strands }
}

fn drawn_pairs(seed: u64, animals: usize) -> Vec<(usize, usize)> {
    let n = u64::try_from(animals).unwrap();
    let at = |x: u64| usize::try_from(x % n).unwrap();
    vec![(at(seed), at(seed / n)), (at(seed * 7 + 3), at(seed * 5 + 1)), (at(seed), at(seed))]
}

#[test]
fn one_locus_of_two_alleles_in_ten_animals() {
    let impossible = Both::autosomal(2).agree(1_500, 10, 0.0);
    assert!(impossible > 50, "only {impossible} clash");
}

#[test]
fn one_locus_of_three_and_four_alleles() {
    Both::autosomal(3).agree(400, 8, 0.0);
    Both::autosomal(4).agree(200, 7, 0.0);
}

#[test]
fn two_linked_loci_with_their_phase() {
    Both::linked(&[2, 2], &[(0.08, 0.2)]).agree(400, 6, 0.0);
    Both::linked(&[2, 2], &[(0.0, 0.5)]).agree(200, 6, 0.0);
    Both::linked(&[2, 3], &[(0.3, 0.01)]).agree(60, 5, 0.0);
}

#[test]
fn three_linked_loci_with_their_phase() {
    Both::linked(&[2, 2, 2], &[(0.1, 0.3), (0.25, 0.05)]).agree(60, 5, 0.0);
}

#[test]
fn a_locus_on_x_and_y() {
    Both::on_x_and_y(2, 0.05).agree(500, 8, 0.0);
    Both::on_x_and_y(3, 0.5).agree(60, 5, 0.0);
    Both::on_x_and_y(2, 0.0).agree(200, 7, 0.0);
}

#[test]
fn a_locus_on_the_x_alone() {
    Both::on_x(2).agree(500, 9, 0.0);
    Both::on_x(3).agree(150, 7, 0.0);
}

#[test]
fn young_without_a_sire() {
    Both::autosomal(2).agree(300, 9, 0.3);
    Both::autosomal(3).keeping(0.2).agree(150, 7, 0.3);
    Both::linked(&[2, 2], &[(0.08, 0.2)]).keeping(0.5).agree(100, 6, 0.3);
    Both::on_x_and_y(2, 0.05).keeping(0.1).agree(200, 7, 0.3);
    Both::on_x(2).agree(150, 7, 0.3);
}

#[test]
fn young_are_those_that_hatched() {
    Both::autosomal(2).hatching(&[1.0, 1.0, 0.0]).agree(400, 9, 0.0);
    Both::autosomal(3).hatching(&[1.0, 0.5, 1.0, 0.0, 0.25]).agree(150, 7, 0.1);
    Both::linked(&[2, 2], &[(0.08, 0.2)]).hatching(&[1.0, 0.3, 0.9]).agree(60, 5, 0.0);
    Both::on_x_and_y(2, 0.05).keeping(0.1).hatching(&[1.0, 0.6, 0.1, 0.8]).agree(150, 7, 0.2);
    Both::on_x(2).hatching(&[1.0, 1.0, 0.0, 1.0, 0.4]).agree(150, 7, 0.0);
}
