//! A book of genes goes on from answer to answer as if each were its first.

use answers::gene_chances::{GeneBook, GeneChances};
use records::facts::{Looked, Set, Tested, Weighed};
use records::{Fact, LabFound};
use sheets::catalogue_file::builtin;

use crate::collection::Collection;
use crate::gene_chances::{House, read, trusting};

fn assert_same(old: &GeneChances, new: &GeneChances, animals: usize) {
    assert_eq!(old.loci.len(), new.loci.len());
    for (a, b) in old.loci.iter().zip(&new.loci) {
        assert_eq!(a.play.id, b.play.id);
        assert_eq!(a.log10_likelihood.to_bits(), b.log10_likelihood.to_bits());
        assert_eq!(a.left_out.to_bits(), b.left_out.to_bits());
        for place in 0..animals {
            assert_eq!(a.of(place), b.of(place));
        }
    }
}

/// In a made-up collection with looks missed, cuts and many loci.
#[test]
fn the_book_of_a_collection_goes_on_as_if_it_were_new() {
    let mut collection = Collection::new(builtin(), 400, 20, 7);
    let mut book = GeneBook::new(builtin());
    book.answer(&collection.colony(), &read);
    for (n, year) in [(0, 2030), (1, 2031), (2, 2031), (3, 2032)] {
        let (sire, dam) = collection.pair(n * 5);
        collection.hatch(sire, dam, year);
        let colony = collection.colony();
        let old = book.answer(&colony, &read);
        let new = GeneBook::new(builtin()).answer(&colony, &read);
        assert_same(&old, &new, colony.animals.len());
    }
}

/// What only might be is answered as if it were so, and the colony afterwards as if nobody had asked:
/// labels and looks of every third animal away, other genes brought into play.
#[test]
fn supposing_leaves_the_book_as_it_was() {
    let mut collection = Collection::new(builtin(), 300, 12, 11);
    let mut book = GeneBook::new(builtin());
    for year in 2030..2033 {
        let (sire, dam) = collection.pair(3);
        collection.hatch(sire, dam, year);
        let colony = collection.colony();
        let new = GeneBook::new(builtin()).answer(&colony, &read);
        assert_same(&book.answer(&colony, &read), &new, colony.animals.len());
        for nth in 0..6 {
            let mut supposed = colony.clone();
            let label = Some(("het pied banana".to_owned(), colony.animals[0].added()));
            supposed.animals[nth].genes = label;
            for animal in supposed.animals.iter_mut().skip(nth).step_by(3) {
                (animal.genes, animal.look) = (None, None);
            }
            let new = GeneBook::new(builtin()).answer(&supposed, &read);
            assert_same(&book.suppose(&supposed, &read), &new, colony.animals.len());
        }
        assert_same(&book.answer(&colony, &read), &new, colony.animals.len());
    }
}

/// A weight moves no gene; a setting, a look and a laboratory do.
#[test]
fn an_answer_follows_whatever_it_rests_on() {
    let mut house = trusting(&[("M1", "clown", ""), ("F1", "50% het clown", "")]);
    let f1 = house.id("F1");
    let mut book = GeneBook::new(builtin());
    let mut carries = |house: &House| {
        let colony = house.room.on_evening_of("2026-02-10");
        let new = GeneBook::new(builtin()).answer(&colony, &read);
        let old = book.answer(&colony, &read);
        assert_same(&old, &new, colony.animals.len());
        let of = colony.place_of(f1).unwrap();
        old.carries(of, builtin().gene("clown").unwrap()).get()
    };
    let before = carries(&house);
    let mass = units::Grams::new(1800.0).unwrap();
    house.room.on("2025-03-01", Fact::Weighed(Weighed { animal: f1, mass }));
    assert_eq!(carries(&house), before);
    let value = "10".to_owned();
    house.room.on("2025-03-02", Fact::Set(Set { name: "het_claims_trusted".to_owned(), value }));
    let trusted_less = carries(&house);
    assert!(trusted_less < before);
    let (gene, found) = ("clown".to_owned(), LabFound::Carries);
    let tested = Tested { animal: f1, gene, found, lab: None, error: None };
    house.room.on("2025-03-03", Fact::Tested(tested));
    assert!(carries(&house) > before);
    house.room.on("2025-03-04", Fact::Looked(Looked { animal: f1, look: "clown".to_owned() }));
    assert!(carries(&house) > 0.999);
}
