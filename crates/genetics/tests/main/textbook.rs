//! Counted crosses and textbook exercises.

use genetics::chances::{Among, ClutchSize, LocusPair, PairBelief};
use genetics::genotype::Copies;
use genetics::{AlleleId, Genotype, Target};

use crate::shelf::{gene, label, near, shelf};

fn chi_square(observed: &[f64], chances: &[f64]) -> f64 {
    let n: f64 = observed.iter().sum();
    observed.iter().zip(chances).map(|(o, p)| (o - n * p).powi(2) / (n * p)).sum()
}

/// Mendel 1866 (Bateson's translation), seven F2 counts dominant : recessive, with the chi-square
/// that Fisher 1936 found for them (from memory; computed again to the digits printed here).
#[test]
fn mendels_single_characters_fit() {
    let cat = shelf();
    let het = label(&cat, &["clown/"]);
    let outcomes = PairBelief::from_labels(&cat, &het, &het).outcomes(9);
    let chances: Vec<_> = outcomes.list.iter().map(|o| o.chance).collect();
    let mut sum = 0.0;
    for (seen, hidden, printed) in [
        (5474.0, 1850.0, 0.2629),
        (6022.0, 2001.0, 0.0150),
        (705.0, 224.0, 0.3907),
        (882.0, 299.0, 0.0635),
        (428.0, 152.0, 0.4506),
        (651.0, 207.0, 0.3497),
        (787.0, 277.0, 0.6065),
    ] {
        let chi = chi_square(&[seen, hidden], &chances);
        assert!((chi - printed).abs() < 0.000_06, "{seen}:{hidden} {chi}");
        sum += chi;
    }
    assert!((sum - 2.1389).abs() < 0.000_06, "{sum}");
}

/// Mendel 1866: 315, 101, 108, 32 of 556 (chi-square .4700 as in Fisher 1936, from memory).
#[test]
fn mendels_two_characters_fit() {
    let cat = shelf();
    let het = label(&cat, &["clown/", "piebald/"]);
    let outcomes = PairBelief::from_labels(&cat, &het, &het).outcomes(9);
    let chance = |look: &[&str]| outcomes.list.iter().find(|o| o.look == look).unwrap().chance;
    let chances =
        [chance(&[]), chance(&["clown"]), chance(&["piebald"]), chance(&["clown", "piebald"])];
    let chi = chi_square(&[315.0, 101.0, 108.0, 32.0], &chances);
    assert!((chi - 0.4700).abs() < 0.000_06, "{chi}");
}

/// Every animal mated to a double het, two young each: at least one double het among the four of
/// the second generation 1-(3/4)^4 = .683594, at least eight among the 32 of the fifth .567529
/// (a public exercise, from memory; values computed).
#[test]
fn double_hets_of_a_lineage() {
    let cat = shelf();
    let het = label(&cat, &["clown/", "piebald/"]);
    let pair = PairBelief::from_labels(&cat, &het, &het);
    let both =
        Target::All(vec![cat.one_copy(gene(&cat, "clown")), cat.one_copy(gene(&cat, "piebald"))]);
    let chance = |k, n| pair.at_least(k, &both, &ClutchSize::fixed(n).unwrap()).unwrap();
    assert!((chance(1, 4) - 0.683_594).abs() < 5e-7);
    assert!((chance(8, 32) - 0.567_529).abs() < 5e-7);
}

type Chances = Vec<(Genotype, f64)>;

/// Genotype chances of the young of two animals who are only known by theirs.
fn young(a: &Chances, b: &Chances) -> Chances {
    let cat = shelf();
    let locus = gene(&cat, "clown").locus;
    let row = |(g, p): &(Genotype, f64)| {
        let (g, p) = (Copies::from(*g), *p);
        b.iter().map(move |(h, q)| (g, Copies::from(*h), p * q)).collect::<Vec<_>>()
    };
    let joint = a.iter().flat_map(row).collect();
    PairBelief::from_joint(&cat, vec![LocusPair { locus, joint }])
        .unwrap()
        .young_at(locus, Among::All)
}

/// A tree of crosses ((((Aa,aa),(Aa,Aa)),((aa,aa),(aa,AA))),Aa): AA 5/32, Aa 1/2, aa 11/32
/// (a public exercise, values computed).
#[test]
fn a_tree_of_crosses() {
    let cat = shelf();
    let (w, c) = (AlleleId::WILD, gene(&cat, "clown").allele);
    let known = |a, b| vec![(Genotype::new(a, b), 1.0)];
    let (big, het, small) = (known(w, w), known(w, c), known(c, c));
    let left = young(&young(&het, &small), &young(&het, &het));
    let right = young(&young(&small, &small), &young(&small, &big));
    let last = young(&young(&left, &right), &het);
    let chance = |g: Genotype| last.iter().find(|(h, _)| *h == g).unwrap().1;
    near(chance(Genotype::new(w, w)), 5.0 / 32.0);
    near(chance(Genotype::new(w, c)), 1.0 / 2.0);
    near(chance(Genotype::new(c, c)), 11.0 / 32.0);
}

/// The normal-looking sib of a recessive (2/3 het) and a mate of carrier frequency c:
/// (2/3) c (1/4), c = 1/22 gives 1/132, c = 1/25 gives 1/150 (textbook, computed).
#[test]
fn a_sib_of_a_recessive_and_a_stranger() {
    let cat = shelf();
    let clown = gene(&cat, "clown");
    let hidden = Copies::from(Genotype::new(AlleleId::WILD, clown.allele));
    for (c, risk) in [(1.0 / 22.0, 1.0 / 132.0), (1.0 / 25.0, 1.0 / 150.0)] {
        let sib = [(hidden, 2.0 / 3.0), (Copies::WILD, 1.0 / 3.0)];
        let mate = [(hidden, c), (Copies::WILD, 1.0 - c)];
        let joint =
            sib.iter().flat_map(|(a, p)| mate.iter().map(move |(b, q)| (*a, *b, p * q))).collect();
        let pair =
            PairBelief::from_joint(&cat, vec![LocusPair { locus: clown.locus, joint }]).unwrap();
        near(pair.laid(&cat.shows(clown), Among::All).unwrap(), risk);
    }
}
