//! What every animal carries, in small rooms whose chances can be reckoned by hand.

use answers::gene_chances::{GeneBook, GeneChances, LabelRead, Who};
use answers::gene_reasons::genes_of;
use answers::sire::Father;
use records::facts::{Added, Change, Changed, Looked, Set, Tested};
use records::{AnimalId, Code, Colony, Fact, LabFound, Sex};
use sheets::catalogue_file::builtin;
use sheets::shorthand;
use units::When;

use crate::collection::Collection;
use crate::room::{Room, day};

pub fn read(text: &str) -> LabelRead {
    let reading = shorthand::read(text, builtin());
    let open = reading.open_loci(builtin());
    let questions = reading.questions.iter().map(shorthand::Question::sentence).collect();
    LabelRead { label: reading.label, open, unsure: reading.unsure, questions }
}

/// A room in which animals are added by code, genes and parents.
#[derive(Default)]
pub struct House {
    pub room: Room,
    ids: Vec<(String, AnimalId)>,
}

impl House {
    pub fn id(&self, code: &str) -> AnimalId {
        self.ids.iter().find(|(known, _)| known == code).unwrap().1
    }

    /// Sex by the first letter; parents as "M1 x F1", a dash for one that is not recorded.
    fn add(&mut self, code: &str, genes: &str, parents: &str) {
        self.add_of_clutch(code, genes, parents, None);
    }

    pub fn add_of_clutch(&mut self, code: &str, genes: &str, parents: &str, clutch: Option<&str>) {
        let mut added = Added::with_code(Code::new(code).unwrap());
        added.sex = match code.as_bytes()[0] {
            b'M' => Some(Sex::Male),
            b'F' => Some(Sex::Female),
            _ => None,
        };
        added.genes = (!genes.is_empty()).then(|| genes.to_owned());
        added.clutch = clutch.map(str::to_owned);
        added.hatched = Some(day(if parents.is_empty() { "2018-07-01" } else { "2022-07-01" }));
        let parent = |code: &str| (code != "-").then(|| self.id(code));
        if let Some((sire, dam)) = parents.split_once(" x ") {
            (added.sire, added.dam) = (parent(sire), parent(dam));
        }
        let when = added.hatched.map_or(When::Undated, When::Day);
        let id = AnimalId(self.room.write(when, Fact::Added(added)));
        self.ids.push((code.to_owned(), id));
    }

    pub fn of(animals: &[(&str, &str, &str)]) -> Self {
        let mut house = Self::default();
        animals.iter().for_each(|(code, genes, parents)| house.add(code, genes, parents));
        house
    }

    fn look(&mut self, code: &str, look: &str) {
        let animal = self.id(code);
        self.room.on("2022-07-02", Fact::Looked(Looked { animal, look: look.to_owned() }));
    }

    pub fn set(&mut self, name: &str, value: &str) {
        self.room.on("2022-01-01", Fact::Set(Set { name: name.into(), value: value.into() }));
    }

    pub fn tested(&mut self, code: &str, gene: &str, found: LabFound) {
        let (animal, gene) = (self.id(code), gene.to_owned());
        self.room
            .on("2023-01-01", Fact::Tested(Tested { animal, gene, found, lab: None, error: None }));
    }

    fn answer(&self) -> (GeneChances, Vec<String>) {
        let colony = self.room.on_evening_of("2026-02-10");
        let codes = (0..colony.animals.len()).map(|at| colony.code(at).to_owned()).collect();
        (GeneBook::new(builtin()).answer(&colony, &read), codes)
    }

    pub fn carries(&self, code: &str, gene: &str) -> f64 {
        let (chances, codes) = self.answer();
        let place = codes.iter().position(|known| known == code).unwrap();
        chances.carries(place, builtin().gene(gene).unwrap()).get()
    }
}

pub fn close(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-12, "{found} is not {expected}");
}

/// Labels are certain here: what is tried is the inheritance.
pub fn trusting(animals: &[(&str, &str, &str)]) -> House {
    let mut house = House::of(animals);
    house.set("het_claims_trusted", "100");
    house
}

