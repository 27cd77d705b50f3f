//! Who may have fathered a clutch, before and after its young are looked at.

use answers::GeneBook;
use answers::sire::{Candidate, CandidateShown, Father, SURE, SireAnswer, candidates, sire};
use records::facts::{Added, Change, Changed, Laid, LockLooked, Ovulated, Set};
use records::words::{Certainty, Lock};
use records::{AnimalId, Code, Colony, Fact, Sex};
use sheets::catalogue_file::builtin;
use units::Night;

use crate::gene_chances::read;
use crate::room::{Room, day};

fn laid(female: AnimalId, sire: Option<AnimalId>) -> Fact {
    let clutch = Some("C26-1".to_owned());
    Fact::Laid(Laid { female, sire, clutch, eggs: Some(6), slugs: None, mass: None, kept: None })
}

fn looked(room: &mut Room, male: AnimalId, female: AnimalId, night: &str, lock: Lock) {
    room.placed(male, female, night);
    let night = Night::beginning(day(night));
    room.on("2026-05-01", Fact::LockLooked(LockLooked { male, female, night, lock }));
}

fn of<'a>(all: &'a [Candidate], colony: &Colony, code: &str) -> &'a Candidate {
    let is_it = |c: &&Candidate| match c.father {
        Father::Male(place) | Father::Stored(place) => colony.code(place) == code,
        Father::Unknown => code == "unknown",
        Father::Nobody => code == "nobody",
    };
    all.iter().find(is_it).unwrap()
}

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-12, "{a} is not {b}");
}

/// Settings and halving as they stand: a lock seen at ovulation counts 1, a night without one looked
/// for .1, sixty nights earlier half of that; 3 % stored, 1 % unknown, .2 % nobody.
#[test]
fn nights_count_by_locks_and_by_how_long_ago() {
    let mut room = Room::default();
    let her = room.animal("F1", Sex::Female, 2000.0);
    let [one, other, earlier] = ["M1", "M2", "M3"].map(|m| room.animal(m, Sex::Male, 900.0));
    room.placed(earlier, her, "2025-01-10");
    looked(&mut room, one, her, "2026-01-30", Lock::Seen);
    looked(&mut room, other, her, "2025-12-01", Lock::NoneSeen);
    let ovulated = Ovulated { female: her, certainty: Certainty::Seen, sire: None };
    room.on("2026-01-30", Fact::Ovulated(ovulated));
    room.on("2026-03-16", laid(her, None));
    let colony = room.on_evening_of("2026-05-20");
    let all = candidates(&colony, &colony.clutches[0]);
    near(all.iter().map(|c| c.prior).sum(), 1.0);
    assert_eq!(all.len(), 5);
    let rest = 1.0 - 0.03 - 0.01 - 0.002;
    near(of(&all, &colony, "M1").prior, rest / 1.05);
    near(of(&all, &colony, "M2").prior, rest * 0.05 / 1.05);
    near(of(&all, &colony, "M3").prior, 0.03);
    assert!(matches!(of(&all, &colony, "M3").father, Father::Stored(_)));
    near(of(&all, &colony, "unknown").prior, 0.01);
    near(of(&all, &colony, "nobody").prior, 0.002);
    let first = &all[0];
    assert_eq!((first.nights, first.locks, first.last), (1, 1, Some(day("2026-01-30"))));
}

/// Nobody saw her ovulate: she did about 45 days before she laid, and nights after that hardly
/// count. Whom the keeper credits counts for one lock more.
#[test]
fn nights_after_ovulation_hardly_count_and_credit_does() {
    let mut room = Room::default();
    let her = room.animal("F1", Sex::Female, 2000.0);
    let [one, other] = ["M1", "M2"].map(|m| room.animal(m, Sex::Male, 900.0));
    looked(&mut room, one, her, "2026-01-30", Lock::Seen);
    looked(&mut room, other, her, "2026-02-20", Lock::Seen);
    room.on("2026-03-16", laid(her, Some(other)));
    let colony = room.on_evening_of("2026-05-20");
    let all = candidates(&colony, &colony.clutches[0]);
    let ratio = of(&all, &colony, "M2").prior / of(&all, &colony, "M1").prior;
    near(ratio, 1.1);
    assert!(of(&all, &colony, "M2").credited && !of(&all, &colony, "M1").credited);
}

