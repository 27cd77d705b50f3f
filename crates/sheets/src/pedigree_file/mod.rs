//! A pedigree as a text file or workbook of its own: who is whose young, and any observations.
//!
//! The columns `id`, `sire`, `dam` and, where there is one, `sex` are known by their headings
//! (`father` and `mother` do as well); all others are handed on as they stand. Rows may come in any
//! order. Ids are any text and compare as written. A parent of 0, nothing or a dash is unknown. A
//! parent without a row of its own is taken as a founder, and said in the notes. The word
//! `parthenogenesis` in the place of the sire says that there was none.

mod circle;
mod columns;
mod parents;
mod problem;
mod rows;
#[cfg(test)]
mod tests;

use genetics::Sex;

use crate::open::open;
use crate::sheet::FileIn;
use columns::Columns;
pub use problem::PedigreeProblem;

/// A pedigree whose parents all exist, are of the right sex, and are nobody's own young.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PedigreeFile {
    /// Name of the file.
    pub file: String,
    /// Headings of the observation columns, in the order of the cells.
    pub columns: Vec<String>,
    /// The rows in their order, behind them the parents without a row.
    pub animals: Vec<PedigreeAnimal>,
    /// What was decided, as sentences.
    pub notes: Vec<String>,
}

/// One animal of a pedigree file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PedigreeAnimal {
    /// Physical line of its row; none where it has none.
    pub line: Option<u32>,
    /// Its id.
    pub id: String,
    /// Place of its sire among the animals; none where unknown.
    pub sire: Option<usize>,
    /// Place of its dam among the animals; none where unknown.
    pub dam: Option<usize>,
    /// Whether it has no sire at all: parthenogenesis. Its dam is then known.
    pub is_alone: bool,
    /// Sex as written, else as what it is a parent.
    pub sex: Option<Sex>,
    /// Its cell of every observation column; empty where nothing is written.
    pub cells: Vec<String>,
}

impl PedigreeFile {
    /// The place of an animal.
    #[must_use]
    pub fn place(&self, id: &str) -> Option<usize> {
        self.animals.iter().position(|animal| animal.id == id)
    }

    /// Which observation column has a heading: as written, else but for upper and lower case.
    #[must_use]
    pub fn column(&self, heading: &str) -> Option<usize> {
        let exact = self.columns.iter().position(|c| c == heading);
        let lower = heading.to_lowercase();
        exact.or_else(|| self.columns.iter().position(|c| c.to_lowercase() == lower))
    }
}

/// Reads a pedigree.
///
/// # Errors
/// Everything that has to be put right first, in the order of the file.
pub fn read(file: &FileIn) -> Result<PedigreeFile, Vec<PedigreeProblem>> {
    let (opened, refused) = open(file);
    let [table] = opened.as_slice() else {
        let why = match refused.first() {
            Some(refused) => refused.why.clone(),
            None => "This workbook has more than one worksheet.".to_owned(),
        };
        let remedy = "A pedigree is one table with the columns id,sire,dam,sex and any others.";
        return Err(vec![PedigreeProblem::of_file(why, remedy)]);
    };
    let mut filled = table.rows.iter().filter(|row| !row.is_blank());
    let Some(heading) = filled.next() else {
        let remedy = "Choose another file.";
        return Err(vec![PedigreeProblem::of_file("This file is empty.", remedy)]);
    };
    let columns = Columns::of(heading)?;
    let mut problems = Vec::new();
    let rows: Vec<_> = filled.filter_map(|raw| rows::read(&columns, raw, &mut problems)).collect();
    let pedigree = parents::join(&file.name, &columns, &rows, &mut problems);
    problems.sort_by_key(|p| p.line);
    if problems.is_empty() { Ok(pedigree) } else { Err(problems) }
}
