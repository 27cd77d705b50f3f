//! What proves a het cheapest.

use answers::GeneBook;
use answers::prove::{GeneQuestion, How, LEVELS, ProofShown, Question, prove};
use answers::settings::ProofCosts;
use records::facts::{Change, Changed, Tested};
use records::{AnimalId, Colony, Fact, LabFound, Sex};
use sheets::catalogue_file::builtin;

use crate::gene_chances::read;
use crate::room::Room;

const PAGE: &str = include_str!("../../../docs/methods/prove.md");

fn near(a: f64, b: f64) {
    assert!((a - b).abs() < 1e-9, "{a} is not {b}");
}

fn tell(room: &mut Room, animal: AnimalId, genes: &str) {
    let change = Change::Genes(genes.into());
    room.on("2025-01-01", Fact::Changed(Changed { animal, change }));
}

/// A male sold as 66 % het clown, a visual, a het and a normal female.
fn room() -> Room {
    let mut room = Room::default();
    let male = room.animal("M1", Sex::Male, 900.0);
    tell(&mut room, male, "66% het clown");
    for (code, genes) in [("F1", "clown"), ("F2", "100% het clown"), ("F3", "normal")] {
        let female = room.animal(code, Sex::Female, 2000.0);
        tell(&mut room, female, genes);
    }
    room
}

fn asked(colony: &Colony, code: &str, gene: Option<&str>, costs: ProofCosts) -> Vec<GeneQuestion> {
    let genes = GeneBook::new(builtin()).answer(colony, &read);
    let place = (0..colony.animals.len()).find(|p| colony.code(*p) == code).unwrap();
    let gene = gene.map(|name| builtin().gene(name).unwrap());
    prove(colony, &genes, builtin(), (place, gene), costs)
}

fn with<'a>(q: &'a GeneQuestion, colony: &Colony, mate: &str) -> Option<&'a ProofShown> {
    q.proofs.iter().find(|p| match p.how {
        How::Clutch { mate: place } => colony.code(place) == mate,
        How::Laboratory => mate == "laboratory",
    })
}

fn entropy(p: f64) -> f64 {
    -p * p.log2() - (1.0 - p) * (1.0 - p).log2()
}

/// The example of the page, reckoned by hand. A label is trusted with .95; else he is het as often as
/// normal-looking animals are, 2 q / (1 + q) at q = .01. A young that shows clown is missed with .01.
#[test]
fn the_example_of_the_page() {
    let colony = room().on_evening_of("2026-02-10");
    let costs = ProofCosts { lab: Some(45.0), season: Some(400.0) };
    let all = asked(&colony, "M1", None, costs);
    assert_eq!(all.len(), 1);
    let q = &all[0];
    let before = 0.95 * 2.0 / 3.0 + 0.05 * 2.0 * 0.01 / 1.01;
    near(q.before, before);
    near(q.open, entropy(before));
    assert_eq!(q.question, Question::Carries);

    let lab = with(q, &colony, "laboratory").unwrap();
    let says_yes = before * 0.99 + (1.0 - before) * 0.01;
    let (if_yes, if_no) = (before * 0.99 / says_yes, before * 0.01 / (1.0 - says_yes));
    near(lab.if_yes.unwrap(), if_yes);
    near(lab.if_no.unwrap(), if_no);
    let lab_bits = entropy(before) - says_yes * entropy(if_yes) - (1.0 - says_yes) * entropy(if_no);
    near(lab.bits, lab_bits);

    let visual = with(q, &colony, "F1").unwrap();
    near(visual.if_yes.unwrap(), 1.0);
    // Six hatchlings, 81 % of the usual clutch: half of a het's show it, one in a hundred of these is
    // missed.
    let none = |n: i32| before * 0.505_f64.powi(n) / (before * 0.505_f64.powi(n) + 1.0 - before);
    near(visual.if_no.unwrap(), none(6));
    let of_size = |(n, p): (usize, &f64)| {
        let left = before * 0.505_f64.powi(n as i32) + 1.0 - before;
        p * (entropy(before) - left * entropy(none(n as i32)))
    };
    let hatching = units::Probability::clamped(0.81);
    let usual = genetics::chances::ClutchSize::usual().thinned(hatching);
    near(visual.bits, usual.chances().iter().enumerate().map(of_size).sum());
    for (level, n) in LEVELS.iter().zip(visual.young_needed) {
        let n = n.unwrap() as i32;
        assert!(none(n) <= 1.0 - level && none(n - 1) > 1.0 - level, "{level} {n}");
        assert!(PAGE.contains(&format!("{n} for {:.0} %", level * 100.0)), "{n} for {level}");
    }
    for printed in [before, q.open, if_yes, if_no, lab.bits, none(6), visual.bits] {
        let printed = format!("{printed:.4}");
        assert!(PAGE.contains(&printed), "{printed} is not on the page");
    }
    // The cheapest bit first; a normal mate tells nothing.
    assert_eq!(q.proofs[0].how, How::Laboratory);
    assert_eq!(q.proofs.len(), 3);
    assert!(with(q, &colony, "F3").is_none());
    assert!(visual.bits > with(q, &colony, "F2").unwrap().bits);
    let cheap = ProofCosts { lab: Some(45.0), season: Some(10.0) };
    let first = asked(&colony, "M1", None, cheap)[0].proofs[0].how;
    assert!(matches!(first, How::Clutch { mate } if colony.code(mate) == "F1"));
}

#[test]
fn what_is_settled_is_no_question() {
    let mut room = room();
    let colony = room.on_evening_of("2026-02-10");
    assert!(asked(&colony, "F3", None, ProofCosts::default()).is_empty());
    let piebald = asked(&colony, "M1", Some("piebald"), ProofCosts::default());
    assert_eq!(piebald.len(), 1);
    near(piebald[0].before, 0.0);
    assert!(piebald[0].proofs.is_empty());
    // A result moves it: .9953 is left after a yes.
    let male = AnimalId(colony.animals[0].id.0);
    let found = LabFound::Carries;
    let tested = Tested { animal: male, gene: "clown".into(), found, lab: None, error: None };
    room.on("2026-02-01", Fact::Tested(tested));
    let colony = room.on_evening_of("2026-02-10");
    let after = asked(&colony, "M1", Some("clown"), ProofCosts::default())[0].before;
    let before = 0.95 * 2.0 / 3.0 + 0.05 * 2.0 * 0.01 / 1.01;
    near(after, before * 0.99 / (before * 0.99 + (1.0 - before) * 0.01));
}

/// Of a dominant that is seen it is asked whether it is there twice.
#[test]
fn a_dominant_may_be_there_twice() {
    let mut room = Room::default();
    let [male, female] =
        [("M1", Sex::Male), ("F1", Sex::Female)].map(|(c, s)| room.animal(c, s, 2000.0));
    tell(&mut room, male, "pinstripe");
    tell(&mut room, female, "normal");
    let colony = room.on_evening_of("2026-02-10");
    let all = asked(&colony, "M1", None, ProofCosts::default());
    assert_eq!(all[0].question, Question::TwoCopies);
    // Hardy-Weinberg at .01: q / (2 - q).
    near(all[0].before, 0.01 / 1.99);
    let clutch = with(&all[0], &colony, "F1").unwrap();
    // A young without it leaves hardly a doubt that he has one copy.
    assert!(clutch.if_yes.unwrap() > clutch.if_no.unwrap());
}