#[test]
fn without_nights_there_is_stored_sperm_and_without_that_a_stranger() {
    let mut room = Room::default();
    let [her, alone] = ["F1", "F2"].map(|f| room.animal(f, Sex::Female, 2000.0));
    let one = room.animal("M1", Sex::Male, 900.0);
    room.placed(one, her, "2025-01-10");
    room.on("2026-03-16", laid(her, None));
    room.on("2026-03-16", laid(alone, None));
    let colony = room.on_evening_of("2026-05-20");
    let all = candidates(&colony, &colony.clutches[0]);
    near(of(&all, &colony, "M1").prior, 1.0 - 0.01 - 0.002);
    let all = candidates(&colony, &colony.clutches[1]);
    near(of(&all, &colony, "unknown").prior, 0.998);
    assert_eq!(all.len(), 2);
    // The sire written beside a young is the keeper's word as well.
    let mut young = Added::with_code(Code::new("C26-2-1").unwrap());
    (young.hatched, young.dam, young.sire) = (Some(day("2026-05-14")), Some(alone), Some(one));
    room.on("2026-05-14", Fact::Added(young));
    let colony = room.on_evening_of("2026-05-20");
    let all = candidates(&colony, &colony.clutches[1]);
    assert!(of(&all, &colony, "M1").credited);
    near(of(&all, &colony, "M1").prior, 1.0 - 0.01 - 0.002);
}

const PAGE: &str = include_str!("../../../docs/methods/sire.md");

/// One female that looks normal and two males: a pastel with a lock at ovulation, a clown with one
/// sixty nights before; four young that look normal.
fn two_males(settings: &[(&str, &str)]) -> (Colony, SireAnswer) {
    two_males_in(Room::default(), settings)
}

fn two_males_in(mut room: Room, settings: &[(&str, &str)]) -> (Colony, SireAnswer) {
    let her = room.animal("F1", Sex::Female, 2000.0);
    let [pastel, clown] = ["M1", "M2"].map(|m| room.animal(m, Sex::Male, 900.0));
    for (animal, genes) in [(her, "normal"), (pastel, "pastel"), (clown, "clown")] {
        let change = Change::Genes(genes.into());
        room.on("2025-01-01", Fact::Changed(Changed { animal, change }));
    }
    for (name, value) in settings {
        let (name, value) = ((*name).into(), (*value).into());
        room.on("2025-01-01", Fact::Set(Set { name, value }));
    }
    looked(&mut room, pastel, her, "2026-01-30", Lock::Seen);
    looked(&mut room, clown, her, "2025-12-01", Lock::Seen);
    let sire = None;
    room.on(
        "2026-01-30",
        Fact::Ovulated(Ovulated { female: her, certainty: Certainty::Seen, sire }),
    );
    room.on("2026-03-16", laid(her, None));
    for n in 1..=4 {
        let mut added = Added::with_code(Code::new(&format!("C26-1-{n}")).unwrap());
        added.hatched = Some(day("2026-05-14"));
        added.dam = Some(her);
        added.genes = Some("normal".into());
        room.on("2026-05-14", Fact::Added(added));
    }
    let colony = room.on_evening_of("2026-05-20");
    let answer = ask(&colony, 0);
    (colony, answer)
}

/// A sex-linked gene in an animal that is kin to nobody says next to nothing of who the sire is:
/// only that a stranger may have it.
#[test]
fn sex_linked_gene_elsewhere_in_the_house() {
    let (colony, without) = two_males(&[]);
    let mut room = Room::default();
    let animal = room.animal("M9", Sex::Male, 900.0);
    let change = Change::Genes("coral glow".into());
    room.on("2025-01-01", Fact::Changed(Changed { animal, change }));
    let (with_colony, with) = two_males_in(room, &[]);
    for code in ["M1", "M2", "unknown"] {
        let (a, b) = (shown(&without, &colony, code), shown(&with, &with_colony, code));
        assert!((a.alone - b.alone).abs() < 1e-3, "{code}: {} {}", a.alone, b.alone);
    }
}

fn ask(colony: &Colony, clutch: usize) -> SireAnswer {
    let mut book = GeneBook::new(builtin());
    sire(colony, clutch, &mut book, (builtin(), &read)).unwrap()
}

fn shown<'a>(answer: &'a SireAnswer, colony: &Colony, code: &str) -> &'a CandidateShown {
    let all: Vec<Candidate> = answer.candidates.iter().map(|c| c.candidate.clone()).collect();
    let father = of(&all, colony, code).father;
    answer.candidates.iter().find(|c| c.candidate.father == father).unwrap()
}