/// Textbook: two thirds of the normal-looking young of two hets are hets; after k normal young of
/// a visual mate 1 / (1 + 2^(k-1)) (Bayes by hand).
#[test]
fn young_of_two_hets_are_hets_in_two_thirds_until_their_own_young_speak() {
    let mut house = trusting(&[
        ("M1", "het clown", ""),
        ("F1", "het clown", ""),
        ("F2", "pastel 50% het clown", "M1 x F1"),
        ("M2", "clown", ""),
    ]);
    // .99 of the clowns among the young would have been seen: 1/4 x .01 are left among 3/4 + 1/4 x .01.
    let seen = 0.75 + 0.25 * 0.01;
    let (het, missed) = (0.5 / seen, 0.25 * 0.01 / seen);
    close(house.carries("F2", "clown"), het + missed);
    for k in 1..=6_i32 {
        house.add(&format!("H{k}"), "normal", "M2 x F2");
        let het = het * (0.5 + 0.5 * 0.01_f64).powi(k);
        let missed = missed * 0.01_f64.powi(k);
        let none = 0.25 / seen;
        close(house.carries("F2", "clown"), (het + missed) / (het + missed + none));
    }
    house.add("H7", "clown", "M2 x F2");
    close(house.carries("F2", "clown"), 1.0);
}

/// The rule of a seller's word: trust x claim + (1 - trust) x background, 2 q / (1 + q) of the
/// normal-looking animals with q = .01.
#[test]
fn a_claim_without_parents_is_the_prior_by_its_trust() {
    let background = 2.0 * 0.01 / 1.01;
    for (label, claim) in
        [("het clown", 1.0), ("66% het clown", 2.0 / 3.0), ("possible het clown", 0.5)]
    {
        let mut house = House::of(&[("F1", label, ""), ("M1", "clown", "")]);
        close(house.carries("F1", "clown"), 0.95 * claim + 0.05 * background);
        house.set("het_claims_trusted", "60 %");
        close(house.carries("F1", "clown"), 0.6 * claim + 0.4 * background);
    }
}

/// docs/methods/colony_genes.md; 2 q / (1 + q) = .0198 with q = .01.
#[test]
fn the_worked_example_of_the_docs() {
    let mut house = House::of(&[("M1", "clown", ""), ("F1", "50% het clown", "")]);
    let prior = 0.95 * 0.5 + 0.05 * (0.02 / 1.01);
    assert!((prior - 0.47599_f64).abs() < 5e-6);
    (1..=3).for_each(|n| house.add(&format!("H{n}"), "normal", "M1 x F1"));
    let expected = prior * 0.505_f64.powi(3) / (prior * 0.505_f64.powi(3) + 1.0 - prior);
    close(house.carries("F1", "clown"), expected);
    assert!((expected - 0.10473).abs() < 5e-6, "{expected}");
    house.add("H4", "clown", "M1 x F1");
    close(house.carries("F1", "clown"), 1.0);
}

/// A label on an animal with both parents says nothing: the parents do.
#[test]
fn a_claim_on_an_animal_with_both_parents_is_no_evidence() {
    let house = trusting(&[
        ("M1", "het clown", ""),
        ("F1", "pastel", ""),
        ("F2", "66% het clown", "M1 x F1"),
        ("F3", "normal", "M1 x F1"),
    ]);
    close(house.carries("F2", "clown"), 0.5);
    close(house.carries("F3", "clown"), 0.5);
}

#[test]
fn with_one_parent_a_claim_speaks_for_the_other() {
    let mut house = trusting(&[
        ("F1", "pastel", ""),
        ("F2", "50% het clown", "- x F1"),
        ("F3", "clown", ""),
        ("F4", "het clown", "- x F3"),
    ]);
    house.set("unknown_parents_carry", "no");
    close(house.carries("F2", "clown"), 0.5);
    close(house.carries("F1", "clown"), 0.0);
    // The visual dam alone accounts for her het: the sire is as common as any.
    close(house.carries("F4", "clown"), 1.0);
    let (chances, codes) = house.answer();
    let clown = builtin().gene("clown").unwrap();
    let f4 = codes.iter().position(|c| c == "F4").unwrap();
    let two = chances.locus(clown.locus).unwrap().genotypes(f4);
    assert!(
        two.iter().all(|g| g.genotype.copies(clown.allele) == 1 || g.chance < 1e-12),
        "{two:?}"
    );
}

