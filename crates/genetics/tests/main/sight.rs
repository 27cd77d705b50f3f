//! Genes that are easily missed, and looks that hide others.

use genetics::catalogue::{HidesSpec, MISSED, MissedSpec};
use genetics::{AlleleId, Catalogue, CatalogueError, Genotype};

use crate::shelf::spec;

fn one(catalogue: &Catalogue, name: &str) -> (genetics::Gene, Genotype) {
    let gene = catalogue.gene(name).unwrap();
    (gene, Genotype::new(AlleleId::WILD, gene.allele))
}

#[test]
fn two_copies_that_show_more_than_one_are_missed_less() {
    let mut spec = spec();
    let missed = |gene: &str, chance| MissedSpec { gene: gene.into(), chance };
    spec.missed = vec![missed("yellow belly", 0.2), missed("gravel", 0.05)];
    let catalogue = Catalogue::new(&spec).unwrap();
    let (belly, het) = one(&catalogue, "yellow belly");
    let (gravel, _) = one(&catalogue, "gravel");
    let highway = Genotype::new(belly.allele, gravel.allele);
    let chance = |genotype| catalogue.missed(belly.locus, genotype);
    assert_eq!((chance(het), chance(highway)), (0.2, 0.2 * 0.05));
    assert_eq!(chance(Genotype::WILD), 1.0);
    let (clown, carrier) = one(&catalogue, "albino");
    assert_eq!(catalogue.missed(clown.locus, carrier), 1.0, "a het is not seen anyway");
    let two = Genotype::new(clown.allele, clown.allele);
    assert_eq!(catalogue.missed(clown.locus, two), MISSED, "of a recessive only two copies show");
    let (spider, seen) = one(&catalogue, "spider");
    assert_eq!(catalogue.missed(spider.locus, seen), MISSED);
}

#[test]
fn a_look_hides_what_the_catalogue_says_and_never_its_own_locus() {
    let mut spec = spec();
    let hides = |look_of: &[&str], hidden: &[&str]| HidesSpec {
        look_of: look_of.iter().map(|s| (*s).to_owned()).collect(),
        hidden: hidden.iter().map(|s| (*s).to_owned()).collect(),
    };
    spec.hides =
        vec![hides(&["yellow belly", "yellow belly"], &[]), hides(&["spider"], &["albino"])];
    let catalogue = Catalogue::new(&spec).unwrap();
    let (belly, het) = one(&catalogue, "yellow belly");
    let (albino, _) = one(&catalogue, "albino");
    let (spider, spider_het) = one(&catalogue, "spider");
    let look =
        |gene: genetics::Gene, g| catalogue.locus(gene.locus).unwrap().entry(g).look.unwrap();
    let ivory = (belly.locus, look(belly, Genotype::new(belly.allele, belly.allele)));
    assert!(catalogue.hides(ivory, albino.locus) && catalogue.hides(ivory, spider.locus));
    assert!(!catalogue.hides(ivory, belly.locus));
    assert!(!catalogue.hides((belly.locus, look(belly, het)), albino.locus));
    let web = (spider.locus, look(spider, spider_het));
    assert!(catalogue.hides(web, albino.locus) && !catalogue.hides(web, belly.locus));
}

#[test]
fn names_and_numbers_are_checked() {
    let refused = |change: &dyn Fn(&mut genetics::catalogue::CatalogueSpec)| {
        let mut spec = spec();
        change(&mut spec);
        Catalogue::new(&spec).unwrap_err()
    };
    let missed = |gene: &str, chance| vec![MissedSpec { gene: gene.into(), chance }];
    assert!(matches!(
        refused(&|s| s.missed = missed("nobody", 0.1)),
        CatalogueError::UnknownName { .. }
    ));
    assert!(matches!(
        refused(&|s| s.missed = missed("spider", 1.0)),
        CatalogueError::Missed { .. }
    ));
    let hides = |of: &str, hidden: &str| HidesSpec {
        look_of: vec![of.into()],
        hidden: vec![hidden.into()],
    };
    for (of, hidden) in [("nobody", "albino"), ("spider", "nobody")] {
        let error = refused(&|s| s.hides = vec![hides(of, hidden)]);
        assert!(matches!(error, CatalogueError::UnknownName { .. }), "{error}");
    }
    assert!(matches!(
        refused(&|s| s.recombination_counted = Some(0.0)),
        CatalogueError::Counted { .. }
    ));
}
