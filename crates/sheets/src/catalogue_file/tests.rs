use genetics::catalogue::{Linkage, Meaning, Mode, Viability};
use genetics::chances::{Caution, PairBelief};
use genetics::{Genotype, Label};

use super::{CatalogueFileError, PYTHON_REGIUS, builtin, read, with_additions};
use crate::shorthand;

#[test]
fn the_builtin_file_is_a_catalogue() {
    let read = read(PYTHON_REGIUS);
    assert!(read.is_ok(), "{}", read.unwrap_err());
}

/// 74 genes of the trade (common practice, no source): 23 recessive, 26 in groups, 25 others.
#[test]
fn the_builtin_file_has_every_gene() {
    let cat = builtin();
    let genes: usize = cat.loci().iter().map(|l| l.alleles().len() - 1).sum();
    assert_eq!(genes, 74);
    let linked: Vec<_> = cat.loci().iter().filter(|l| l.linkage() != Linkage::Autosomal).collect();
    assert_eq!(linked.len(), 1);
    assert_eq!(linked[0].name(), "coral glow");
}

/// Subtle genes, and white animals (common practice, no source).
#[test]
fn the_builtin_file_knows_what_is_missed_and_hidden() {
    let cat = builtin();
    let missed = |name: &str| {
        let gene = cat.gene(name).unwrap();
        cat.missed(gene.locus, Genotype::new(genetics::AlleleId::WILD, gene.allele))
    };
    assert_eq!((missed("pastel"), missed("gravel"), missed("clown")), (0.01, 0.05, 1.0));
    let pastel = cat.gene("pastel").unwrap().locus;
    let hides = |word: &str| match cat.meaning(word).unwrap() {
        Meaning::Look(locus, look) => cat.hides((*locus, *look), pastel),
        _ => panic!("{word} is no look"),
    };
    for white in ["ivory", "blue-eyed leucistic", "super fire", "super mojave"] {
        assert!(hides(white), "{white}");
    }
    assert!(!hides("purple passion") && !hides("super enchi"));
    assert_eq!(cat.recombination_counted(), 100.0);
}

#[test]
fn a_file_says_what_hides_what() {
    let text = |hides: &str| {
        format!(
            "[[locus]]\nname = \"a\"\n[[locus.allele]]\nname = \"pale\"\nmode = \"dominant\"\n\
             missed = 0.25\nhides = {hides}\n[[locus]]\nname = \"b\"\n[[locus.allele]]\n\
             name = \"dark\"\nmode = \"dominant\"\n[[locus]]\nname = \"c\"\n[[locus.allele]]\n\
             name = \"striped\"\nmode = \"dominant\"\n"
        )
    };
    let hidden = |hides: &str| {
        let cat = read(&text(hides)).unwrap();
        let look = cat.look_of_gene(cat.gene("pale").unwrap()).unwrap();
        ["dark", "striped"].map(|name| cat.hides(look, cat.gene(name).unwrap().locus))
    };
    assert_eq!(hidden("[\"dark\"]"), [true, false]);
    assert_eq!(hidden("\"everything else\""), [true, true]);
    assert!(read(&text("[\"nobody\"]")).is_err());
    assert!(read(&text("\"anything\"")).is_err());
}

/// Whose two copies do not live (common practice, suspected).
#[test]
fn the_builtin_file_knows_what_does_not_live() {
    let cat = builtin();
    let with = |viability| {
        let mut names = Vec::new();
        for locus in cat.loci() {
            for genotype in
                locus.genotypes().filter(|g: &Genotype| locus.entry(*g).viability == viability)
            {
                names.push(locus.alleles()[genotype.alleles().0.index()].name.clone());
            }
        }
        names
    };
    assert_eq!(with(Viability::LethalSuspected), ["spider", "champagne", "hidden gene woma"]);
    assert_eq!(with(Viability::DiesSoon), ["woma"]);
}

#[test]
fn recessives_hide_in_one_copy_and_others_do_not() {
    let cat = builtin();
    for locus in cat.loci() {
        for genotype in locus.genotypes() {
            let (a, b) = genotype.alleles();
            let Some(allele) =
                locus.alleles().get(b.index()).filter(|_| a.is_wild() && !b.is_wild())
            else {
                continue;
            };
            assert_eq!(
                locus.entry(genotype).look.is_none(),
                allele.mode == Mode::Recessive,
                "{}",
                allele.name
            );
        }
    }
}

