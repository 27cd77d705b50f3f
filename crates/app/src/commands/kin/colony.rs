//! Kinship in the colony.

use answers::ColonyKin;
use records::Colony;

use super::{PairTold, Told, named, too_many};
use crate::args::Kin;
use crate::folder;
use crate::refusal::Refusal;

pub(super) fn told(args: &Kin) -> Result<Told, Refusal> {
    let store = folder::reading(&args.ask.folder)?;
    let (colony, _) = folder::colony(&store, &args.ask)?;
    let kin = ColonyKin::of(&colony);
    let asked = named(args, |code| folder::animal(&colony, code))?;
    let is_named = !asked.is_empty();
    let mut notes: Vec<String> = kin.circle.iter().map(|at| circle(&colony, *at)).collect();
    let (females, males) = answers::kin::prospective(&colony);
    let count = females.len() * males.len();
    let pairs = if is_named {
        asked.iter().map(|(a, b)| pair(&colony, &kin, *a, *b)).collect()
    } else if count <= args.most {
        prospective(&colony, &kin, &females, &males)
    } else {
        notes.push(too_many(count, args.most));
        Vec::new()
    };
    let animals = 0..colony.animals.len();
    let animals: Vec<_> =
        animals.map(|at| (colony.code(at).to_owned(), kin.inbreeding(at))).collect();
    Ok(Told { about: format!("{} animals", animals.len()), animals, pairs, is_named, notes })
}

/// Every female of the house with every male, the ancestors named for those that are related.
fn prospective(
    colony: &Colony,
    kin: &ColonyKin,
    females: &[usize],
    males: &[usize],
) -> Vec<PairTold> {
    let block = kin.block(males, females);
    let rows = females.iter().zip(&block);
    let cells =
        rows.flat_map(|(f, row)| males.iter().zip(row).map(move |(m, value)| (*f, *m, *value)));
    let one = |(female, male, value): (usize, usize, f64)| {
        if value > 0.0 {
            return pair(colony, kin, female, male);
        }
        let [a, b] = [female, male].map(|at| colony.code(at).to_owned());
        PairTold { a, b, kinship: 0.0, relation: None, said: vec![], behind: Some(vec![]) }
    };
    cells.map(one).collect()
}

fn pair(colony: &Colony, kin: &ColonyKin, a: usize, b: usize) -> PairTold {
    let told = kin.pair(colony, a, b);
    let code = |at: usize| colony.code(at).to_owned();
    let said = match told.sentence(colony) {
        Some(sentence) => vec![format!("{sentence}.")],
        None => {
            let mut said = told.beyond(colony);
            said.insert(0, "no common ancestor is written.".to_owned());
            said
        }
    };
    PairTold {
        a: code(a),
        b: code(b),
        kinship: told.kinship,
        relation: told.relations.first().map(|r| r.word(colony.animals[b].sex())),
        said,
        behind: Some(told.behind.iter().map(|b| (b.animal.map(code), b.share)).collect()),
    }
}

fn circle(colony: &Colony, at: usize) -> String {
    format!(
        "The written parents of {} make it its own ancestor: they were left out. Correct them.",
        colony.code(at)
    )
}
