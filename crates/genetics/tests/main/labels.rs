//! What a label takes and what it refuses.

use genetics::chances::{JointError, LocusPair, PairBelief};
use genetics::genotype::Copies;
use genetics::{Genotype, Label, LabelError, SexChromosome, Statement};

use crate::shelf::{gene, label, near, shelf};

#[test]
fn a_genotype_told_by_its_look_is_the_look() {
    let cat = shelf();
    assert_eq!(label(&cat, &["pastel/pastel"]), label(&cat, &["super pastel"]));
    assert_eq!(label(&cat, &["pastel/"]), label(&cat, &["pastel"]));
    assert_eq!(label(&cat, &["clown/clown"]), label(&cat, &["clown"]));
    assert_ne!(label(&cat, &["pinstripe/pinstripe"]), label(&cat, &["pinstripe"]));
}

#[test]
fn a_locus_is_stated_once() {
    let cat = shelf();
    let pastel = gene(&cat, "pastel");
    let mut twice = label(&cat, &["pastel"]);
    let again = Statement::Genotype(Genotype::new(pastel.allele, pastel.allele));
    assert!(matches!(
        twice.state(&cat, pastel.locus, again),
        Err(LabelError::AlreadyStated { .. })
    ));
}

#[test]
fn what_would_be_seen_is_no_possible_het() {
    let cat = shelf();
    let pastel = gene(&cat, "pastel");
    let claims = [(pastel.allele, None)].into_iter().collect();
    let refused = Label::normal().state(&cat, pastel.locus, Statement::MayCarry(claims));
    assert_eq!(refused, Err(LabelError::WouldBeSeen { gene: "pastel".to_owned() }));
}

#[test]
fn only_the_sex_linked_gene_has_a_chromosome() {
    let cat = shelf();
    let pastel = gene(&cat, "pastel");
    let refused = Label::normal().state(
        &cat,
        pastel.locus,
        Statement::OnChromosome(pastel.allele, SexChromosome::Y),
    );
    assert_eq!(refused, Err(LabelError::NotSexLinked { gene: "pastel".to_owned() }));
}

#[test]
fn the_look_of_a_label_is_sorted_and_leaves_hets_out() {
    let cat = shelf();
    let seen = label(&cat, &["super stripe", "pastel", "clown/", "66 piebald"]);
    assert_eq!(seen.look(&cat), ["pastel", "super stripe"]);
}

/// Parents who depend on each other: two sisters' and brothers' shared doubt is no product.
#[test]
fn dependent_parents_are_not_multiplied() {
    let cat = shelf();
    let clown = gene(&cat, "clown");
    let het = Copies::from(Genotype::new(genetics::AlleleId::WILD, clown.allele));
    let joint = vec![(het, het, 0.5), (Copies::WILD, Copies::WILD, 0.5)];
    let pair = PairBelief::from_joint(&cat, vec![LocusPair { locus: clown.locus, joint }]).unwrap();
    near(pair.laid(&cat.shows(clown), genetics::chances::Among::All).unwrap(), 0.125);
}

#[test]
fn a_joint_must_be_chances() {
    let cat = shelf();
    let locus = gene(&cat, "clown").locus;
    let pair = |p| LocusPair { locus, joint: vec![(Copies::WILD, Copies::WILD, p)] };
    assert!(matches!(
        PairBelief::from_joint(&cat, vec![pair(0.5)]),
        Err(JointError::NotAChance { .. })
    ));
    assert!(matches!(
        PairBelief::from_joint(&cat, vec![pair(f64::NAN)]),
        Err(JointError::NotAChance { .. })
    ));
    assert!(matches!(
        PairBelief::from_joint(&cat, vec![pair(1.0), pair(1.0)]),
        Err(JointError::Twice { .. })
    ));
}
