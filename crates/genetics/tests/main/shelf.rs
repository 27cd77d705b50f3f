//! A small catalogue and short ways to write labels, for the tests beside it.

use genetics::catalogue::{
    AlleleSpec, CatalogueSpec, ComboSpec, CompoundSpec, Confidence, Linkage, LocusSpec, Meaning,
    Mode, Viability,
};
use genetics::{AlleleId, Catalogue, ClaimedChance, Gene, Genotype, Label, LocusId, Statement};
use units::Probability;

pub fn allele(name: &str, mode: Mode) -> AlleleSpec {
    AlleleSpec {
        name: name.to_owned(),
        also: Vec::new(),
        mode,
        super_name: None,
        super_also: Vec::new(),
        super_viability: Viability::Lives,
        frequency: 0.01,
        welfare: None,
        confidence: Confidence::High,
        source: None,
        note: None,
    }
}

pub fn locus(name: &str, alleles: Vec<AlleleSpec>) -> LocusSpec {
    LocusSpec { name: name.to_owned(), linkage: Linkage::Autosomal, alleles, compounds: Vec::new() }
}

pub fn compound(a: &str, b: &str, name: &str) -> CompoundSpec {
    CompoundSpec {
        of: [a.to_owned(), b.to_owned()],
        name: name.to_owned(),
        also: Vec::new(),
        viability: Viability::Lives,
    }
}

pub fn spec() -> CatalogueSpec {
    use Mode::{Dominant, IncompleteDominant, Recessive};
    let ivory = AlleleSpec {
        super_name: Some("ivory".to_owned()),
        ..allele("yellow belly", IncompleteDominant)
    };
    let lethal = AlleleSpec {
        super_viability: Viability::LethalSuspected,
        ..allele("spider", IncompleteDominant)
    };
    let mut albino = locus("albino", vec![allele("albino", Recessive), allele("candy", Recessive)]);
    albino.compounds = vec![compound("albino", "candy", "candino")];
    let mut belly = locus(
        "yellow belly",
        vec![ivory, allele("specter", IncompleteDominant), allele("gravel", IncompleteDominant)],
    );
    belly.compounds = vec![
        compound("yellow belly", "specter", "super stripe"),
        compound("yellow belly", "gravel", "highway"),
    ];
    let r = Probability::clamped(0.05);
    let glow = LocusSpec {
        linkage: Linkage::SexLinked { recombination_male: r },
        ..locus("coral glow", vec![allele("coral glow", IncompleteDominant)])
    };
    CatalogueSpec {
        loci: vec![
            locus("pastel", vec![allele("pastel", IncompleteDominant)]),
            locus("clown", vec![allele("clown", Recessive)]),
            albino,
            belly,
            locus("pinstripe", vec![allele("pinstripe", Dominant)]),
            locus("spider", vec![lethal]),
            glow,
            locus("piebald", vec![allele("piebald", Recessive)]),
        ],
        combos: vec![ComboSpec {
            name: "lemon blast".to_owned(),
            also: Vec::new(),
            looks: vec!["pastel".to_owned(), "pinstripe".to_owned()],
        }],
        ..CatalogueSpec::default()
    }
}

pub fn shelf() -> Catalogue {
    Catalogue::new(&spec()).expect("the shelf is a catalogue")
}

pub fn gene(catalogue: &Catalogue, name: &str) -> Gene {
    catalogue.gene(name).unwrap_or_else(|| panic!("{name}"))
}

/// Two copies are named "A/A" or "A/B", one copy "A/", a claim "66 A", a look by its word.
pub fn label(catalogue: &Catalogue, said: &[&str]) -> Label {
    let mut label = Label::normal();
    for words in said {
        let (locus, statement) = statement(catalogue, words);
        label.state(catalogue, locus, statement).expect(words);
    }
    label
}

fn statement(catalogue: &Catalogue, words: &str) -> (LocusId, Statement) {
    if let Some((a, b)) = words.split_once('/') {
        let first = gene(catalogue, a);
        let second = if b.is_empty() { AlleleId::WILD } else { gene(catalogue, b).allele };
        return (first.locus, Statement::Genotype(Genotype::new(first.allele, second)));
    }
    if let Some((percent, name)) = words.split_once(' ')
        && let Ok(percent) = percent.parse()
    {
        let gene = gene(catalogue, name);
        let claims = [(gene.allele, ClaimedChance::percent(percent))].into_iter().collect();
        return (gene.locus, Statement::MayCarry(claims));
    }
    match catalogue.meaning(words) {
        Some(Meaning::Gene(gene)) => {
            let (locus, look) = catalogue.look_of_gene(*gene).expect(words);
            (locus, Statement::Look(look))
        }
        Some(Meaning::Look(locus, look)) => (*locus, Statement::Look(*look)),
        other => panic!("{words}: {other:?}"),
    }
}

pub fn near(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-12, "{a} is not {b}");
}
