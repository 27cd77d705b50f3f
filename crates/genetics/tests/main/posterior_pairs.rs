//! Joint chances of two animals in collections full of loops, against the definition of a conditional
//! chance: P(a, b) = P(a) P(b | a), each state of the first animal told in turn.

use genetics::linkage::{BySex, LinkageGroup, SexLink};
use genetics::posterior::{Budget, joints, posteriors};
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;

use crate::posterior_drawn::{Case, case};

impl Case {
    fn agrees(&self, seed: u64) {
        let (n, m) = (self.pedigree.len(), self.group.n_states());
        let budget = Budget::default().exact();
        let mut random = ChaCha8Rng::seed_from_u64(seed);
        let ones: Vec<usize> = (0..6).map(|_| random.random_range(0..n)).collect();
        let with = |one: &usize| (0..n).map(move |other| (*one, other)).collect::<Vec<_>>();
        let pairs: Vec<(usize, usize)> = ones.iter().flat_map(with).collect();
        let found = joints(&self.pedigree, &self.group, &self.evidence, &budget, &pairs).unwrap();
        let whole = posteriors(&self.pedigree, &self.group, &self.evidence, &budget).unwrap();
        let (mut apart, mut worst) = (0, 0.0_f64);
        for (one, joint) in ones.iter().zip(found.chunks(n)) {
            for state in (0..m).filter(|state| whole.of(*one)[*state] > 0.0) {
                let mut told = self.evidence.clone();
                let only: Vec<f64> = (0..m).map(|s| f64::from(u8::from(s == state))).collect();
                told.see(*one, &only);
                let given = posteriors(&self.pedigree, &self.group, &told, &budget).unwrap();
                let before = whole.of(*one)[state];
                for (other, joint) in joint.iter().enumerate() {
                    for (b, p) in given.of(other).iter().enumerate() {
                        worst = worst.max((joint.of(state, b) - before * p).abs());
                        let product = before * whole.of(other)[b];
                        apart += usize::from((joint.of(state, b) - product).abs() > 1e-3);
                    }
                }
            }
        }
        assert!(worst < 1e-12, "case {seed}: off by {worst}");
        assert!(apart > 20, "case {seed}: hardly any depend on each other");
    }
}

#[test]
fn pairs_far_apart_in_a_collection() {
    for seed in 0..4 {
        let hidden = |state: usize| usize::from(state == 2);
        let group = LinkageGroup::autosomal(2).unwrap();
        case((seed, 5), group, &[vec![0.7, 0.3]], (0.6, &hidden)).agrees(seed);
    }
}

#[test]
fn pairs_at_a_locus_on_x_and_y() {
    let both = |r| SexLink::BothChromosomes { recombination_male: r };
    let group = LinkageGroup::sex_linked(2, both(0.1)).unwrap();
    case((7, 4), group, &[vec![0.8, 0.2]], (0.2, &|state| state / 2)).agrees(7);
}

#[test]
fn pairs_at_two_linked_loci() {
    let crossing = BySex { male: 0.1, female: 0.2 };
    let group = LinkageGroup::linked(&[2, 2], &[crossing]).unwrap();
    let frequencies = [vec![0.7, 0.3], vec![0.8, 0.2]];
    case((9, 3), group, &frequencies, (0.3, &|state| state % 3)).agrees(9);
}