/// A recessive that is not listed is not carried; a chance set by hand says otherwise.
#[test]
fn what_is_not_listed_is_not_carried_unless_set() {
    let animals = [("F1", "pastel", ""), ("F2", "het clown", ""), ("M1", "enchi", "")];
    let mut house = House::of(&animals);
    close(house.carries("F1", "clown"), 0.0);
    house.set("carrier_chances", "clown = 3 %, M1 = 7 %, F1 clown = 10 %");
    // A clown among them would have been seen in 99 of 100 looks.
    let near = |found: f64, expected: f64| assert!((found - expected).abs() < 1e-4, "{found}");
    near(house.carries("M1", "clown"), 0.07);
    near(house.carries("F1", "clown"), 0.1);
    house.set("carrier_chances", "clown = 3 %");
    near(house.carries("M1", "clown"), 0.03);
}

/// Two founders without a hint, one visual young: both must carry it, and are named. With one of
/// them a known het, the other is.
#[test]
fn a_clash_reopens_its_locus_and_names_the_carrier() {
    let house = trusting(&[
        ("M1", "pastel", ""),
        ("F1", "het clown", ""),
        ("F2", "enchi", ""),
        ("F3", "clown", "M1 x F1"),
        ("F4", "enchi", "M1 x F2"),
    ]);
    let (chances, codes) = house.answer();
    let clown = builtin().gene("clown").unwrap();
    let clash = chances.locus(clown.locus).unwrap().clash.clone().unwrap();
    assert!(clash.is_resolved);
    let m1 = codes.iter().position(|c| c == "M1").unwrap();
    assert_eq!(clash.carriers[0].who, Who::Animal(m1));
    close(clash.carriers[0].chance, 1.0);
    // F2 may be a carrier as well now, and one in 40,000 of the young a clown that was missed.
    assert!((house.carries("F4", "clown") - 0.5).abs() < 1e-4);
    let enchi = builtin().gene("enchi").unwrap();
    assert!(chances.locus(enchi.locus).unwrap().clash.is_none(), "other loci stay as they are");
}

/// "Nobody named": a het grandchild's look leaves two founders in doubt, by Bayes alike.
#[test]
fn likely_carriers_share_what_only_one_of_them_need_carry() {
    let house = trusting(&[
        ("M1", "pastel", ""),
        ("F1", "enchi", ""),
        ("M2", "clown", ""),
        ("F2", "pastel enchi", "M1 x F1"),
        ("H1", "clown", "M2 x F2"),
    ]);
    let (chances, _) = house.answer();
    let clown = builtin().gene("clown").unwrap();
    let clash = chances.locus(clown.locus).unwrap().clash.clone().unwrap();
    assert!(clash.is_resolved, "{clash:?}");
    let [one, other] = [clash.carriers[0].chance, clash.carriers[1].chance];
    close(one, other);
    assert!((0.5..0.51).contains(&one), "{one}");
}

/// A laboratory that errs in 1 % (the setting): Bayes by hand.
#[test]
fn a_result_moves_the_chance_by_its_error_rate() {
    let mut house = trusting(&[("M1", "clown", ""), ("F1", "50% het clown", "")]);
    house.tested("F1", "clown", LabFound::Lacks);
    close(house.carries("F1", "clown"), 0.5 * 0.01 / (0.5 * 0.01 + 0.5 * 0.99));
    house.tested("F1", "clown", LabFound::Carries);
    close(house.carries("F1", "clown"), 0.5);
}

#[test]
fn a_look_hides_what_cannot_be_judged_beside_it() {
    let animals = |look| {
        [
            ("M1", "pastel", ""),
            ("F1", "yellow belly", ""),
            ("M2", "yellow belly", ""),
            ("F2", look, "M1 x F1"),
        ]
    };
    let seen = trusting(&animals("yellow belly")).carries("F2", "pastel");
    // Dam F1 may be a missed pastel herself, in 2 of 10,000.
    assert!((seen - 0.5 * 0.01 / (0.5 + 0.5 * 0.01)).abs() < 1e-5, "{seen}");
    let mut hidden = trusting(&animals("normal"));
    hidden.add("F5", "ivory", "M2 x F1");
    let (chances, codes) = hidden.answer();
    let place = codes.iter().position(|c| c == "F5").unwrap();
    let gene = builtin().gene("pastel").unwrap();
    let seen = chances.seen(builtin(), place, gene.locus);
    assert!(matches!(seen, answers::gene_chances::Seen::HiddenBy(..)), "{seen:?}");
}

