//! Why an animal is thought to carry what it does: sentences, numbers, and the records behind them.

use answers::gene_reasons::{GeneShown, Part};
use answers::{GeneBook, GenesOf, genes_of};
use records::facts::{Added, Set, Tested};
use records::{AnimalId, Code, Colony, Fact, LabFound, Sex};
use sheets::catalogue_file::builtin;
use units::When;

use crate::gene_chances::read;
use crate::room::{Room, day};

/// Animals as code, genes, "sire dam"; a dash is a parent nobody wrote down. Labels are certain.
fn room(animals: &[(&str, &str, &str)]) -> (Room, Vec<(String, AnimalId)>) {
    let mut room = Room::default();
    room.on(
        "2022-01-01",
        Fact::Set(Set { name: "het_claims_trusted".into(), value: "100".into() }),
    );
    let mut ids: Vec<(String, AnimalId)> = Vec::new();
    for (code, genes, parents) in animals {
        let mut added = Added::with_code(Code::new(code).unwrap());
        added.sex = Some(if code.starts_with('M') { Sex::Male } else { Sex::Female });
        added.genes = (!genes.is_empty()).then(|| (*genes).to_owned());
        added.hatched = Some(day(if parents.is_empty() { "2018-07-01" } else { "2022-07-01" }));
        let id = |code: &str| ids.iter().find(|(known, _)| known == code).map(|(_, id)| *id);
        if let Some((sire, dam)) = parents.split_once(' ') {
            (added.sire, added.dam) = (id(sire), id(dam));
        }
        let when = When::Day(added.hatched.unwrap());
        ids.push(((*code).to_owned(), AnimalId(room.write(when, Fact::Added(added)))));
    }
    (room, ids)
}

fn genes(colony: &Colony, code: &str) -> GenesOf {
    let mut book = GeneBook::new(builtin());
    let chances = book.answer(colony, &read);
    let place = (0..colony.animals.len()).find(|at| colony.code(*at) == code).unwrap();
    let mut asked = 0;
    let mut supposing = |colony: &Colony| {
        asked += 1;
        book.answer(colony, &read)
    };
    let found = genes_of(colony, builtin(), &chances, place, &mut supposing);
    assert!(asked <= 4, "asked {asked} times");
    for reason in found.loci.iter().flat_map(|l| &l.reasons) {
        assert!(reason.records.iter().all(|id| colony.record(*id).is_some()), "{reason:?}");
    }
    found
}

fn gene<'g>(found: &'g GenesOf, name: &str) -> &'g GeneShown {
    found.loci.iter().find(|l| l.genes.iter().any(|g| g == name)).unwrap()
}

fn said(colony: &Colony, shown: &GeneShown) -> String {
    let part = |part: &Part| match part {
        Part::Words(words) => words.clone(),
        Part::Animal(place) => colony.code(*place).to_owned(),
    };
    let sentence = |parts: &Vec<Part>| parts.iter().map(part).collect::<String>();
    shown.reasons.iter().map(|r| sentence(&r.parts)).collect::<Vec<_>>().join(" ")
}