/// Chances of no, one, two copies of pastel: a normal-looking animal is a pastel that was missed as
/// often as the catalogue says (.01 an allele), times one in a hundred for each copy.
fn normal_looking() -> [f64; 3] {
    let weights = [0.99 * 0.99, 2.0 * 0.99 * 0.01 * 0.01, 0.01 * 0.01 * 0.01 * 0.01];
    let sum: f64 = weights.iter().sum();
    weights.map(|w| w / sum)
}

/// Chance that four young look normal, of a sire and a dam with these chances; none: no sire.
fn four_normal(sire: Option<[f64; 3]>) -> f64 {
    let look = |p: [f64; 3]| (p[0] + 0.01 * p[1] + 0.01 * 0.01 * p[2]).powi(4);
    let mut sum = 0.0;
    for (d, q) in normal_looking().into_iter().enumerate() {
        let b = d as f64 / 2.0;
        let Some(sire) = sire else {
            sum += q * look([1.0 - b, 0.0, b]);
            continue;
        };
        for (s, p) in sire.into_iter().enumerate() {
            let a = s as f64 / 2.0;
            sum += p * q * look([(1.0 - a) * (1.0 - b), a * (1.0 - b) + b * (1.0 - a), a * b]);
        }
    }
    sum
}

/// The example of the page, reckoned by hand: a pastel gives half of his young pastel, and one in a
/// hundred of these is missed.
#[test]
fn the_example_of_the_page() {
    let (colony, answer) = two_males(&[("two_sires", "0")]);
    let rest = 1.0 - 0.01 - 0.002;
    let by = [
        ("M1", rest / 1.5, four_normal(Some([0.0, 1.0, 0.0]))),
        ("M2", rest * 0.5 / 1.5, four_normal(Some(normal_looking()))),
        ("unknown", 0.01, four_normal(Some([0.99 * 0.99, 2.0 * 0.99 * 0.01, 0.01 * 0.01]))),
        ("nobody", 0.002, four_normal(None)),
    ];
    let whole: f64 = by.iter().map(|(_, prior, likely)| prior * likely).sum();
    for (code, prior, likely) in by {
        let found = shown(&answer, &colony, code);
        near(found.candidate.prior, prior);
        near(found.log10_likelihood, likely.log10());
        near(found.alone, prior * likely / whole);
        for printed in [prior, likely, found.alone].map(|p| format!("{p:.4}")) {
            assert!(PAGE.contains(&printed), "{code}: {printed} is not on the page");
        }
    }
    assert_eq!(
        answer.candidates[0].candidate.father,
        shown(&answer, &colony, "M2").candidate.father
    );
    assert!(answer.is_in_doubt(SURE));
    let clown = builtin().gene("clown").unwrap();
    let carries = answer.hatchlings[0].genes.iter().find(|g| g.gene == clown).unwrap().carries;
    let by_stranger = shown(&answer, &colony, "unknown").alone * 0.01;
    assert!(
        (carries - shown(&answer, &colony, "M2").alone - by_stranger).abs() < 1e-9,
        "{carries}"
    );
    assert!(PAGE.contains(&format!("{carries:.4}")), "{carries:.4} is not on the page");
    let look = |words: &[&str]| answer.looks.iter().find(|l| l.look == words).unwrap().chance;
    let males = [shown(&answer, &colony, "M1").alone, shown(&answer, &colony, "M2").alone];
    let missed = normal_looking()[1];
    let pastel = males[0] / (males[0] + males[1]) / 2.0;
    assert!((look(&["pastel"]) - pastel).abs() < missed, "{}", look(&["pastel"]));
    near(answer.looks.iter().map(|l| l.chance).sum(), 1.0);
}

/// With the chance that two shared it, both hatchlings and sires are told of.
#[test]
fn two_may_share_a_clutch() {
    let (colony, answer) = two_males(&[]);
    assert!(answer.two > 0.0 && answer.two < 0.5, "{}", answer.two);
    let sum: f64 = answer.candidates.iter().map(|c| c.alone).sum();
    assert!((sum + answer.two - 1.0).abs() < 1e-12);
    let of_pairs: f64 = answer.pairs.iter().map(|p| p.2).sum();
    near(of_pairs, answer.two);
    for young in &answer.hatchlings {
        near(young.fathers.iter().sum(), 1.0);
    }
    let clown = shown(&answer, &colony, "M2");
    assert!(clown.any > clown.alone);
    assert!(PAGE.contains(&format!("{:.4}", answer.two)), "{:.4}", answer.two);
}