/// What a hatchling was seen to show counts though its label of later does not repeat it.
#[test]
fn a_look_and_a_label_are_one_list() {
    let mut house =
        trusting(&[("M1", "pastel", ""), ("F1", "enchi", ""), ("F2", "het clown", "M1 x F1")]);
    house.look("F2", "pastel");
    close(house.carries("F2", "pastel"), 1.0);
}

/// Axanthic without a line matches no line; the rest of the label counts.
#[test]
fn axanthic_without_a_line_is_a_question() {
    let house = trusting(&[("F1", "pastel het axanthic", ""), ("M1", "axanthic (line A)", "")]);
    close(house.carries("F1", "axanthic (line A)"), 0.0);
    close(house.carries("F1", "pastel"), 1.0);
    let (chances, _) = house.answer();
    assert!(chances.questions(0)[0].contains("which line"), "{:?}", chances.questions(0));
}

/// A seen dominant may be one copy or two: q / (2 - q) are two with q = .01, Hardy-Weinberg.
#[test]
fn two_copies_of_a_dominant_are_as_likely_as_they_are_common() {
    let house = House::of(&[("M1", "pinstripe", "")]);
    let (chances, _) = house.answer();
    let gene = builtin().gene("pinstripe").unwrap();
    let all = chances.locus(gene.locus).unwrap().genotypes(0);
    close(all[2].chance, 0.01 / 1.99);
    close(all[0].chance, 0.0);
}

/// A coral glow son has it on Y exactly if his sire had it (Mallery & Carrillo 2016), whatever r.
#[test]
fn the_chromosome_of_a_sex_linked_gene_follows_from_the_parents() {
    let house = trusting(&[
        ("M1", "coral glow", ""),
        ("F1", "normal", ""),
        ("M2", "coral glow", "M1 x F1"),
        ("F2", "coral glow", ""),
        ("M3", "normal", ""),
        ("M4", "coral glow", "M3 x F2"),
    ]);
    let (chances, codes) = house.answer();
    let gene = builtin().gene("coral glow").unwrap();
    let on_y = |code: &str| {
        let place = codes.iter().position(|c| c == code).unwrap();
        let of = chances.locus(gene.locus).unwrap().of(place);
        let is_it = |c: genetics::genotype::Copies| c.second == gene.allele && c.first.is_wild();
        of.iter().filter(|(c, _)| is_it(*c)).map(|(_, p)| p).sum::<f64>()
    };
    // M3 and F1 may have been missed: .02 of animals carry it, .01 of looks miss it.
    assert!(on_y("M2") > 0.999 && on_y("M4") < 0.001, "{} {}", on_y("M2"), on_y("M4"));
    // One son that fits "on Y": the mean of 1 - r over the prior, .94.
    let r = chances.locus(gene.locus).unwrap().recombination().unwrap();
    assert!(
        (on_y("M1") - (1.0 - r)).abs() < 0.01 && (0.055..0.065).contains(&r),
        "{} {r}",
        on_y("M1")
    );
}

/// A book that is asked again after more records says what a new one says.
#[test]
fn a_book_goes_on_as_if_it_were_new() {
    let mut house = trusting(&[
        ("M1", "het clown pastel", ""),
        ("F1", "het clown", ""),
        ("F2", "66% het clown", "M1 x F1"),
    ]);
    let mut book = GeneBook::new(builtin());
    let later: [(&str, &str, &str); 8] = [
        ("M2", "clown enchi", ""),
        ("H1", "enchi", "M2 x F2"),
        ("H2", "clown", "M2 x F2"),
        ("M3", "50% het piebald", "M1 x -"),
        ("H3", "piebald", "M3 x F1"),
        ("M4", "normal", ""),
        ("F3", "coral glow", ""),
        ("H4", "coral glow", "M4 x F3"),
    ];
    for (code, genes, parents) in later {
        house.add(code, genes, parents);
        let colony = house.room.on_evening_of("2026-02-10");
        let (old, new) =
            (book.answer(&colony, &read), GeneBook::new(builtin()).answer(&colony, &read));
        assert_eq!(old.loci.len(), new.loci.len());
        for (a, b) in old.loci.iter().zip(&new.loci) {
            assert_eq!(a.log10_likelihood.to_bits(), b.log10_likelihood.to_bits());
            for place in 0..colony.animals.len() {
                assert_eq!(a.of(place), b.of(place));
            }
        }
    }
}

