//! What a column of the pedigree can say about a locus.

use std::collections::BTreeMap;

use super::file::{Numbers, ObservationEntry};
use super::locus::Locus;
use super::problem::CatalogueProblem;

/// A column, and what each of its words says of a locus.
#[derive(Clone, Debug, PartialEq)]
pub struct Observation {
    /// Heading of the column.
    pub column: String,
    /// Place of the locus in the catalogue.
    pub locus: usize,
    says: Says,
}

#[derive(Clone, Debug, PartialEq)]
enum Says {
    /// Words with P(word | genotype), one per genotype of the locus.
    Words(Vec<(String, Vec<f64>)>),
    /// Genotypes, wrong with this chance.
    Genotypes { error: f64 },
}

impl Observation {
    pub(super) fn read(
        entry: &ObservationEntry,
        (at, locus): (usize, &Locus),
        place: &str,
        problems: &mut Vec<CatalogueProblem>,
    ) -> Self {
        let error = entry.error.unwrap_or(0.0);
        if !(0.0..=1.0).contains(&error) {
            let why = format!("{error} is no chance of an error.");
            problems.push(CatalogueProblem::new(place, why, "Write a number from 0 to 1."));
        }
        let says = match &entry.looks {
            None => Says::Genotypes { error },
            Some(looks) => {
                if entry.error.is_some() {
                    let why = "error speaks of genotypes, and here looks are words.";
                    let remedy = "Write the errors into the chances of the words.";
                    problems.push(CatalogueProblem::new(place, why, remedy));
                }
                Says::Words(words(looks, locus, place, problems))
            }
        };
        Self { column: entry.column.clone(), locus: at, says }
    }

    /// P(cell | genotype) for every genotype of the locus; none for a word nobody explained. An empty
    /// cell says nothing, and so does "?" where it is no word.
    #[must_use]
    pub fn of_cell(&self, cell: &str, locus: &Locus) -> Option<Vec<f64>> {
        let said = match &self.says {
            Says::Words(words) => word(words, cell),
            Says::Genotypes { error } => {
                locus.place_of(cell).map(|at| of_genotype(locus, at, *error))
            }
        };
        let is_silent = cell.is_empty() || cell == "?";
        said.or_else(|| is_silent.then(|| vec![1.0; locus.genotypes.len()]))
    }

    /// What a cell may hold, for a message.
    #[must_use]
    pub fn every_word(&self, locus: &Locus) -> String {
        match &self.says {
            Says::Words(words) => {
                words.iter().map(|(word, _)| word.as_str()).collect::<Vec<_>>().join(", ")
            }
            Says::Genotypes { .. } => locus.every_spelling(),
        }
    }
}

/// As written, else but for upper and lower case where that leaves one.
fn word(words: &[(String, Vec<f64>)], cell: &str) -> Option<Vec<f64>> {
    if let Some((_, chances)) = words.iter().find(|(word, _)| word == cell) {
        return Some(chances.clone());
    }
    let lower = cell.to_lowercase();
    let mut near = words.iter().filter(|(word, _)| word.to_lowercase() == lower);
    match (near.next(), near.next()) {
        (Some((_, chances)), None) => Some(chances.clone()),
        _ => None,
    }
}

/// A wrong genotype is any other one of the same sex, each as likely.
fn of_genotype(locus: &Locus, at: usize, error: f64) -> Vec<f64> {
    use std::mem::discriminant;
    let is_alike =
        |g: usize| discriminant(&locus.genotypes[g]) == discriminant(&locus.genotypes[at]);
    let count = locus.genotypes.len();
    let alike = (0..count).filter(|g| is_alike(*g)).count();
    let others = f64::from(u32::try_from(alike.saturating_sub(1)).unwrap_or(u32::MAX)).max(1.0);
    let chance = |g: usize| match () {
        () if g == at => 1.0 - error,
        () if is_alike(g) => error / others,
        () => 0.0,
    };
    (0..count).map(chance).collect()
}

fn words(
    looks: &BTreeMap<String, Numbers>,
    locus: &Locus,
    place: &str,
    problems: &mut Vec<CatalogueProblem>,
) -> Vec<(String, Vec<f64>)> {
    if looks.is_empty() {
        let why = "It has no words.";
        let remedy = "Name them with their chances: affected = { \"-/-\" = 1 }.";
        problems.push(CatalogueProblem::new(place, why, remedy));
    }
    let read: Vec<(&String, Vec<Option<f64>>)> = looks
        .iter()
        .map(|(word, numbers)| {
            let place = format!("{place}, word \"{word}\"");
            if word.trim() != word || word.is_empty() {
                let why = "No cell can hold this word.";
                let remedy =
                    "Write it without blanks around it; an empty cell always says nothing.";
                problems.push(CatalogueProblem::new(&place, why, remedy));
            }
            let said = locus.numbers(numbers, &place, problems);
            if said.iter().flatten().all(|p| *p <= 0.0) {
                let why = "No genotype looks so.";
                let remedy = "Give its chance for each genotype that does: { \"-/-\" = 1 }.";
                problems.push(CatalogueProblem::new(&place, why, remedy));
            }
            (word, said)
        })
        .collect();
    // A male genotype that no word names looks like the same copies in a female.
    let is_named: Vec<bool> = (0..locus.genotypes.len())
        .map(|g| read.iter().any(|(_, said)| said[g].is_some()))
        .collect();
    let whole = |said: &[Option<f64>]| -> Vec<f64> {
        let alike = locus.with_males_alike(said);
        let of = |g: usize| if is_named[g] { said[g] } else { alike[g] };
        (0..said.len()).map(|g| of(g).unwrap_or(0.0)).collect()
    };
    read.iter().map(|(word, said)| ((*word).clone(), whole(said))).collect()
}
