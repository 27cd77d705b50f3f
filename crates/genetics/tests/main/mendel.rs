//! Mendel's counts of 1866 (Bateson's translation) against the expected genotypes, with the
//! chi-squares that Fisher 1936 found for them (from memory; computed again to the digits here).

use genetics::chances::{Among, ClutchSize, LocusPair, PairBelief};
use genetics::genotype::Copies;
use genetics::{AlleleId, Catalogue, Gene, Target};

use crate::shelf::{gene, label, near, shelf};

/// How many copies of the hidden allele each letter of Mendel's stands for: "A" none, "Aa" one,
/// "a" two.
fn genotype(cat: &Catalogue, genes: &[Gene], written: &str) -> Target {
    let letters: Vec<char> = written.chars().collect();
    let parts = genes.iter().zip(['a', 'b', 'c']).map(|(gene, small)| {
        let has = |c: char| letters.contains(&c);
        match (has(small.to_ascii_uppercase()), has(small)) {
            (true, true) => cat.one_copy(*gene),
            (true, false) => cat.without(*gene),
            (false, true) => cat.two_copies(*gene),
            (false, false) => panic!("{written} says nothing of {small}"),
        }
    });
    Target::All(parts.collect())
}

fn chi_square(cat: &Catalogue, names: &[&str], counts: &[(&str, f64)]) -> f64 {
    let genes: Vec<Gene> = names.iter().map(|name| gene(cat, name)).collect();
    let hets: Vec<String> = names.iter().map(|name| format!("{name}/")).collect();
    let het = label(cat, &hets.iter().map(String::as_str).collect::<Vec<_>>());
    let pair = PairBelief::from_labels(cat, &het, &het);
    let n: f64 = counts.iter().map(|(_, seen)| seen).sum();
    let mut whole = 0.0;
    let mut chi = 0.0;
    for (written, seen) in counts {
        let p = pair.laid(&genotype(cat, &genes, written), Among::All).unwrap();
        whole += p;
        chi += (seen - n * p).powi(2) / (n * p);
    }
    near(whole, 1.0);
    chi
}

#[test]
fn what_cannot_come_has_a_chance_of_nought_without_a_sign() {
    let cat = shelf();
    let clown = gene(&cat, "clown");
    let pair = PairBelief::from_labels(&cat, &label(&cat, &[]), &label(&cat, &["clown"]));
    let wish = Target::All(vec![cat.two_copies(clown), cat.without(gene(&cat, "piebald"))]);
    for wish in [cat.two_copies(clown), wish] {
        let p = pair.laid(&wish, Among::All).unwrap();
        assert_eq!(p.to_bits(), 0.0_f64.to_bits(), "{p}");
    }
}

#[test]
fn two_characters_by_genotype() {
    let cat = shelf();
    let counts = [
        ("AB", 38.0),
        ("Ab", 35.0),
        ("aB", 28.0),
        ("ab", 30.0),
        ("ABb", 65.0),
        ("aBb", 68.0),
        ("AaB", 60.0),
        ("Aab", 67.0),
        ("AaBb", 138.0),
    ];
    let chi = chi_square(&cat, &["clown", "piebald"], &counts);
    assert!((chi - 2.8110).abs() < 0.000_06, "{chi}");
}

const THREE: [&str; 3] = ["clown", "piebald", "albino"];

#[test]
fn three_characters_by_genotype() {
    let constant = ["ABC", "ABc", "AbC", "Abc", "aBC", "aBc", "abC", "abc"];
    let one_het = [
        "ABCc", "AbCc", "aBCc", "abCc", "ABbC", "ABbc", "aBbC", "aBbc", "AaBC", "AaBc", "AabC",
        "Aabc",
    ];
    let two_hets = ["ABbCc", "aBbCc", "AaBCc", "AabCc", "AaBbC", "AaBbc"];
    let forms = constant.into_iter().chain(one_het).chain(two_hets).chain(["AaBbCc"]);
    let counts = [
        8, 14, 9, 11, 8, 10, 10, 7, 22, 17, 25, 20, 15, 18, 19, 24, 14, 18, 20, 16, 45, 36, 38, 40,
        49, 48, 78,
    ];
    let counts: Vec<(&str, f64)> = forms.zip(counts.map(f64::from)).collect();
    let chi = chi_square(&shelf(), &THREE, &counts);
    assert!((chi - 15.3224).abs() < 0.000_06, "{chi}");
}

#[test]
fn three_characters_by_look() {
    let cat = shelf();
    let het = label(&cat, &["clown/", "piebald/", "albino/"]);
    let pair = PairBelief::from_labels(&cat, &het, &het);
    let counts = [269.0, 98.0, 86.0, 27.0, 88.0, 34.0, 30.0, 7.0];
    let n: f64 = counts.iter().sum();
    let mut chi = 0.0;
    for (i, seen) in counts.into_iter().enumerate() {
        let hidden = |at: usize| i >> (2 - at) & 1 == 1;
        let shown = THREE.iter().enumerate().map(|(at, name)| {
            let shows = cat.shows(gene(&cat, name));
            if hidden(at) { shows } else { shows.negated() }
        });
        let p = pair.laid(&Target::All(shown.collect()), Among::All).unwrap();
        chi += (seen - n * p).powi(2) / (n * p);
    }
    assert!((chi - 2.6730).abs() < 0.000_06, "{chi}");
}