/// Of all animals that are given a chance to carry a gene, as many do: in twelve made-up collections
/// whose labels are true as often as they say, by tenths, within four standard errors. Young of one
/// clutch share their parents' fate, so the errors are reckoned as if every eight were one.
#[test]
fn of_animals_given_a_chance_as_many_carry_the_gene() {
    let mut bins = [(0.0, 0.0, 0.0); 10];
    for seed in 1..=12 {
        let collection = Collection::new(builtin(), 400, 24, seed * 7_919);
        let mut colony = collection.colony();
        let trusted = ("100".to_owned(), records::RecordId::from_bytes([0; 16]));
        colony.settings.insert("het_claims_trusted".to_owned(), trusted);
        let chances = GeneBook::new(builtin()).answer(&colony, &read);
        for (place, gene, has) in collection.truth() {
            let p = chances.carries(place, gene).get();
            assert!(p > 0.0 || !has, "{place} has {gene:?}");
            assert!(p < 1.0 || has, "{place} has no {gene:?}");
            if (0.02..0.98).contains(&p) {
                let bin = &mut bins[(p * 10.0) as usize];
                *bin = (bin.0 + 1.0, bin.1 + p, bin.2 + f64::from(u8::from(has)));
            }
        }
    }
    let n: f64 = bins.iter().map(|b| b.0).sum();
    assert!(n > 2_000.0, "{n}");
    for (n, expected, found) in bins.into_iter().filter(|b| b.0 >= 100.0) {
        let p = expected / n;
        let error = (8.0 * n * p * (1.0 - p)).sqrt();
        assert!((found - expected).abs() < 4.0 * error, "{n} {p:.3}: {found} of {expected:.1}");
    }
}

#[test]
fn animals_that_are_their_own_ancestors_are_answered_all_the_same() {
    let mut house =
        trusting(&[("M1", "clown", ""), ("F1", "pastel", ""), ("F2", "normal", "M1 x F1")]);
    let (f1, f2) = (house.id("F1"), house.id("F2"));
    house.room.on("2023-01-01", Fact::Changed(Changed { animal: f1, change: Change::Dam(f2) }));
    let (chances, _) = house.answer();
    assert_eq!(chances.circular().len(), 1);
}

#[test]
fn a_female_written_as_the_sire_is_left_out() {
    let house = trusting(&[
        ("F1", "clown", ""),
        ("F2", "normal", ""),
        ("M1", "normal", ""),
        ("F3", "normal", "F1 x F2"),
        ("F4", "normal", "M1 x F2"),
    ]);
    let (chances, codes) = house.answer();
    let wrong: Vec<_> = chances
        .wrong_sex()
        .iter()
        .map(|w| (&*codes[w.young], &*codes[w.parent], w.needed))
        .collect();
    assert_eq!(wrong, [("F3", "F1", Sex::Male)]);
    assert!(house.carries("F3", "clown") < 0.1);
}

/// A clutch with a dam, two males before it and nobody credited; its young.
fn shared_clutch(looks: &[&str]) -> House {
    let mut house = trusting(&[
        ("M1", "pastel", ""),
        ("M2", "normal", ""),
        ("F1", "clown", ""),
        ("M3", "clown", ""),
    ]);
    let (m1, m2, f1) = (house.id("M1"), house.id("M2"), house.id("F1"));
    for night in 1..=4 {
        house.room.placed(m1, f1, &format!("2022-01-0{night}"));
        house.room.placed(m2, f1, &format!("2022-01-1{night}"));
    }
    let laid = records::facts::Laid {
        female: f1,
        sire: None,
        clutch: None,
        eggs: None,
        slugs: None,
        mass: None,
        kept: None,
    };
    house.room.on("2022-05-02", Fact::Laid(laid));
    for (at, look) in looks.iter().enumerate() {
        house.add(&format!("H{at}"), look, "- x F1");
    }
    house
}