/// Two thirds of the normal-looking young of two hets are hets; after k normal young of a visual
/// mate 1 / (1 + 2^(k-1)) (textbook): a third after two, a ninth after four. One clown in a hundred
/// is missed, which moves these a little: .5 x .505² against .25 is .3378.
#[test]
fn young_of_two_hets_and_what_her_young_say() {
    let animals = [
        ("M1", "het clown", ""),
        ("F1", "het clown", ""),
        ("M2", "clown", ""),
        ("F2", "pastel 66% het clown", "M1 F1"),
        ("F3", "normal", "M2 F2"),
        ("F4", "normal", "M2 F2"),
    ];
    let (room, _) = room(&animals);
    let colony = room.on_evening_of("2026-02-10");
    let found = genes(&colony, "F2");
    let clown = gene(&found, "clown");
    assert_eq!(clown.genotypes[0].0, "het clown");
    assert!((clown.genotypes[0].1 - 1.0 / 3.0).abs() < 0.01, "{clown:?}");
    let claim = &clown.claims[0];
    assert_eq!(claim.said, "66% het clown");
    assert!((claim.claimed - 2.0 / 3.0).abs() < 1e-12 && (claim.computed - 1.0 / 3.0).abs() < 0.01);
    let text = said(&colony, clown);
    for sentence in [
        "Her sire M1 is het clown. Her dam F1 is het clown. She does not show clown.",
        "Her label says 66% het clown: not counted, as both parents are written.",
        "Before her young spoke: het clown about 2 in 3 (66.4 %).",
        "Her young with M2, who is clown: none of 2 shows clown.",
        "All records together: het clown about 1 in 3 (33.8 %).",
    ] {
        assert!(text.contains(sentence), "{sentence}: {text}");
    }
    assert!(gene(&found, "pastel").is_certain());
    assert!(!found.loci[0].is_certain(), "what is undecided comes first");
}

#[test]
fn one_visual_young_proves_a_copy_and_a_visual_sire_gives_one() {
    let animals = [
        ("M1", "het clown", ""),
        ("F1", "het clown", ""),
        ("M2", "clown", ""),
        ("F2", "50% het clown", "M1 F1"),
        ("F3", "clown", "M2 F2"),
        ("M4", "normal", "M2 F1"),
    ];
    let (room, _) = room(&animals);
    let colony = room.on_evening_of("2026-02-10");
    let found = genes(&colony, "F2");
    assert!(gene(&found, "clown").is_certain());
    let text = said(&colony, gene(&found, "clown"));
    assert!(text.contains("1 of 1 shows clown, which takes a copy of hers"), "{text}");
    let found = genes(&colony, "M4");
    let text = said(&colony, gene(&found, "clown"));
    let sentence = "His sire M2 is clown, so he has one copy of clown at least.";
    assert!(text.contains(sentence), "{text}");
}

#[test]
fn a_claim_counts_by_who_wrote_the_parents_and_a_laboratory_speaks_for_itself() {
    let animals = [
        ("F1", "66% het clown", ""),
        ("F2", "", ""),
        ("F3", "50% het clown", "- F2"),
        ("M9", "", ""),
    ];
    let (mut room, ids) = room(&animals);
    let tested = Tested {
        animal: ids[0].1,
        gene: "clown".into(),
        found: LabFound::Lacks,
        lab: None,
        error: None,
    };
    room.on("2024-05-01", Fact::Tested(tested));
    let colony = room.on_evening_of("2026-02-10");
    let text = said(&colony, gene(&genes(&colony, "F1"), "clown"));
    for sentence in [
        "Her label says 66% het clown: counted with a trust of 100 %, as no parents are written.",
        "The laboratory found no copy of clown on 1 May 2024 (wrong in 1 %).",
    ] {
        assert!(text.contains(sentence), "{sentence}: {text}");
    }
    let text = said(&colony, gene(&genes(&colony, "F3"), "clown"));
    assert!(text.contains("Her sire is not written: taken for"), "{text}");
    assert!(text.contains("counted for the parent nobody wrote down only"), "{text}");
    let blank = genes(&colony, "M9");
    assert!(blank.is_blank && !genes(&colony, "F2").is_blank, "{blank:?}");
}

/// A dominant's one or two copies is never called a het.
#[test]
fn a_visible_gene_is_never_said_to_be_het() {
    let (room, _) =
        room(&[("M1", "pinstripe", ""), ("F1", "pinstripe", ""), ("F2", "pinstripe", "M1 F1")]);
    let colony = room.on_evening_of("2026-02-10");
    let found = genes(&colony, "F2");
    let pinstripe = gene(&found, "pinstripe");
    // Of the young of two single copies that show it a third has two (Mendel 1866).
    assert_eq!(pinstripe.genotypes[0].0, "pinstripe, one copy");
    assert!((pinstripe.genotypes[0].1 - 2.0 / 3.0).abs() < 0.01, "{pinstripe:?}");
    let text = said(&colony, pinstripe);
    assert!(!text.contains("het pinstripe"), "{text}");
}

