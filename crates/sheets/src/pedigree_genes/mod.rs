//! A pedigree file joined with a catalogue: what the gene engine is asked, and its answer in the words
//! of the catalogue.

mod asked;
mod clash;
mod seen;
#[cfg(test)]
mod tests;

use genetics::Sex;

use crate::pedigree_catalogue::{Locus, PedigreeCatalogue, Written};
use crate::pedigree_file::{PedigreeFile, PedigreeProblem};
pub use asked::{Answered, Asked};
pub use clash::Clash;
pub use seen::Seen;

/// A pedigree with everything that was seen of its animals.
#[derive(Clone, Debug)]
pub struct PedigreeGenes {
    /// Loci and groups.
    pub catalogue: PedigreeCatalogue,
    /// The animals.
    pub file: PedigreeFile,
    /// What the cells say, in the order of the file.
    pub seen: Vec<Seen>,
    /// Inbreeding coefficient of each founder; 0 for all others.
    pub inbreeding: Vec<f64>,
    /// What was decided, as sentences.
    pub notes: Vec<String>,
}

/// Something the file says that may be wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Record {
    /// A cell, as a place in [`PedigreeGenes::seen`].
    Cell(usize),
    /// The sire of an animal, or that it has none.
    Sire(usize),
    /// The dam of an animal.
    Dam(usize),
    /// The sex of an animal.
    Sex(usize),
}

impl PedigreeGenes {
    /// Joins the two.
    ///
    /// # Errors
    /// Every cell that the catalogue cannot read.
    pub fn join(
        file: PedigreeFile,
        catalogue: PedigreeCatalogue,
    ) -> Result<Self, Vec<PedigreeProblem>> {
        let mut problems = Vec::new();
        let seen = seen::all(&file, &catalogue, &mut problems);
        let inbreeding = seen::inbreeding(&file, &catalogue, &mut problems);
        let mut notes = file.notes.clone();
        notes.extend(seen::unread(&file, &catalogue));
        problems.sort_by_key(|p| p.line);
        if problems.is_empty() {
            Ok(Self { catalogue, file, seen, inbreeding, notes })
        } else {
            Err(problems)
        }
    }

    /// Whether an animal of that sex can have a genotype of a locus.
    #[must_use]
    pub fn fits(sex: Option<Sex>, locus: &Locus, genotype: Written) -> bool {
        let is_of_male = !matches!(genotype, Written::Pair(..));
        locus.sex_link.is_none() || sex.is_none_or(|sex| (sex == Sex::Male) == is_of_male)
    }

    /// A record in words: "8: cf affected (line 9)".
    #[must_use]
    pub fn said(&self, record: Record) -> String {
        let animal = |at: usize| self.file.animals.get(at);
        let id = |at: usize| animal(at).map_or("", |a| a.id.as_str());
        let line = |at: usize| {
            animal(at)
                .and_then(|a| a.line)
                .map_or_else(String::new, |line| format!(" (line {line})"))
        };
        match record {
            Record::Cell(at) => self.seen.get(at).map_or_else(String::new, |seen| {
                let column = &self.file.columns[seen.column];
                format!("{}: {column} {}{}", id(seen.animal), seen.word, line(seen.animal))
            }),
            Record::Sire(at) => {
                let sire = animal(at).and_then(|a| a.sire).map_or("parthenogenesis", id);
                format!("{}: sire {sire}{}", id(at), line(at))
            }
            Record::Dam(at) => {
                let dam = animal(at).and_then(|a| a.dam).map_or("", id);
                format!("{}: dam {dam}{}", id(at), line(at))
            }
            Record::Sex(at) => {
                let is_male = animal(at).is_some_and(|a| a.sex == Some(Sex::Male));
                format!("{}: {}{}", id(at), if is_male { "male" } else { "female" }, line(at))
            }
        }
    }
}
