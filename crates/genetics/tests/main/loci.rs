//! Loci with several named alleles. Names and compounds: common practice, no source.

use genetics::catalogue::{CatalogueError, Linkage, LocusSpec, Mode};
use genetics::chances::PairBelief;
use genetics::{Catalogue, Label};
use units::Probability;

use crate::shelf::{allele, compound, gene, label, locus, near, shelf, spec};

#[test]
fn two_members_of_a_group_make_a_compound() {
    let cat = shelf();
    let sire = label(&cat, &["yellow belly"]);
    let dam = label(&cat, &["specter"]);
    let outcomes = PairBelief::from_labels(&cat, &sire, &dam).outcomes(9);
    let looks: Vec<_> = outcomes.list.iter().map(|o| (o.look.clone(), o.chance)).collect();
    let quarter = |look: &'static str| (if look.is_empty() { vec![] } else { vec![look] }, 0.25);
    assert_eq!(
        looks,
        [quarter(""), quarter("specter"), quarter("super stripe"), quarter("yellow belly")]
    );
}

#[test]
fn a_compound_gives_one_or_the_other() {
    let cat = shelf();
    let stripe = label(&cat, &["super stripe"]);
    let outcomes = PairBelief::from_labels(&cat, &stripe, &Label::normal()).outcomes(9);
    let looks: Vec<_> = outcomes.list.iter().map(|o| o.look.clone()).collect();
    assert_eq!(looks, [["specter"], ["yellow belly"]]);
}

#[test]
fn recessives_of_one_gene_show_together() {
    let cat = shelf();
    let pair = PairBelief::from_labels(&cat, &label(&cat, &["albino/"]), &label(&cat, &["candy/"]));
    let outcomes = pair.outcomes(9);
    assert_eq!(outcomes.list[0].look, Vec::<&str>::new());
    near(outcomes.list[0].chance, 0.75);
    assert_eq!(outcomes.list[1].look, ["candino"]);
    near(outcomes.list[1].chance, 0.25);
}

#[test]
fn an_unnamed_compound_is_called_by_both() {
    let cat = shelf();
    let pair = PairBelief::from_labels(&cat, &label(&cat, &["specter"]), &label(&cat, &["gravel"]));
    assert!(pair.outcomes(9).list.iter().any(|o| o.look == ["specter/gravel"]));
}

#[test]
fn a_super_shows_its_gene_and_a_het_does_not() {
    let cat = shelf();
    let pastel = label(&cat, &["pastel"]);
    let pair = PairBelief::from_labels(&cat, &pastel, &pastel);
    let all = genetics::chances::Among::All;
    near(pair.laid(&cat.shows(gene(&cat, "pastel")), all).unwrap(), 0.75);
    near(pair.laid(&cat.two_copies(gene(&cat, "pastel")), all).unwrap(), 0.25);
    near(pair.laid(&cat.one_copy(gene(&cat, "pastel")), all).unwrap(), 0.5);
    near(pair.laid(&cat.without(gene(&cat, "pastel")), all).unwrap(), 0.25);
    let het = label(&cat, &["clown/"]);
    let pair = PairBelief::from_labels(&cat, &het, &Label::normal());
    near(pair.laid(&cat.shows(gene(&cat, "clown")), all).unwrap(), 0.0);
    near(pair.laid(&cat.one_copy(gene(&cat, "clown")), all).unwrap(), 0.5);
}

#[test]
fn combos_are_found_by_their_looks() {
    let cat = shelf();
    assert_eq!(cat.combo_of(&["pinstripe", "pastel"]), Some("lemon blast"));
    assert_eq!(cat.combo_of(&["pastel"]), None);
    assert_eq!(cat.combo_of(&["pinstripe", "super pastel"]), None);
}

#[test]
fn faults_of_a_catalogue_are_named() {
    let refused = |change: &dyn Fn(&mut genetics::catalogue::CatalogueSpec)| {
        let mut faulty = spec();
        change(&mut faulty);
        Catalogue::new(&faulty).expect_err("must be refused")
    };
    let r = |value| Linkage::SexLinked { recombination_male: Probability::clamped(value) };
    assert!(matches!(
        refused(&|s| s.loci.push(locus("other", vec![allele("Pastel", Mode::Dominant)]))),
        CatalogueError::NameTaken { .. }
    ));
    assert!(matches!(
        refused(&|s| s.loci[0].alleles.clear()),
        CatalogueError::AlleleCount { count: 0, .. }
    ));
    assert!(matches!(
        refused(&|s| s.loci[0].alleles[0].frequency = 0.0),
        CatalogueError::Frequency { .. }
    ));
    assert!(matches!(
        refused(&|s| s.loci[0].alleles[0].frequency = f64::NAN),
        CatalogueError::Frequency { .. }
    ));
    assert!(matches!(
        refused(&|s| s.loci[2].compounds.push(compound("albino", "pied", "x"))),
        CatalogueError::UnknownName { .. }
    ));
    assert!(matches!(
        refused(&|s| s.loci[2].compounds.push(compound("albino", "albino", "x"))),
        CatalogueError::CompoundOfOne { .. }
    ));
    assert!(matches!(
        refused(&|s| s.loci.push(LocusSpec {
            linkage: r(0.1),
            ..locus("second", vec![allele("second", Mode::Dominant)])
        })),
        CatalogueError::SecondSexLinked { .. }
    ));
    assert!(matches!(
        refused(&|s| s.loci[6].linkage = r(0.6)),
        CatalogueError::Recombination { .. }
    ));
    assert!(matches!(
        refused(&|s| s.loci[0].name = " - ".to_owned()),
        CatalogueError::EmptyName { .. }
    ));
    assert!(matches!(
        refused(&|s| s.combos[0].looks.push("nothing".to_owned())),
        CatalogueError::UnknownName { .. }
    ));
}