/// Daughters have their sire's X and sons his Y (Mallery & Carrillo 2016): a son of a coral glow sire
/// has it on Y and gives it to sons, one of a coral glow dam on X and gives it to daughters. Shares by
/// hand from the recombination.
#[test]
fn a_sex_linked_gene_is_told_with_its_chromosome() {
    let (room, _) = room(&[
        ("M1", "coral glow", ""),
        ("F1", "normal", ""),
        ("M2", "coral glow", "M1 F1"),
        ("F2", "coral glow", ""),
        ("M3", "normal", ""),
        ("M4", "coral glow", "M3 F2"),
        ("F5", "coral glow", "M3 F2"),
    ]);
    let colony = room.on_evening_of("2026-02-10");
    let chances = GeneBook::new(builtin()).answer(&colony, &read);
    let locus = builtin().gene("coral glow").unwrap().locus;
    let r = chances.locus(locus).unwrap().recombination().unwrap();
    let percent = units::Probability::clamped(1.0 - r).to_a_tenth();
    let phase = |code: &str| gene(&genes(&colony, code), "coral glow").chromosome.clone();
    for (code, wanted) in [
        (
            "M2",
            format!(
                "coral glow on his Y: passes mostly to sons ({percent} of the young that get it)."
            ),
        ),
        (
            "M4",
            format!(
                "coral glow on his X: passes mostly to daughters ({percent} of the young that get it)."
            ),
        ),
    ] {
        assert_eq!(phase(code), Some(wanted), "{code}");
    }
    // What his son shows says where his sire has it: he got it with the Y, as 1 - r to r.
    let father = phase("M1").unwrap();
    let sons = units::Probability::clamped((1.0 - r) * (1.0 - r) + r * r).to_a_tenth();
    let wanted = format!(
        "coral glow on his Y about 9 in 10 ({percent}), else on his X: passes mostly to sons ({sons} of the young that get it)."
    );
    assert_eq!(father, wanted);
    assert_eq!(phase("F5"), None);
}

/// "pastel?" is asked about: until that is settled no chance of pastel is told.
#[test]
fn an_open_word_has_no_chance_until_it_is_answered() {
    let (room, _) =
        room(&[("F1", "pastel? het clown", ""), ("M1", "pastel", ""), ("F2", "pastel?", "M1 F1")]);
    let colony = room.on_evening_of("2026-02-10");
    for code in ["F1", "F2"] {
        let found = genes(&colony, code);
        let pastel = gene(&found, "pastel");
        assert!(pastel.is_open && pastel.told().is_empty() && !pastel.is_certain(), "{pastel:?}");
        assert_eq!(pastel.said(), "open, until the question about its label is answered (pastel)");
        assert!(!pastel.reasons.iter().any(|reason| reason.is_sum()), "{:?}", pastel.reasons);
        assert!(!found.questions.is_empty());
    }
    assert!(!gene(&genes(&colony, "M1"), "pastel").is_open);
}

/// A sire told to be a female is left out, and that is said of his young.
#[test]
fn a_parent_of_the_wrong_sex_is_named() {
    let (room, _) = room(&[("F1", "clown", ""), ("F2", "normal", ""), ("F3", "normal", "F1 F2")]);
    let colony = room.on_evening_of("2026-02-10");
    let said = "F1 is told female but written as the sire of F3, and so left out of its parents. Correct the sire, or the sex of F1.";
    assert_eq!(genes(&colony, "F3").of_parents, [said]);
    assert_eq!(genes(&colony, "F2").of_parents, Vec::<String>::new());
}