/// The sires' chances are those of prior times likelihood; what one young shows moves its siblings
/// at every locus.
#[test]
fn a_sire_in_doubt_joins_all_loci() {
    let sires = |house: &House| {
        let (chances, codes) = house.answer();
        assert!(!chances.are_sires_cut);
        let of = |father: Father| match father {
            Father::Male(place) | Father::Stored(place) => codes[place].clone(),
            Father::Unknown => "unknown".to_owned(),
            Father::Nobody => "nobody".to_owned(),
        };
        let all = chances.sires[0].sires.clone();
        all.into_iter().map(|s| (of(s.father), s.prior, s.chance)).collect::<Vec<_>>()
    };
    let chance = |all: &[(String, f64, f64)], code: &str| {
        all.iter().find(|(who, ..)| who == code).map_or(0.0, |(_, _, chance)| *chance)
    };
    // Two normal young: half of M1's are, nearly all of M2's.
    let normal = sires(&shared_clutch(&["normal", "normal"]));
    let (m1, m2) = (
        normal.iter().find(|s| s.0 == "M1").unwrap(),
        normal.iter().find(|s| s.0 == "M2").unwrap(),
    );
    let missed = 0.5 + 0.5 * 0.01;
    let by_hand = m1.1 * missed * missed / m2.1;
    assert!((m1.2 / m2.2 / by_hand - 1.0).abs() < 1e-3, "{normal:?} {by_hand}");
    // A pastel among them: M1's, but for a stranger's.
    let pastel = sires(&shared_clutch(&["normal", "pastel"]));
    assert!(chance(&pastel, "M1") > 0.99 && chance(&pastel, "M2") < 0.01, "{pastel:?}");
    // M2 is found to carry albino: the young carry it as far as they are his.
    let mut tested = shared_clutch(&["normal", "normal"]);
    tested.set("lab_error", "0");
    tested.set("unknown_parents_carry", "no");
    tested.set("carrier_chances", "M2 albino = 20 %");
    tested.tested("M2", "albino", LabFound::OneCopy);
    let m2 = chance(&sires(&tested), "M2");
    close(tested.carries("H0", "albino"), m2 / 2.0);
    assert!(m2 > 0.5, "{m2}");
}

const LABELS: [&str; 16] = [
    "",
    "normal",
    "clown",
    "het clown",
    "66% het clown 50% het piebald",
    "pastel",
    "super pastel het albino",
    "ivory",
    "yellow belly specter",
    "spider",
    "coral glow",
    "coral glow male maker",
    "axanthic",
    "no clown",
    "lesser mojave phantom",
    "pinstripe candino",
];

fn any_room() -> impl proptest::strategy::Strategy<Value = Vec<(usize, usize, usize, usize, u8)>> {
    let animal = (0..LABELS.len(), 0..LABELS.len(), 0..14_usize, 0..14_usize, 0..4_u8);
    proptest::collection::vec(animal, 1..12)
}

proptest::proptest! {
    #![proptest_config(proptest::test_runner::Config::with_cases(48))]

    /// Whatever is written, also what cannot be: parents of the wrong sex or younger than their
    /// young, circles, looks that fit nothing. Every animal's chances are chances, and a book that
    /// goes on says what a new one says.
    #[test]
    fn whatever_is_written_is_answered(animals in any_room()) {
        let mut house = House::default();
        let mut book = GeneBook::new(builtin());
        for (at, (genes, look, sire, dam, kind)) in animals.iter().enumerate() {
            let code = format!("{}{at}", ["M", "F", "H", "H"][usize::from(*kind)]);
            house.add(&code, LABELS[*genes], "");
            let own = house.id(&code);
            if *kind == 3 {
                house.look(&code, LABELS[*look]);
                house.tested(&code, "albino", LabFound::TwoCopies);
            }
            for (parent, is_sire) in [(*sire, true), (*dam, false)] {
                if let Some((_, parent)) = house.ids.get(parent) {
                    let change = if is_sire { Change::Sire(*parent) } else { Change::Dam(*parent) };
                    house.room.on("2023-01-01", Fact::Changed(Changed { animal: own, change }));
                }
            }
            let colony = house.room.on_evening_of("2026-02-10");
            let (old, new) =
                (book.answer(&colony, &read), GeneBook::new(builtin()).answer(&colony, &read));
            for (a, b) in old.loci.iter().zip(&new.loci) {
                for place in 0..colony.animals.len() {
                    let sum: f64 = a.of(place).iter().map(|(_, p)| p).sum();
                    proptest::prop_assert!((sum - 1.0).abs() < 1e-9, "{sum}");
                    proptest::prop_assert_eq!(a.of(place), b.of(place));
                }
            }
            let mut anew = |colony: &Colony| GeneBook::new(builtin()).answer(colony, &read);
            let told = genes_of(&colony, builtin(), &new, at, &mut anew);
            for reason in told.loci.iter().flat_map(|locus| &locus.reasons) {
                proptest::prop_assert!(reason.sentence(&colony).ends_with('.'), "{reason:?}");
            }
        }
    }
}