/// Of F2 plants that show the dominant form two in three are het: eight counts of F3 tests (counts
/// from memory), sum of chi-squares 5.1733 (Fisher 1936 from memory).
#[test]
fn two_in_three_of_the_dominant_looking_are_het() {
    let cat = shelf();
    let het = label(&cat, &["clown/"]);
    let outcomes = PairBelief::from_labels(&cat, &het, &het).outcomes(9);
    let p = outcomes.list.iter().find(|o| o.look.is_empty()).unwrap().hets[0].chance;
    let counts = [
        (372.0, 193.0, 0.1735),
        (353.0, 166.0, 0.4249),
        (64.0, 36.0, 0.32),
        (71.0, 29.0, 0.845),
        (60.0, 40.0, 2.0),
        (67.0, 33.0, 0.005),
        (72.0, 28.0, 1.28),
        (65.0, 35.0, 0.125),
    ];
    let mut sum = 0.0;
    for (hets, others, printed) in counts {
        let n = hets + others;
        let expected = [n * p, n * (1.0 - p)];
        let chi: f64 = [hets, others]
            .iter()
            .zip(expected)
            .map(|(o, e): (&f64, f64)| (o - e).powi(2) / e)
            .sum();
        assert!((chi - printed).abs() < 0.000_06, "{hets}:{others} {chi}");
        sum += chi;
    }
    assert!((sum - 5.1733).abs() < 0.000_06, "{sum}");
}

/// Both parents hets: a young unaffected 3/4, two of two affected 1/16, and the next one after an
/// affected one still 1/4 (class notes, as the parents are known).
#[test]
fn two_carriers() {
    let cat = shelf();
    let het = label(&cat, &["clown/"]);
    let pair = PairBelief::from_labels(&cat, &het, &het);
    let seen = cat.shows(gene(&cat, "clown"));
    near(pair.laid(&seen.clone().negated(), Among::All).unwrap(), 0.75);
    let of = |k, n| pair.at_least(k, &seen, &ClutchSize::fixed(n).unwrap()).unwrap();
    near(of(2, 2), 1.0 / 16.0);
    near(of(2, 2) / of(1, 1), 0.25);
}

/// Parents drawn from two AA, two Aa and two aa without putting back: the young shows A with 47/60
/// (a public exercise, computed). The parents depend on each other.
#[test]
fn parents_drawn_from_six() {
    let cat = shelf();
    let clown = gene(&cat, "clown");
    let genotypes = [0, 1, 2].map(|copies: usize| {
        let allele =
            |at_least: usize| if copies >= at_least { clown.allele } else { AlleleId::WILD };
        Copies { first: allele(2), second: allele(1) }
    });
    let mut joint = Vec::new();
    for (i, a) in genotypes.iter().enumerate() {
        for (j, b) in genotypes.iter().enumerate() {
            joint.push((*a, *b, if i == j { 2.0 / 30.0 } else { 4.0 / 30.0 }));
        }
    }
    let pair = PairBelief::from_joint(&cat, vec![LocusPair { locus: clown.locus, joint }]).unwrap();
    near(pair.laid(&cat.shows(clown).negated(), Among::All).unwrap(), 47.0 / 60.0);
}

/// One copy of D in the dam, a normal-looking sire, frequency of D 1/4: he is NN with 3/5 and passes
/// N with 4/5; the young NN 2/5, ND 1/2, DD 1/10 (E. A. Thompson's course notes).
#[test]
fn a_carrier_and_a_normal_looking_mate() {
    let cat = shelf();
    let clown = gene(&cat, "clown");
    let nn = Copies::WILD;
    let nd = Copies { first: AlleleId::WILD, second: clown.allele };
    let of = |weights: Vec<(Copies, f64)>| {
        genetics::Belief::from_weights(vec![(clown.locus, weights)]).unwrap()
    };
    let unknown = of(vec![(nn, 0.75 * 0.75), (nd, 2.0 * 0.75 * 0.25)]);
    near(unknown.at(clown.locus)[0].1, 0.6);
    let pair = PairBelief::independent(&cat, &unknown, &of(vec![(nd, 1.0)]));
    for (target, printed) in
        [(cat.without(clown), 0.4), (cat.one_copy(clown), 0.5), (cat.two_copies(clown), 0.1)]
    {
        near(pair.laid(&target, Among::All).unwrap(), printed);
    }
    let both = PairBelief::independent(&cat, &unknown, &unknown);
    near(both.laid(&cat.without(clown), Among::All).unwrap(), 0.8 * 0.8);
}

/// Three young show it, one parent shows it, the other is het or shows it, one half each: het with
/// 1/9 then (class notes).
#[test]
fn three_visual_young_speak_for_a_visual_parent() {
    let cat = shelf();
    let clown = gene(&cat, "clown");
    let dd = Copies { first: clown.allele, second: clown.allele };
    let nd = Copies { first: AlleleId::WILD, second: clown.allele };
    let three = ClutchSize::fixed(3).unwrap();
    let all_three = |parent: Vec<(Copies, f64)>| {
        let joint = parent.into_iter().map(|(copies, w)| (copies, dd, w)).collect();
        let loci = vec![LocusPair { locus: clown.locus, joint }];
        let pair = PairBelief::from_joint(&cat, loci).unwrap();
        pair.at_least(3, &cat.shows(clown), &three).unwrap()
    };
    let het = 0.5 * all_three(vec![(nd, 1.0)]);
    near(het / all_three(vec![(nd, 0.5), (dd, 0.5)]), 1.0 / 9.0);
}
