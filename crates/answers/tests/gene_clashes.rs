//! Records about genes that cannot all be true, in small rooms.

use answers::gene_chances::{Blamed, GeneBook, GeneClash, may_be_mislabelled, of_animal};
use records::facts::{Laid, Placed};
use records::{Fact, LabFound, StayEnd};
use sheets::catalogue_file::builtin;

use crate::gene_chances::{House, read};

fn clashes(house: &House) -> (Vec<GeneClash>, Vec<String>) {
    let colony = house.room.on_evening_of("2026-02-10");
    let found = GeneBook::new(builtin()).clashes(&colony, &read);
    let codes = (0..colony.animals.len()).map(|at| colony.code(at).to_owned()).collect();
    (found, codes)
}

fn said(house: &House) -> Vec<String> {
    let colony = house.room.on_evening_of("2026-02-10");
    let (found, _) = clashes(house);
    let of = |clash: &GeneClash| {
        let members = clash.members.iter().map(|m| m.sentence(&colony));
        let ways =
            clash.ways.iter().map(|w| format!("-> {}", w.sentence(&colony, builtin(), clash)));
        std::iter::once(clash.sentence(builtin())).chain(members).chain(ways).collect::<Vec<_>>()
    };
    found.iter().flat_map(of).collect()
}

#[test]
fn records_that_fit_clash_nowhere() {
    let house = House::of(&[
        ("M1", "pastel clown", ""),
        ("F1", "het clown", ""),
        ("K1", "clown", "M1 x F1"),
        ("K2", "pastel het clown", "M1 x F1"),
    ]);
    assert_eq!(clashes(&house).0, []);
}

// Every young one of a super has a copy: one that looks normal is not his, or was looked at wrongly.
#[test]
fn super_pastel_with_a_normal_young_one() {
    let house = House::of(&[
        ("M1", "super pastel", ""),
        ("F1", "normal", ""),
        ("K1", "pastel", "M1 x F1"),
        ("K2", "pastel", "M1 x F1"),
        ("K3", "normal", "M1 x F1"),
    ]);
    let (found, codes) = clashes(&house);
    let [clash] = found.as_slice() else { panic!("{found:?}") };
    let at = |code: &str| codes.iter().position(|known| known == code).unwrap();
    let young = vec![at("K1"), at("K2"), at("K3")];
    let written = |code: &str| Blamed::Written { animal: at(code), leaves_out: false };
    let sire = Blamed::Sire { sire: at("M1"), young };
    let members = [written("M1"), written("K3"), sire];
    assert_eq!(clash.members, members);
    assert_eq!(clash.ways.len(), 3, "each of them alone resolves it");
    // A look missed in one of a hundred is likelier wrong than a label or a parent here.
    assert_eq!(of_animal(&found, at("K1")).len(), 1, "she is named by the record of the sire");
    assert_eq!(of_animal(&found, at("F1")).len(), 0);
    assert!(!may_be_mislabelled(&found, at("K3")));
}

// A visual out of parents of whom nothing is said: somebody's label left it out.
#[test]
fn clown_out_of_two_labels_without_it() {
    let house =
        House::of(&[("M1", "pastel", ""), ("F1", "mojave", ""), ("K1", "clown", "M1 x F1")]);
    let all = said(&house);
    assert_eq!(all[0], "clown: 3 records cannot all be true", "{all:#?}");
    // Both parents must carry: no change of one label resolves it, the clown's own look does.
    let ways: Vec<&String> = all.iter().filter(|line| line.starts_with("->")).collect();
    assert_eq!(
        ways,
        ["-> K1 looks otherwise than written, or is another animal than its label says"]
    );
}

// Another male was with her: with him as the sire all records fit.
#[test]
fn another_male_of_the_season_is_named() {
    let mut house = House::of(&[("M1", "normal", ""), ("M2", "pastel", ""), ("F1", "normal", "")]);
    let (male, female) = (house.id("M2"), house.id("F1"));
    let placed = Placed { male, female, ends: StayEnd::NextNoon };
    house.room.on("2022-01-10", Fact::Placed(placed));
    let laid = Laid {
        female,
        sire: Some(house.id("M1")),
        clutch: Some("C22-01".into()),
        eggs: None,
        slugs: None,
        mass: None,
        kept: None,
    };
    house.room.on("2022-05-01", Fact::Laid(laid));
    house.add_of_clutch("K1", "pastel", "M1 x F1", Some("C22-01"));
    let all = said(&house);
    let way = "-> M1 is not the sire of K1: what fits is M2, who was with her that season";
    assert!(all.iter().any(|line| line.starts_with(way)), "{all:#?}");
}

// Wrong at two genes at once: it is rather another animal.
#[test]
fn hatchling_that_fits_nowhere_may_be_mislabelled() {
    let house = House::of(&[
        ("M1", "super pastel super enchi", ""),
        ("F1", "normal", ""),
        ("K1", "pastel enchi", "M1 x F1"),
        ("K2", "normal", "M1 x F1"),
    ]);
    let (found, codes) = clashes(&house);
    assert_eq!(found.len(), 2, "{found:?}");
    let at = codes.iter().position(|known| known == "K2").unwrap();
    assert!(may_be_mislabelled(&found, at));
}

#[test]
fn laboratory_result_that_cannot_be() {
    let mut house =
        House::of(&[("M1", "clown", ""), ("F1", "normal", ""), ("K1", "normal", "M1 x F1")]);
    house.tested("K1", "clown", LabFound::Lacks);
    let all = said(&house);
    assert_eq!(all[0], "clown: 3 records cannot all be true", "{all:#?}");
    assert!(all.contains(&"the laboratory found no copy of clown in K1".to_owned()), "{all:#?}");
    let way = "-> the laboratory's result for K1 is wrong, or the sample was another animal's";
    assert!(all.iter().any(|line| line.starts_with(way)), "{all:#?}");
}

// By hand: of twelve young of a pastel female and a normal male each shows it with chance 1/2.
#[test]
fn label_that_twelve_young_speak_against() {
    let mut animals = vec![("M1", "normal", ""), ("F1", "pastel", "")];
    let codes: Vec<String> = (1..=12).map(|n| format!("H{n}")).collect();
    animals.extend(codes.iter().map(|code| (code.as_str(), "normal", "M1 x F1")));
    let all = said(&House::of(&animals));
    assert_eq!(all[0], "pastel: a label that all other records speak against", "{all:#?}");
    assert_eq!(all[1], "F1 is written as \u{201c}pastel\u{201d}");
    assert!(all[2].contains("times likelier then"), "{all:#?}");
    animals.truncate(6);
    assert_eq!(said(&House::of(&animals)), Vec::<String>::new(), "four young may all miss it");
}