fn cautions_of(sire: &str, dam: &str) -> Vec<(String, Option<f64>)> {
    let cat = builtin();
    let label = |text: &str| -> Label { shorthand::read(text, cat).settled().unwrap() };
    let pair = PairBelief::from_labels(cat, &label(sire), &label(dam));
    pair.cautions().into_iter().map(|c: Caution<'_>| (c.reason, c.chance)).collect()
}

/// Pairings that keepers warn of (common practice, suspected).
#[test]
fn harmful_pairings_are_named() {
    for (sire, dam, words, chance) in [
        ("spider", "spider", "none is known to hatch", 0.25),
        ("champagne", "champagne", "none is known to hatch", 0.25),
        ("spider", "champagne", "each bring wobble", 0.25),
        ("spider woma", "normal", "each bring wobble", 0.25),
        ("woma", "woma", "die soon", 0.25),
        ("spider", "normal", "wobble in all", 0.5),
        ("cinnamon", "black pastel", "kinked spine", 0.25),
        ("lesser", "butter", "enlarged eyes", 0.25),
        ("normal", "desert", "use males only", 1.0),
        ("normal", "caramel albino", "poor fertility", 1.0),
        ("scaleless head", "scaleless head", "skin injuries", 0.25),
        ("spotnose", "spotnose", "strong wobble", 0.25),
    ] {
        let cautions = cautions_of(sire, dam);
        let found = cautions.iter().find(|(reason, _)| reason.contains(words));
        let (_, found) = found.unwrap_or_else(|| panic!("{sire} x {dam}: {cautions:?}"));
        assert!((found.unwrap() - chance).abs() < 1e-12, "{sire} x {dam}: {found:?}");
    }
    assert!(cautions_of("pastel enchi", "yellow belly het clown").is_empty());
    assert!(
        !cautions_of("desert", "normal")
            .iter()
            .any(|(reason, _)| reason.contains("use males only"))
    );
}

#[test]
fn a_keeper_adds_genes_of_their_own() {
    let cat = with_additions(
        "[[locus]]\nname = \"smoke\"\n[[locus.allele]]\nname = \"smoke\"\nmode = \"recessive\"\n\
         [[locus]]\nname = \"albino\"\n[[locus.allele]]\nname = \"cream\"\nmode = \"recessive\"\n\
         [[locus.compound]]\nof = [\"albino\", \"cream\"]\nname = \"cream albino\"\n\
         [[combo]]\nname = \"smoke bee\"\nlooks = [\"smoke\", \"pastel\", \"spider\"]\n",
    )
    .unwrap();
    let (albino, cream) = (cat.gene("albino").unwrap(), cat.gene("cream").unwrap());
    assert_eq!(albino.locus, cream.locus);
    assert!(matches!(cat.meaning("Smoke Bee"), Some(Meaning::Combo(_))));
    let reading = shorthand::read("het smoke albino/cream", &cat);
    assert_eq!(shorthand::write(&reading.label, &cat), "cream albino het smoke");
}

#[test]
fn faults_of_a_file_name_the_place() {
    let fault = |text: &str| with_additions(text).expect_err(text);
    assert!(matches!(
        fault("[[locus]]\nname = \"x\"\ncolour = 3\n"),
        CatalogueFileError::Text { line: Some(3), .. }
    ));
    assert!(matches!(fault("locus = ["), CatalogueFileError::Text { .. }));
    let taken =
        "[[locus]]\nname = \"x\"\n[[locus.allele]]\nname = \"Pastel\"\nmode = \"dominant\"\n";
    assert!(fault(taken).to_string().contains("already names"));
    let r = "[[locus]]\nname = \"coral glow\"\nsex_linked = { recombination_male = 0.7 }\n";
    assert!(fault(r).to_string().contains("0 to 0.5"));
    for caution in
        ["young = \"zebra\"", "young = \"pastel\"\ndam = \"pastel\"", "confidence = \"low\""]
    {
        let text = format!("[[caution]]\n{caution}\nreason = \"it bites\"\n");
        assert!(fault(&text).to_string().contains("it bites"), "{caution}");
    }
}

/// A caution stands beside a pair, not beside a gene: its reason must say whose trouble it is.
#[test]
fn every_caution_names_the_genes_it_speaks_of() {
    let cat = builtin();
    for rule in cat.cautions() {
        let names = cat.names().map(|(name, _)| name).filter(|name| name.len() > 3);
        let named = names.filter(|name| rule.reason.contains(name)).count();
        let two = rule.reason.starts_with("two genes that each bring wobble");
        assert!(named > 0 || two, "{}", rule.reason);
    }
}
